import { type ClockFace, formatSwimTime } from '../../shared-types/time.ts';
import type { Occurrence, SetHistoryAnswer } from '../../shared-types/wire/history.ts';
import type { ChartLine, ChartMark, Ink, TimeChart } from './chart-model.ts';
import { shortDay } from './days.ts';
import { nameOf } from './names.ts';
import { type SeasonOf, seasonRows, swimmersOf } from './season-figures.ts';

/** As the newest one, or with another send-off or effort. */
export const STRICT_MARK: ChartMark = { shape: 'disc', ink: 'chief' };
export const LOOSE_MARK: ChartMark = { shape: 'diamond', ink: 'chief' };

const DAY_MS = 86_400_000;

/** A history with whose times are chosen of it. */
export interface DrawnSeason {
  readonly history: SetHistoryAnswer;
  readonly of: SeasonOf;
}

/** When each was swum; of two at the same instant the second a little later, since places on the axis rise. */
function risingXs(occurrences: readonly Occurrence[]): number[] {
  let last = Number.NEGATIVE_INFINITY;
  return occurrences.map(({ at }) => {
    last = Math.max(at, last + 1);
    return last;
  });
}

/** Those that are strictly the same joined, the others apart from them. */
function linesOf({ history: { occurrences, labels }, of }: DrawnSeason, ink: Ink): ChartLine[] {
  const rows = new Map(seasonRows(occurrences, of).map((row) => [row.occurrence, row]));
  return [true, false].map((isStrict): ChartLine => {
    const values = occurrences.map((occurrence) => {
      const row = rows.get(occurrence);
      return row?.isStrict === isStrict ? row.meanMs : null;
    });
    const mark = { ...(isStrict ? STRICT_MARK : LOOSE_MARK), ink };
    // The points of the many are the bends of their lines; those outside of lines need marks.
    const isMarked = ink === 'chief' || !isStrict;
    return {
      name: of === 'squad' ? 'Squad mean' : nameOf(labels, of),
      values,
      marks: values.map((value) => (value === null || !isMarked ? null : mark)),
      joins: isStrict ? 'all' : 'none',
      ink,
      isNamed: false,
    };
  });
}

/** Means over the days on which a set was swum: of each swimmer faintly, and of who is chosen. */
export function seasonChart({ history, of }: DrawnSeason, face: ClockFace): TimeChart {
  const { occurrences } = history;
  const xs = risingXs(occurrences);
  const others = swimmersOf(occurrences).filter((swimmer) => swimmer !== of);
  const [first = 0, last = first] = [xs[0], xs[xs.length - 1]];
  const room = Math.max(DAY_MS, (last - first) * 0.05);
  return {
    xs,
    ticks: xs.map((x) => ({ x, text: shortDay(x, face) })),
    xLabel: 'Day',
    range: { from: first - room, to: last + room },
    lines: [
      ...others.flatMap((swimmer) => linesOf({ history, of: swimmer }, 'faint')),
      ...linesOf({ history, of }, 'chief'),
    ],
    asked: [],
    dividers: [],
    trend: null,
  };
}

/** The gist of the chart, for who does not see it. */
export function seasonGist({ history, of }: DrawnSeason): string {
  const who = of === 'squad' ? 'the squad' : nameOf(history.labels, of);
  const means = seasonRows(history.occurrences, of).flatMap(({ meanMs }) => meanMs ?? []);
  const [first, last] = [means[0], means[means.length - 1]];
  if (first === undefined || last === undefined) return `Chart of the means of ${who}: no times.`;
  if (means.length === 1) return `Chart of the means of ${who}: one, ${formatSwimTime(first, 1)}.`;
  const [fastest, slowest] = [Math.min(...means), Math.max(...means)].map((ms) => formatSwimTime(ms, 1));
  return (
    `Chart of the means of ${who}: ${means.length}, the first ${formatSwimTime(first, 1)}, ` +
    `the last ${formatSwimTime(last, 1)}, between ${fastest} and ${slowest}. The table below has each.`
  );
}

/** A day of the chart in words: `15 Jan: 30.4, another send-off or effort`; empty where there is nothing of it. */
export function seasonReading({ history, of }: DrawnSeason, chart: TimeChart, place: number): string {
  const row = seasonRows(history.occurrences, of).find(({ occurrence }) => occurrence === history.occurrences[place]);
  const day = chart.ticks[place]?.text;
  if (day === undefined) return '';
  if (!row || row.meanMs === null) return `${day}: no times`;
  return `${day}: ${formatSwimTime(row.meanMs, 1)}${row.isStrict ? '' : ', another send-off or effort'}`;
}
