import { Bench } from 'tinybench';

/** How a measured number stands to what was aimed at. */
export type Verdict = 'within' | 'over';

interface EntryStart {
  readonly name: string;
  /** The number should be at most this, in the entry's unit; absent where nothing was promised. */
  readonly target?: number;
  readonly verdict?: Verdict;
}

/** Something timed many times. */
export interface TimedEntry extends EntryStart {
  readonly kind: 'time';
  readonly unit: 'ms';
  readonly median: number;
  readonly p95: number;
  readonly samples: number;
}

/** A single number. */
export interface FigureEntry extends EntryStart {
  readonly kind: 'figure';
  /** kB is a thousand bytes, KB 1024. */
  readonly unit: '×' | 'kB' | 'KB' | 'MB' | 'ms' | '/s' | 'entries';
  readonly value: number;
}

/** Something that could not be measured here, and why. */
export interface MissingEntry extends EntryStart {
  readonly kind: 'missing';
  readonly why: string;
}

export type Entry = TimedEntry | FigureEntry | MissingEntry;

export const judged = (value: number, target: number | undefined): Pick<EntryStart, 'target' | 'verdict'> =>
  target === undefined ? {} : { target, verdict: value <= target ? 'within' : 'over' };

export function figure(name: string, value: number, unit: FigureEntry['unit'], target?: number): FigureEntry {
  return { kind: 'figure', name, unit, value, ...judged(value, target) };
}

/** The least value that a share of the samples does not exceed. @param sorted at least one, ascending */
export const quantile = (sorted: readonly number[], share: number): number =>
  sorted[Math.max(0, Math.ceil(sorted.length * share) - 1)] ?? Number.NaN;

export const ascending = (numbers: readonly number[]): number[] => numbers.toSorted((a, b) => a - b);

/** Of something timed many times: what 95 of 100 took is held against the target. */
export function timesEntry(name: string, times: readonly number[], target?: number): TimedEntry {
  const sorted = ascending(times);
  const [median, p95] = [quantile(sorted, 0.5), quantile(sorted, 0.95)];
  return { kind: 'time', name, unit: 'ms', median, p95, samples: sorted.length, ...judged(p95, target) };
}

/** Times a piece of work. @param quick a few iterations only: proves that it runs, measures nothing */
export function timed(name: string, work: () => unknown, quick: boolean, target?: number): TimedEntry {
  const few = { iterations: 3, time: 0, warmupIterations: 1, warmupTime: 0 };
  const many = { iterations: 100, time: 1500, warmupIterations: 20, warmupTime: 500 };
  const bench = new Bench({ retainSamples: true, throws: true, ...(quick ? few : many) });
  bench.add(name, work);
  const [task] = bench.runSync();
  const result = task?.result;
  if (result?.state !== 'completed') throw new Error(`${name}: ${result?.state ?? 'did not run'}`);
  const { p50: median, samples = [], samplesCount } = result.latency;
  return {
    kind: 'time',
    name,
    unit: 'ms',
    median,
    p95: quantile(samples, 0.95),
    samples: samplesCount,
    ...judged(median, target),
  };
}
