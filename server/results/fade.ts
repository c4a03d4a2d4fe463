import { type Fade, type Figure, none } from '../../shared-types/results.ts';
import { isSome, meanOf, type Timed, type TimedRep, timedOf } from './timed-rep.ts';

/** Whether a set was swum slower and slower, and by how much. Missing reps are left out and keep their number. */
export function fadeOf(reps: readonly TimedRep[]): Fade {
  const timed = timedOf(reps);
  const secondsPerRep = slopeOf(timed);
  return {
    secondsPerRep,
    firstToLastPercent: firstToLast(timed),
    decrementPercent: decrement(timed),
    descending: typeof secondsPerRep === 'number' && secondsPerRep < 0,
  };
}

const tooFew = (timed: readonly Timed[]): Figure => none(timed.length === 0 ? 'no times' : 'one rep only');

/** The least-squares slope of time over the rep's number, seconds per rep. */
function slopeOf(timed: readonly Timed[]): Figure {
  const numbers = timed.map(({ rep }) => rep);
  const times = timed.map(({ ms }) => ms);
  if (!isSome(numbers) || !isSome(times) || timed.length < 2) return tooFew(timed);
  const [number, time] = [meanOf(numbers), meanOf(times)];
  const spread = numbers.reduce((sum, one) => sum + (one - number) ** 2, 0);
  const together = timed.reduce((sum, { rep, ms }) => sum + (rep - number) * (ms - time), 0);
  // Reps have numbers of their own, so two of them always lie apart.
  return together / spread / 1000;
}

function firstToLast(timed: readonly Timed[]): Figure {
  const [first, last] = [timed[0], timed[timed.length - 1]];
  if (!first || !last || timed.length < 2) return tooFew(timed);
  return first.ms > 0 ? (100 * (last.ms - first.ms)) / first.ms : none('a time of nought');
}

/**
 * 100 · (Σt / (n · t_best)) − 100, percent.
 * Source: Glaister 2008, where it is the most reliable of eight ways to put fatigue in one number.
 */
function decrement(timed: readonly Timed[]): Figure {
  if (timed.length < 2) return tooFew(timed);
  const best = Math.min(...timed.map(({ ms }) => ms));
  if (best <= 0) return none('a time of nought');
  const lost = timed.reduce((sum, { ms }) => sum + (ms - best), 0);
  return (100 * lost) / (timed.length * best);
}
