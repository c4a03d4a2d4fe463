import type { Instant } from '../../shared-types/brand.ts';
import { type Figure, isKnown, none, type Rest } from '../../shared-types/results.ts';
import { isSome, meanOf } from './timed-rep.ts';

/**
 * Time on the wall: the swimmer's next send-off less the touch, milliseconds. Below 0 who came in after it.
 * @param touchAt null when no finish was taken
 * @param nextLeftAt null when there was none, as after the last rep, or while the coach has not said go
 */
export function restBetween(touchAt: Instant | null, nextLeftAt: Instant | null): Figure {
  if (touchAt === null) return none('no time for it');
  return nextLeftAt === null ? none('no send-off after it') : nextLeftAt - touchAt;
}

/** The mean of what is known; reps after which it is not known are left out. */
export function restOf(reps: readonly { readonly restMs: Figure }[]): Rest {
  const rests = reps.flatMap(({ restMs }) => (isKnown(restMs) ? [restMs] : []));
  return { count: rests.length, meanMs: isSome(rests) ? meanOf(rests) : none('no times') };
}
