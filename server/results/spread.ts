import { type Figure, isKnown, none, type Spread } from '../../shared-types/results.ts';
import { isSome, meanOf, type TimedRep, timedOf } from './timed-rep.ts';

/** How many times of how many, their mean and how far apart they lie; milliseconds, exact. */
export function spreadOf(reps: readonly TimedRep[]): Spread {
  const times = timedOf(reps).map(({ ms }) => ms);
  const counts = { count: times.length, missing: reps.length - times.length };
  if (!isSome(times)) {
    const nothing = none('no times');
    return { ...counts, meanMs: nothing, bestMs: nothing, worstMs: nothing, sdMs: nothing, cvPercent: nothing };
  }
  const meanMs = meanOf(times);
  const sdMs = sampleDeviation(times, meanMs);
  return {
    ...counts,
    meanMs,
    bestMs: Math.min(...times),
    worstMs: Math.max(...times),
    sdMs,
    cvPercent: variation(sdMs, meanMs),
  };
}

/** With n − 1: the reps are a sample of what the swimmer can do. */
function sampleDeviation(times: readonly number[], mean: number): Figure {
  if (times.length < 2) return none('one rep only');
  return Math.sqrt(times.reduce((sum, time) => sum + (time - mean) ** 2, 0) / (times.length - 1));
}

function variation(sd: Figure, mean: number): Figure {
  if (!isKnown(sd)) return sd;
  return mean > 0 ? (100 * sd) / mean : none('a time of nought');
}
