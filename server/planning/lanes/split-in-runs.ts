/** A lane before the free swimmers are put into it. */
export interface LaneRoom {
  /** Times of those fixed in it that have one, ms. */
  readonly fixedMs: readonly number[];
  /** How many are fixed in it, with a time or without. */
  readonly taken: number;
  /** How many more it takes. */
  readonly free: number;
}

/** What a set of times adds to a sum of squares: how many, their sum and their squares' sum. */
interface Moments {
  readonly count: number;
  readonly sum: number;
  readonly squares: number;
}

const NONE: Moments = { count: 0, sum: 0, squares: 0 };

const withTime = ({ count, sum, squares }: Moments, time: number): Moments => ({
  count: count + 1,
  sum: sum + time,
  squares: squares + time * time,
});

/** Squared differences from the mean of a run of free swimmers and of those fixed in the lane: Σx² − (Σx)²/n. */
function squaresOf(fixed: Moments, end: Moments, start: Moments): number {
  const count = fixed.count + end.count - start.count;
  if (count === 0) return 0;
  const sum = fixed.sum + end.sum - start.sum;
  return Math.max(0, fixed.squares + end.squares - start.squares - (sum * sum) / count);
}

/** The best way to put so many of the fastest free swimmers into so many of the first lanes. */
interface Split {
  readonly squares: number;
  /** Sum of squares of how many are in each lane: of equal splits the more even one is less. */
  readonly crowding: number;
  /** How many free swimmers the last of these lanes takes. */
  readonly run: number;
  readonly before: Split | null;
}

const START: Split = { squares: 0, crowding: 0, run: 0, before: null };

/** Sums of squares closer than this share of the whole squad's are equal; rounding in them is a hundred times less. */
const TIE_SHARE = 1e-12;

/**
 * Splits free swimmers, fastest first, into one run a lane so that the sum over lanes of squared differences from the
 * lane's mean is least; fixed swimmers count in their lane. Exact dynamic programming over lanes and swimmers placed;
 * time grows with lanes × swimmers × room. Of splits with equal sums the one with the most even numbers is taken, of
 * those the one with more in the faster lanes.
 * @param sortedMs times of the free swimmers, fastest first
 * @returns how many free swimmers each lane takes, or null when there is no room for all
 */
export function splitInRuns(sortedMs: readonly number[], lanes: readonly LaneRoom[]): number[] | null {
  const all = [...sortedMs, ...lanes.flatMap(({ fixedMs }) => fixedMs)];
  // Differences from the mean are small, so that their squares keep all digits that matter.
  const mean = all.reduce((sum, time) => sum + time, 0) / Math.max(1, all.length);
  const tie = TIE_SHARE * all.reduce((sum, time) => sum + (time - mean) ** 2, 0);
  const upTo: Moments[] = [NONE];
  for (const time of sortedMs) upTo.push(withTime(upTo.at(-1) ?? NONE, time - mean));
  let layer: readonly (Split | null)[] = upTo.map((_, placed) => (placed === 0 ? START : null));
  for (const lane of lanes) {
    const fixed = lane.fixedMs.reduce((moments, time) => withTime(moments, time - mean), NONE);
    layer = withLane(layer, lane, (from, to) => squaresOf(fixed, upTo[to] ?? NONE, upTo[from] ?? NONE), tie);
  }
  return runsOf(layer.at(-1) ?? null, lanes.length);
}

function withLane(
  layer: readonly (Split | null)[],
  { taken, free }: LaneRoom,
  squaresBetween: (from: number, to: number) => number,
  tie: number,
): (Split | null)[] {
  return layer.map((_, placed) => {
    let best: Split | null = null;
    // The smallest run first: the earlier of two equals stands, which leaves more to the faster lanes.
    for (let run = 0; run <= Math.min(free, placed); run += 1) {
      const before = layer[placed - run];
      if (!before) continue;
      const squares = before.squares + squaresBetween(placed - run, placed);
      const split = { squares, crowding: before.crowding + (taken + run) ** 2, run, before };
      if (best === null || isBetter(split, best, tie)) best = split;
    }
    return best;
  });
}

function isBetter(split: Split, best: Split, tie: number): boolean {
  if (Math.abs(split.squares - best.squares) > tie) return split.squares < best.squares;
  return split.crowding < best.crowding;
}

function runsOf(last: Split | null, lanes: number): number[] | null {
  if (last === null) return null;
  const runs: number[] = [];
  for (let split: Split | null = last; split !== null && runs.length < lanes; split = split.before)
    runs.push(split.run);
  return runs.reverse();
}
