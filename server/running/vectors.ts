import { type Instant, instant, type Ms } from '../../shared-types/brand.ts';
import {
  endOf,
  type LaneMotion,
  type LaneRun,
  laneRunOf,
  type Place,
  placeIn,
  sendOffOf,
  sendOffsOf,
} from '../../shared-types/motion.ts';
import { departuresOf, type Sheet } from '../../shared-types/sheet.ts';
import { gatesBefore } from '../../shared-types/trace.ts';

/** A lane of the run a command is decided on, where it is when the command takes effect. */
export interface LaneThen {
  readonly run: LaneRun;
  readonly place: Place;
}

/** How long the lane still stands before it moves, ms. */
export const leadInOf = ({ run, place }: LaneThen, at: Instant): number =>
  place.state === 'lead-in' ? run.motion.at - at : 0;

type Departures = Pick<LaneMotion, 'leftOn' | 'leftAt' | 'lateMs'>;

/**
 * [RUN3] What a new vector that begins at `position` must keep of the rep in hand at `at`: who has left, and when.
 * Later swimmers are found on the new way.
 */
function departuresKept(run: LaneRun, at: Instant, position: number): Departures {
  const { begun } = placeIn(run, at);
  const step = run.lane.steps[begun];
  if (step?.kind !== 'rep') return {};
  const sendOffs = sendOffsOf(run, begun);
  // Asked of the step, not of its swimmers: in a heat the lane may have none.
  const leftAt = sendOffOf(run, begun);
  if (leftAt === null) return {};
  const atEnd = position >= endOf(run);
  const gaps = departuresOf(run.lane, step).map(({ afterMs }, place) => ({ afterMs, left: sendOffs[place] ?? null }));
  const gone = gaps.filter(({ left }, place) => place > 0 && left !== null && (left <= at || atEnd));
  const lateMs = gone.map(({ afterMs, left }) => (left ?? leftAt) - leftAt - afterMs);
  const isPlain = lateMs.every((late) => late === 0) && step.atMs + (gone.at(-1)?.afterMs ?? -1) < position;
  return { leftOn: begun, leftAt, ...(lateMs.length === 0 || isPlain ? {} : { lateMs }) };
}

/** The lane at `position` from `at` on, with the rep in hand at `then` kept. */
export function from({ run }: LaneThen, then: Instant, position: Ms, rate: 0 | 1, at: Instant): LaneMotion {
  const { lane, gates, behind } = run.motion;
  return { lane, position, rate, at, gates, ...joinsBehind(behind), ...departuresKept(run, then, position) };
}

const joinsBehind = (behind: number | undefined): Pick<LaneMotion, 'behind'> => (behind ? { behind } : {});

/** Where a lane sets off anew. */
export interface Spot {
  readonly position: Ms;
  /** The first step ahead. */
  readonly ahead: number;
  /** The first join ahead. */
  readonly behind: number;
}

/** The lane set off anew; what it swam before is over. */
export function afresh(sheet: Sheet, { run }: LaneThen, spot: Spot, at: Instant): LaneMotion {
  const { lane } = run.motion;
  const gates = gatesBefore(sheet, lane, spot.ahead);
  return { lane, position: spot.position, rate: 1, at, gates, ...joinsBehind(spot.behind) };
}

/**
 * The lane's vector as it goes on at `at`: the one it had, or where it last left a join. Exactly the same way, but it
 * no longer depends on when the other lanes came to joins behind it.
 */
function settledAt(run: LaneRun, at: Instant): LaneMotion {
  const leg = run.trace.findLast((each) => each.rate === 1 && each.at <= at);
  if (leg?.join === undefined) return run.motion;
  const { lane, gates } = run.motion;
  const kept = departuresKept(run, instant(leg.at - 1), leg.position);
  return { lane, position: leg.position, rate: 1, at: leg.at, gates, behind: leg.join + 1, ...kept };
}

/** The lanes of a run at an instant, each with a vector that no other lane's change behind it can move. */
export function lanesThen(sheet: Sheet, motions: readonly LaneMotion[], at: Instant): LaneThen[] {
  const known = motions.map(({ lane }) => laneRunOf(sheet, motions, lane)).filter((run) => run !== undefined);
  const settled = known.map((run) => settledAt(run, at));
  return settled.flatMap(({ lane }) => {
    const run = laneRunOf(sheet, settled, lane);
    return run ? [{ run, place: placeIn(run, at) }] : [];
  });
}
