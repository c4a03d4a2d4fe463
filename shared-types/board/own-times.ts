import type { Instant, SwimmerId } from '../brand.ts';
import { type LaneSwimmer, type TimedRep, wholeMsOf } from './timed-rep.ts';

/** A swimmer whose time runs: it is read from the wall at the touch. */
export interface OwnTime {
  readonly swimmer: SwimmerId;
  /** The own send-off that it counts from. */
  readonly leftAt: Instant;
  /** Delay after the lane's send-off, ms. */
  readonly afterMs: number;
}

/** After the target it goes on for so long, ms, so that who is late reads it too; a convention of ours. */
const LATE_MS = 10_000;

/**
 * The times that run at `t`: of each swimmer from the latest own send-off until it has surely been read. A rep without
 * a target runs for as long as it has; one that the coach releases, until the next.
 */
export function ownTimesOf(current: TimedRep | null, before: TimedRep | null, t: Instant): OwnTime[] {
  const latest = current ? leftOn(current, t) : [];
  const again = new Set(latest.map(({ swimmer }) => swimmer));
  const earlier = before ? leftOn(before, t).filter(({ swimmer }) => !again.has(swimmer)) : [];
  return [...earlier, ...latest].filter(({ endsAt }) => t < endsAt).map(({ endsAt: _, ...time }) => time);
}

const leftOn = (rep: TimedRep, t: Instant): (OwnTime & { endsAt: number })[] =>
  rep.swimmers.flatMap((one) => {
    const { swimmer, leavesAt: leftAt, afterMs } = one;
    return leftAt === null || leftAt > t ? [] : [{ swimmer, leftAt, afterMs, endsAt: leftAt + lastsMs(rep, one) }];
  });

function lastsMs({ step }: TimedRep, { target }: LaneSwimmer): number {
  const wholeMs = wholeMsOf(target);
  if (wholeMs !== undefined) return wholeMs + LATE_MS;
  return step.durationMs > 0 ? step.durationMs : Number.POSITIVE_INFINITY;
}
