import { isolated } from '../../shared-types/isolated.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import type { ChartMark, TimeChart } from './chart-model.ts';
import { type DrawnSet, drawnMs, drawnSwimmers, VERDICT_MARKS, type Verdict, verdictOf } from './rep-chart.ts';
import { mostReps, pacedOpening, targetWords } from './result-words.ts';

/** A mark and what it means. */
export interface KeyEntry {
  readonly mark: ChartMark;
  readonly words: string;
}

const KEY: readonly (readonly [Verdict, string])[] = [
  ['held', 'held'],
  ['under', 'under, faster than asked'],
  ['missed', 'missed'],
  ['some', 'some parts held'],
  ['unjudged', 'nothing to hold'],
];

/** What the marks of a chart mean, with how many there are of each; what is not there is left out. */
export function repKey(drawn: DrawnSet): KeyEntry[] {
  const reps = drawnSwimmers(drawn).flatMap((own) => own.reps.filter((rep) => drawnMs(rep) !== null));
  return KEY.flatMap(([verdict, words]) => {
    const count = reps.filter((rep) => verdictOf(rep) === verdict).length;
    if (count === 0) return [];
    const mark = VERDICT_MARKS[verdict];
    return [{ mark: drawn.who === 'everybody' ? { ...mark, ink: 'neutral' } : mark, words: `${words}: ${count}` }];
  });
}

/** `0.2 s slower a rep`; null where there is no trend. */
export function trendWords({ trend }: Pick<TimeChart, 'trend'>): string | null {
  if (!trend || trend.to.x === trend.from.x) return null;
  const perRep = (trend.to.ms - trend.from.ms) / (trend.to.x - trend.from.x);
  // Hundredths: a tenth a rep is much over twenty reps.
  const size = formatSwimTime(Math.abs(perRep), 2);
  if (size === '0.00') return 'even';
  return `${size} s ${perRep > 0 ? 'slower' : 'faster'} a rep`;
}

/** Of what the times are, where that is not the finish; empty where it is. */
export function drawnPlaceWords({ set }: Pick<DrawnSet, 'set'>): string {
  const [only, ...others] = new Set(mostReps(set).map((rep) => pacedOpening(rep)?.distance));
  if (others.length > 0) return 'The chart shows the times where the paced part ends.';
  return only === undefined ? '' : `The chart shows the times at ${only}, where the paced part ends.`;
}

/** The gist of a chart, for who does not see it. */
export function repGist(drawn: DrawnSet, chart: TimeChart): string {
  const times = chart.lines.flatMap(({ values }) => values.filter((value) => value !== null));
  const [first] = chart.lines;
  const who = drawn.who === 'everybody' ? `${chart.lines.length} swimmers` : (first?.name ?? 'Nobody');
  if (times.length === 0) return `Chart of ${who}: no times.`;
  const [fastest, slowest] = [Math.min(...times), Math.max(...times)].map((ms) => formatSwimTime(ms, 1));
  const trend = trendWords(chart);
  const facts = [
    `${times.length} times from ${fastest} to ${slowest}`,
    ...repKey(drawn).map(({ words }) => words),
    ...(trend === null ? [] : [trend]),
  ];
  return `Chart of ${who}: ${facts.join('; ')}. The table below has every time.`;
}

/** A place on the x axis in words: `Rep 5: 30.4, missed, asked 30.0`; empty between rounds. */
export function repReading(drawn: DrawnSet, chart: TimeChart, place: number): string {
  const rep = chart.xs[place];
  if (rep === undefined || !Number.isInteger(rep)) return '';
  const isOne = drawn.who !== 'everybody';
  const times = chart.lines.flatMap(({ name, values }) => {
    const ms = values[place] ?? null;
    return ms === null ? [] : [`${isOne ? '' : `${isolated(name)} `}${formatSwimTime(ms, 1)}`];
  });
  if (times.length === 0) return `Rep ${rep}: no time`;
  const own = isOne ? drawnSwimmers(drawn)[0]?.reps.find((one) => one.rep === rep) : undefined;
  const became = own && targetWords(own)?.words;
  const asked = chart.asked.find(({ from, to }) => from < rep && rep < to);
  const facts = [...times, ...(became ? [became] : []), ...(asked ? [`asked ${formatSwimTime(asked.ms, 1)}`] : [])];
  return `Rep ${rep}: ${facts.join(', ')}`;
}
