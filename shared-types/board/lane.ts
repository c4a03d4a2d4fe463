import { type Instant, type LaneNumber, type Ms, ms } from '../brand.ts';
import type { RunState } from '../events.ts';
import { type LaneMotion, type LaneRun, laneRunOf, type Place, placeIn, repFrom } from '../motion.ts';
import type { End } from '../pool.ts';
import type { RepStep, SheetLane } from '../sheet.ts';
import { clockReading } from '../time.ts';
import { changesOf, type Marker, markersOf, stretchAt } from './markers.ts';
import { type OwnTime, ownTimesOf } from './own-times.ts';
import { type LanePhase, LEAVING_MS } from './phase.ts';
import { type LaneSwimmer, type TimedRep, type Timetable, timedRep, timedRepBefore } from './timed-rep.ts';

/** What one band of the board shows. */
export interface LaneBoard {
  readonly lane: LaneNumber;
  readonly group: string;
  readonly phase: LanePhase;
  /** The rep the band is about: the one being swum, or else the next; null when the lane is done. */
  readonly rep: RepStep | null;
  /** The lane's next send-off, or null while that depends on the coach. */
  readonly nextAt: Instant | null;
  /** Time to that send-off; while held, what will be left of it. */
  readonly countdownMs: Ms | null;
  /** What the pool's clock shows at that send-off, e.g. `:45`. */
  readonly nextReading: string | null;
  readonly swimmers: readonly LaneSwimmer[];
  /** Whose turn it is to leave, on this rep or else the next. */
  readonly turn: LaneSwimmer | null;
  /** Rest after the touch that the leader's target leaves, of the rep the band is about. */
  readonly restMs: Ms | null;
  readonly markers: readonly Marker[];
  /** Where on the rep in hand paced and easy swimming change between the walls, `along` as markers. */
  readonly changes: readonly number[];
  /** Whose time runs. */
  readonly times: readonly OwnTime[];
}

/** An instant of a run, seen from a screen. */
export interface Moment extends Timetable {
  readonly state: RunState;
  readonly motions: readonly LaneMotion[];
  readonly t: Instant;
  readonly trimMs: number;
  readonly rightEnd: End;
}

/** What lane `lane` shows at the moment. Pure. */
export function laneBoardAt(moment: Moment, lane: SheetLane): LaneBoard {
  const run = laneRunOf(moment.sheet, moment.motions, lane.lane);
  return run ? bandOf(moment, run, placeIn(run, moment.t)) : { ...emptyBand(lane), phase: 'ready' };
}

/** Where the lane's swimmers are, of all that {@link laneBoardAt} says; of a lane that is not done. */
export function markersAt(moment: Moment, lane: LaneNumber): Marker[] {
  const run = laneRunOf(moment.sheet, moment.motions, lane);
  if (!run) return [];
  const { begun } = placeIn(run, moment.t);
  return markersOn(moment, timedRepBefore(moment, run, begun), begun < 0 ? null : timedRep(moment, run, begun));
}

/** Some may still be on their way on the rep before the one in hand: a long line overlaps the next send-off. */
const markersOn = (moment: Moment, before: TimedRep | null, current: TimedRep | null): Marker[] =>
  [before, current].flatMap((rep) => (rep ? markersOf(moment, rep) : []));

const emptyBand = ({ lane, group }: SheetLane): LaneBoard => ({
  lane,
  group,
  phase: 'done',
  rep: null,
  nextAt: null,
  countdownMs: null,
  nextReading: null,
  swimmers: [],
  turn: null,
  restMs: null,
  markers: [],
  changes: [],
  times: [],
});

function bandOf(moment: Moment, run: LaneRun, place: Place): LaneBoard {
  const { state, t, trimMs } = moment;
  const current = place.begun < 0 ? null : timedRep(moment, run, place.begun);
  const before = timedRepBefore(moment, run, place.begun);
  const next = timedRep(moment, run, repFrom(run.lane, place.ahead, run.lane.steps.length));
  const phase = phaseOf(moment, place, run.lane, current, next);
  const empty = emptyBand(run.lane);
  if (phase === 'done') return empty;
  const about = (phase === 'swimming' || phase === 'easy' ? current : null) ?? next ?? current;
  const nextAt = next?.leavesAt ?? null;
  return {
    ...empty,
    phase,
    rep: about?.step ?? null,
    nextAt,
    countdownMs: state === 'ready' ? null : countdownOf(moment, place, next),
    nextReading: nextAt === null ? null : clockReading(nextAt, trimMs),
    swimmers: about?.swimmers ?? [],
    turn: current?.swimmers.find((one) => !hasLeft(one, t)) ?? next?.swimmers[0] ?? null,
    restMs: about?.swimmers[0]?.target?.restMs ?? null,
    markers: markersOn(moment, before, current),
    changes: current ? changesOf(moment, current) : [],
    times: ownTimesOf(current, before, t),
  };
}

const hasLeft = ({ leavesAt }: LaneSwimmer, t: Instant): boolean => leavesAt !== null && leavesAt <= t;

/** Time to the next send-off; while held what will be left of it, as far as it does not depend on others. */
function countdownOf({ t }: Moment, place: Place, next: TimedRep | null): Ms | null {
  if (!next) return null;
  if (next.leavesAt !== null) return ms(next.leavesAt - t);
  return place.state === 'standing' ? ms(next.step.atMs - place.position) : null;
}

function phaseOf(
  { state, t }: Moment,
  place: Place,
  lane: SheetLane,
  current: TimedRep | null,
  next: TimedRep | null,
): LanePhase {
  if (state === 'ready') return 'ready';
  if (state === 'finished') return 'done';
  if (next?.leavesAt != null && next.leavesAt - t <= LEAVING_MS) return 'leaving';
  const swum = current ? swimmingPhase(current, t) : null;
  if (swum) return swum;
  if (place.state === 'done' || (place.state === 'at gate' && !next)) return 'done';
  if (place.state === 'at gate') return 'gate';
  if (place.state === 'at join') return 'joining';
  if (place.state === 'lead-in') return 'ready';
  const step = lane.steps[place.step];
  return step?.kind === 'rest' && step.reason === 'join' ? 'joining' : 'resting';
}

/**
 * `swimming` until the leader's paced part is over, `easy` until the last swimmer should be back, then nothing. While
 * somebody has yet to leave, the lane swims.
 */
function swimmingPhase({ step, leavesAt, swimmers }: TimedRep, t: Instant): LanePhase | null {
  const known = swimmers.flatMap(({ target, leavesAt: leftAt }) =>
    target && target.ms !== null && leftAt !== null ? [{ target, leftAt, backAt: leftAt + target.ms }] : [],
  );
  const leader = known[0];
  const lastLeavesAt = Math.max(...swimmers.map((one) => one.leavesAt ?? 0));
  if (!leader) return leavesAt !== null && t < Math.max(leavesAt + step.durationMs, lastLeavesAt) ? 'swimming' : null;
  if (t >= Math.max(lastLeavesAt, ...known.map(({ backAt }) => backAt))) return null;
  return stretchAt(leader.target, t - leader.leftAt)?.paced === false ? 'easy' : 'swimming';
}
