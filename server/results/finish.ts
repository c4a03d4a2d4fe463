import { type Figure, none } from '../../shared-types/results.ts';
import { isSome, meanOf, type TimedRep, timedOf } from './timed-rep.ts';

/**
 * Mean of the last quarter of the times less the mean of the first quarter, milliseconds; below 0: finished faster.
 * A quarter is rounded down (of 4 to 7 times one, of 8 to 11 two), so first and last never reach into the middle half.
 * What is missing is left out before the quarters are cut.
 */
export function finishOf(reps: readonly TimedRep[]): Figure {
  const times = timedOf(reps).map(({ ms }) => ms);
  const quarter = Math.floor(times.length / 4);
  const [first, last] = [times.slice(0, quarter), times.slice(times.length - quarter)];
  if (!isSome(first) || !isSome(last)) return none(times.length === 0 ? 'no times' : 'fewer than four times');
  return meanOf(last) - meanOf(first);
}
