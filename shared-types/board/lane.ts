import { type Instant, type LaneNumber, type Ms, ms, type SwimmerId } from '../brand.ts';
import type { RunState } from '../events.ts';
import {
  type LaneMotion,
  type LaneRun,
  laneRunOf,
  type Place,
  placeIn,
  repFrom,
  sendOffOf,
  sendOffsOf,
} from '../motion.ts';
import { type Course, type End, lengthOf } from '../pool.ts';
import { departuresOf, type RepStep, type Sheet, type SheetLane, type Target, targetsOf } from '../sheet.ts';
import { clockReading } from '../time.ts';
import type { Labels } from '../wire/from-server.ts';
import { type LanePhase, LEAVING_MS } from './phase.ts';

/** A swimmer of the lane on the rep the band is about. */
export interface LaneSwimmer {
  readonly swimmer: SwimmerId;
  /** What the board may call the swimmer. */
  readonly label: string;
  /** Place in the lane, from 1. */
  readonly order: number;
  /** When the swimmer leaves, or left; null while that depends on the coach. */
  readonly leavesAt: Instant | null;
  /** Delay after the lane's send-off. */
  readonly afterMs: number;
  readonly target: Target | null;
}

/** Where a swimmer should be: `along` from the near end, 0 … 1 of the pool's length. */
export interface Marker {
  readonly order: number;
  readonly along: number;
  readonly heading: End;
  readonly paced: boolean;
}

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
}

interface Moment {
  readonly sheet: Sheet;
  readonly state: RunState;
  readonly motions: readonly LaneMotion[];
  readonly t: Instant;
  readonly labels: Labels;
  readonly trimMs: number;
}

/** A rep and when its swimmers leave or left, in order. */
interface Timed {
  readonly step: RepStep;
  readonly index: number;
  /** When its first swimmer leaves; null while that depends on the coach. */
  readonly leavesAt: Instant | null;
  readonly swimmers: readonly LaneSwimmer[];
}

/** What lane `lane` shows at the moment. Pure. */
export function laneBoardAt(moment: Moment, lane: SheetLane): LaneBoard {
  const run = laneRunOf(moment.sheet, moment.motions, lane.lane);
  return run ? bandOf(moment, run, placeIn(run, moment.t)) : { ...emptyBand(lane), phase: 'ready' };
}

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
});

function bandOf(moment: Moment, run: LaneRun, place: Place): LaneBoard {
  const { state, t, trimMs } = moment;
  const current = place.begun < 0 ? null : timedRep(moment, run, place.begun);
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
    markers: [...markersBefore(moment, run, place), ...(current ? markersOf(moment, current) : [])],
  };
}

const hasLeft = ({ leavesAt }: LaneSwimmer, t: Instant): boolean => leavesAt !== null && leavesAt <= t;

interface TimedReps {
  readonly labels: Labels;
  readonly byIndex: Map<number, Timed | null>;
}

const timedReps = new WeakMap<LaneRun, TimedReps>();

/**
 * The rep at `index` with its departures, or null when there is none. Nothing in it depends on the instant, so it is
 * made once and kept until the run changes: a wall asks sixty times a second.
 */
function timedRep({ sheet, labels }: Moment, run: LaneRun, index: number): Timed | null {
  let kept = timedReps.get(run);
  if (kept?.labels !== labels) {
    kept = { labels, byIndex: new Map() };
    timedReps.set(run, kept);
  }
  let timed = kept.byIndex.get(index);
  if (timed === undefined) {
    timed = timeRep(sheet, labels, run, index);
    kept.byIndex.set(index, timed);
  }
  return timed;
}

function timeRep(sheet: Sheet, labels: Labels, run: LaneRun, index: number): Timed | null {
  const step = run.lane.steps[index];
  if (step?.kind !== 'rep') return null;
  const sendOffs = sendOffsOf(run, index);
  const targets = targetsOf(sheet, step);
  const swimmers = departuresOf(run.lane, step).map(({ swimmer, afterMs }, place) => ({
    swimmer,
    label: labels[swimmer] ?? '',
    order: step.heat ?? place + 1,
    leavesAt: sendOffs[place] ?? null,
    afterMs,
    target: targets.find((target) => target.swimmer === swimmer) ?? null,
  }));
  return { step, index, leavesAt: sendOffOf(run, index), swimmers };
}

/** Time to the next send-off; while held what will be left of it, as far as it does not depend on others. */
function countdownOf({ t }: Moment, place: Place, next: Timed | null): Ms | null {
  if (!next) return null;
  if (next.leavesAt !== null) return ms(next.leavesAt - t);
  return place.state === 'standing' ? ms(next.step.atMs - place.position) : null;
}

function phaseOf(
  { state, t }: Moment,
  place: Place,
  lane: SheetLane,
  current: Timed | null,
  next: Timed | null,
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
function swimmingPhase({ step, leavesAt, swimmers }: Timed, t: Instant): LanePhase | null {
  const known = swimmers.flatMap(({ target, leavesAt: leftAt }) =>
    target && target.ms !== null && leftAt !== null ? [{ target, leftAt, backAt: leftAt + target.ms }] : [],
  );
  const leader = known[0];
  const lastLeavesAt = Math.max(...swimmers.map((one) => one.leavesAt ?? 0));
  if (!leader) return leavesAt !== null && t < Math.max(leavesAt + step.durationMs, lastLeavesAt) ? 'swimming' : null;
  if (t >= Math.max(lastLeavesAt, ...known.map(({ backAt }) => backAt))) return null;
  return stretchAt(leader.target, t - leader.leftAt)?.paced === false ? 'easy' : 'swimming';
}

const lastOf = (splits: Target['splits']): Target['splits'][number] | undefined => splits[splits.length - 1];

/** The stretch of the rep a swimmer is on `sinceMs` after leaving; after the touch the last one. */
const stretchAt = ({ splits }: Target, sinceMs: number): Target['splits'][number] | undefined =>
  splits.find((split) => sinceMs < split.ms) ?? lastOf(splits);

/** Swimmers still on their way on the rep before the one in hand: a long line overlaps the next send-off. */
function markersBefore(moment: Moment, run: LaneRun, place: Place): Marker[] {
  for (let index = place.begun - 1; index >= run.first; index -= 1) {
    const before = timedRep(moment, run, index);
    if (before) return markersOf(moment, before);
  }
  return [];
}

/** Swimmers on their way at target pace, as far as it is known; none for reps without a target. */
function markersOf({ sheet, t }: Moment, { step, swimmers }: Timed): Marker[] {
  return swimmers.flatMap(({ order, leavesAt, target }) => {
    const lastsMs = target ? lastOf(target.splits)?.ms : undefined;
    if (!target || lastsMs === undefined || leavesAt === null || t < leavesAt || t >= leavesAt + lastsMs) return [];
    const { swum, paced } = swumAt(target, t - leavesAt);
    return [{ order, paced, ...inPool(swum, sheet.course, step.fromEnd) }];
  });
}

/** How far a swimmer is after `sinceMs` at the pace of each stretch of the target. */
export function swumAt(target: Target, sinceMs: number): { swum: number; paced: boolean } {
  let before = { distance: 0, ms: 0 };
  for (const split of target.splits) {
    if (sinceMs < split.ms) {
      const share = (sinceMs - before.ms) / (split.ms - before.ms);
      return { swum: before.distance + share * (split.distance - before.distance), paced: split.paced };
    }
    before = split;
  }
  return { swum: before.distance, paced: lastOf(target.splits)?.paced ?? true };
}

/** Where in the pool someone is who has swum `swum` from `fromEnd`, turning at the walls. */
export function inPool(swum: number, course: Course, fromEnd: End): { along: number; heading: End } {
  const lengths = swum / lengthOf(course);
  const whole = Math.floor(lengths);
  const out = whole % 2 === 0;
  const fromStart = out ? lengths - whole : 1 - (lengths - whole);
  const fromNear = fromEnd === 'near';
  return { along: fromNear ? fromStart : 1 - fromStart, heading: out === fromNear ? 'far' : 'near' };
}
