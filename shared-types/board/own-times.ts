import { type Instant, instant, type SwimmerId } from '../brand.ts';
import type { RepStep } from '../sheet.ts';
import { type LaneSwimmer, type TimedRep, wholeMsOf } from './timed-rep.ts';

/** A swimmer whose time runs: it is read from the wall at the touch. */
export interface OwnTime {
  readonly swimmer: SwimmerId;
  /** The own send-off that it counts from. */
  readonly leftAt: Instant;
  /** When it is shown no more, unless the swimmer leaves again before. */
  readonly endsAt: Instant;
  /** Delay after the lane's send-off, ms. */
  readonly afterMs: number;
}

/** After the target it goes on for so long, ms, so that who is late reads it too; a convention of ours. */
const LATE_MS = 10_000;
/** On a rep of unknown length that the coach releases, ms; a convention of ours. */
const RELEASED_MS = 10 * 60_000;

/**
 * The times that run at `t`: of each swimmer from the latest own send-off until it has surely been read. A rep without
 * a target runs for as long as it has; one that the coach releases, for ten minutes.
 */
export function ownTimesOf(current: TimedRep | null, before: TimedRep | null, t: Instant): OwnTime[] {
  const latest = current ? leftOn(current, t) : [];
  const again = new Set(latest.map(({ swimmer }) => swimmer));
  const earlier = before ? leftOn(before, t).filter(({ swimmer }) => !again.has(swimmer)) : [];
  return [...earlier, ...latest].filter(({ endsAt }) => t < endsAt);
}

const leftOn = (rep: TimedRep, t: Instant): OwnTime[] =>
  rep.swimmers.flatMap((one) => {
    const { swimmer, leavesAt: leftAt, afterMs } = one;
    return leftAt === null || leftAt > t
      ? []
      : [{ swimmer, leftAt, afterMs, endsAt: instant(leftAt + timeLastsMs(rep.step, one)) }];
  });

/** For how long a swimmer's time runs on a rep at most, ms from the own send-off. */
export function timeLastsMs({ durationMs }: Pick<RepStep, 'durationMs'>, { target }: LaneSwimmer): number {
  const wholeMs = wholeMsOf(target);
  if (wholeMs !== undefined) return wholeMs + LATE_MS;
  return durationMs > 0 ? durationMs : RELEASED_MS;
}
