/** Shapes of marks; a key beside the chart says what each means. */
export type MarkShape = 'disc' | 'ring' | 'down' | 'cross' | 'diamond';

/** Colours by what they are for, and by number those of several lines; the page's style has them by day and by night. */
export type Ink = 'chief' | 'faint' | 'good' | 'fast' | 'bad' | 'partly' | 'neutral' | number;

export interface ChartMark {
  readonly shape: MarkShape;
  readonly ink: Ink;
}

/** Times of one swimmer, or of the squad. */
export interface ChartLine {
  readonly name: string;
  /** By place on the x axis, ms; null: none there. */
  readonly values: readonly (number | null)[];
  /** By place; null where there is no value. */
  readonly marks: readonly (ChartMark | null)[];
  /** Which values a line joins: those beside each other, all of them, or none. */
  readonly joins: 'neighbours' | 'all' | 'none';
  readonly ink: Ink;
  /** Whether its name stands at its end. */
  readonly isNamed: boolean;
}

/** What was asked from one place on the x axis to another. */
export interface AskedStep {
  readonly from: number;
  readonly to: number;
  readonly ms: number;
  /** So much slower or faster still is a hit, ms; null where nothing was to be held. */
  readonly toleranceMs: number | null;
}

/** Times over reps or days, as they are drawn: the slower, the higher. */
export interface TimeChart {
  /** Rising. */
  readonly xs: readonly number[];
  readonly ticks: readonly { readonly x: number; readonly text: string }[];
  readonly xLabel: string;
  readonly range: { readonly from: number; readonly to: number };
  readonly lines: readonly ChartLine[];
  readonly asked: readonly AskedStep[];
  /** Upright lines with a word at their top right. */
  readonly dividers: readonly { readonly x: number; readonly text: string; readonly isDrawn: boolean }[];
  /** From one point to another; null: none. */
  readonly trend: { readonly from: ChartPoint; readonly to: ChartPoint } | null;
}

export interface ChartPoint {
  readonly x: number;
  readonly ms: number;
}

/** No less than this is shown from the fastest to the slowest, ms: hand times differ by tenths anyway. */
const LEAST_SPAN_MS = 1000;
/** Room above and below, as a share of the span. */
const ROOM = 0.12;

/** From the fastest to the slowest time that a chart shows, with some room, ms. */
export function timeRange({ lines, asked, trend }: TimeChart): { readonly from: number; readonly to: number } {
  const shown = [
    ...lines.flatMap(({ values }) => values.filter((value) => value !== null)),
    ...asked.flatMap(({ ms, toleranceMs }) => [ms - (toleranceMs ?? 0), ms + (toleranceMs ?? 0)]),
    ...(trend ? [trend.from.ms, trend.to.ms] : []),
  ];
  if (shown.length === 0) return { from: 0, to: LEAST_SPAN_MS };
  const [fastest, slowest] = [Math.min(...shown), Math.max(...shown)];
  const room = Math.max((slowest - fastest) * ROOM, (LEAST_SPAN_MS - (slowest - fastest)) / 2);
  return { from: Math.max(0, fastest - room), to: slowest + room };
}

/** Steps that a swim time is counted in, ms. */
const STEPS_MS = [100, 200, 500, 1000, 2000, 5000, 10_000, 15_000, 30_000, 60_000, 120_000, 300_000];

/** Round times within a range, ms, at most `most` of them. */
export function timeTicks(from: number, to: number, most: number): number[] {
  const fits = STEPS_MS.find((step) => Math.floor(to / step) - Math.ceil(from / step) < most) ?? 600_000;
  const first = Math.ceil(from / fits);
  const count = Math.max(0, Math.floor(to / fits) - first + 1);
  return Array.from({ length: count }, (_, place) => (first + place) * fits);
}

/**
 * Those ticks that have room side by side, from the first on.
 * @param width of the axis, px
 * @param widthOf of a tick's words, px
 */
export function ticksWithRoom(
  { ticks, range }: Pick<TimeChart, 'ticks' | 'range'>,
  width: number,
  widthOf: (text: string) => number,
): TimeChart['ticks'] {
  const widest = Math.max(1, ...ticks.flatMap(({ text }) => text.split('\n').map(widthOf)));
  const apart = ((widest + TICKS_APART) * (range.to - range.from)) / width;
  let next = Number.NEGATIVE_INFINITY;
  return ticks.filter(({ x }) => {
    if (x < next) return false;
    next = x + apart;
    return true;
  });
}

/** Between the words of two ticks, px. */
const TICKS_APART = 10;

/**
 * Where to write names, px from the top: each as near as can be to where it belongs, none on another.
 * @param wanted where they belong, in any order
 * @param apart height of a name
 * @param to the last place; where there are too many they begin above 0
 */
export function namePlaces(wanted: readonly number[], apart: number, to: number): number[] {
  const order = wanted.map((_, name) => name).sort((a, b) => (wanted[a] ?? 0) - (wanted[b] ?? 0));
  const places = [...wanted];
  let lowest = to;
  let highest = Number.NEGATIVE_INFINITY;
  for (const name of order) {
    highest = Math.max(places[name] ?? 0, highest + apart);
    places[name] = highest;
  }
  for (const name of order.reverse()) {
    lowest = Math.min(places[name] ?? 0, lowest);
    places[name] = lowest;
    lowest -= apart;
  }
  return places;
}
