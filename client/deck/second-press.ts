import type { CommandId, Instant } from '../../shared-types/brand.ts';
import type { Expected } from '../../shared-types/expected.ts';

/**
 * [CMD5] Whether a press on a lane counts that comes soon after another one: two swimmers may touch almost together,
 * and a drop of water makes a second press too. Pure. The figures are conventions of ours.
 */

/** A press that comes later than this after the lane's last one is one of its own, ms. */
const SOON_MS = 700;
/** So close together are the two contacts that a wet finger makes by itself, ms; two fingers are further apart. */
const BOUNCE_MS = 50;
/** Nobody comes in before this share of the target, or of what a lane mate has just taken for the same rep. */
const DUE_SHARE = 0.7;
/** With neither: this share of the rep's time on the sheet, of which rest may be a part. */
const SHEET_SHARE = 0.5;

/** A press that counted, and whose time it took. */
export interface CountedPress {
  readonly mark: CommandId;
  readonly at: Instant;
  readonly of: Pick<Expected, 'step' | 'distance' | 'leftAt'>;
}

/** Whether somebody has been under way for so long that the time can really be theirs. */
function isReallyDue(next: Expected, at: Instant, mate: CountedPress): boolean {
  const isSameRep = next.step === mate.of.step && next.distance === mate.of.distance;
  const mateMs = isSameRep ? mate.at - mate.of.leftAt : null;
  const leastMs = next.targetMs ?? mateMs;
  const underWayMs = at - next.leftAt;
  return leastMs === null ? underWayMs >= SHEET_SHARE * (next.dueAt - next.leftAt) : underWayMs >= DUE_SHARE * leastMs;
}

/** @param last the lane's last press that counted @param next whose time this one would take */
export function pressCounts(last: CountedPress | undefined, next: Expected, at: Instant): boolean {
  const sinceMs = last ? Math.abs(at - last.at) : SOON_MS;
  if (!last || sinceMs >= SOON_MS) return true;
  return sinceMs >= BOUNCE_MS && isReallyDue(next, at, last);
}
