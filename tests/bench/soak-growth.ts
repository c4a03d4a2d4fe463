import { linearRegression } from 'simple-statistics';

/** What a wall holds at one moment, after the garbage was collected. */
export interface Sample {
  /** Time that has gone by for the wall, ms. */
  readonly atMs: number;
  /** Since the sample before. */
  readonly draws: number;
  readonly heapBytes: number;
  /** WebGL's; a canvas has none. */
  readonly textures: number;
  readonly nodes: number;
  readonly listeners: number;
}

type Held = Exclude<keyof Sample, 'atMs' | 'draws'>;

const KB = 1024;

interface Kind {
  readonly name: string;
  /** More than it changes by from moment to moment. */
  readonly allowed: number;
  readonly text: (amount: number) => string;
}

const KINDS: Readonly<Record<Held, Kind>> = {
  heapBytes: { name: 'heap', allowed: 256 * KB, text: (bytes) => `${Math.round(bytes / KB)} KB` },
  textures: { name: 'GL textures', allowed: 10, text: String },
  nodes: { name: 'DOM nodes', allowed: 20, text: String },
  listeners: { name: 'listeners', allowed: 2, text: String },
};
const HELD: readonly Held[] = ['heapBytes', 'textures', 'nodes', 'listeners'];

/** Samples of a soak, and how many of them belong to the warm-up: shelves fill, code is compiled. */
export const SAMPLES = 20;
const WARM_UP = 8;
/** Samples at either end that are compared. */
const END = 4;

export const sampleText = (sample: Sample): string =>
  HELD.map((held) => `${KINDS[held].name} ${KINDS[held].text(sample[held])}`).join(' · ');

/**
 * What grew: after the warm-up even the least of the last samples is above the most of the first ones.
 * @returns a sentence for each; none when nothing did
 */
export function growthIn(samples: readonly Sample[]): string[] {
  const warm = samples.slice(WARM_UP);
  return HELD.flatMap((held) => {
    const { name, allowed, text } = KINDS[held];
    const values = warm.map((sample) => sample[held]);
    const [before, after] = [Math.max(...values.slice(0, END)), Math.min(...values.slice(-END))];
    return after - before > allowed ? [`The wall’s ${name} grew from ${text(before)} to ${text(after)}.`] : [];
  });
}

/** By how much the heap grows in an hour of the wall's time after the warm-up, bytes: the least-squares line. */
export function heapAnHour(samples: readonly Sample[]): number {
  const points = samples.slice(WARM_UP).map(({ atMs, heapBytes }) => [atMs / 3_600_000, heapBytes]);
  return linearRegression(points).m;
}
