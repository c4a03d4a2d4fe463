/** A rep and its time, as the statistics take them. */
export interface TimedRep {
  /** Its number in the set, from 1. */
  readonly rep: number;
  /** Milliseconds; null: swum, but no time was taken. */
  readonly ms: number | null;
}

/** A rep whose time is known. */
export interface Timed {
  readonly rep: number;
  readonly ms: number;
}

/** Those with a time, in order. What is missing is left out, never filled in. */
export const timedOf = (reps: readonly TimedRep[]): Timed[] =>
  reps.flatMap(({ rep, ms }) => (ms === null ? [] : [{ rep, ms }]));

/**
 * The mean of one number or more, as the first plus the mean of the differences from it: so equal numbers have exactly
 * themselves for a mean.
 */
export function meanOf(values: readonly [number, ...number[]]): number {
  const [first] = values;
  return first + values.reduce((sum, value) => sum + (value - first), 0) / values.length;
}

/** Whether there is a first. */
export const isSome = <T>(list: readonly T[]): list is readonly [T, ...T[]] => list.length > 0;
