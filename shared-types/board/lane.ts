import { type Instant, instant, type LaneNumber, type Ms, ms, type SwimmerId } from '../brand.ts';
import type { RunState } from '../events.ts';
import { departureFrom, type LaneMotion, type Place, placeAt, stretchOf, tracesOf } from '../motion.ts';
import { type Course, type End, lengthOf } from '../pool.ts';
import { departuresOf, type RepStep, type Sheet, type SheetLane, type Step, type Target, targetsOf } from '../sheet.ts';
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

interface Timed {
  readonly step: RepStep;
  /** When its first swimmer leaves; null while unknown. */
  readonly leavesAt: Instant | null;
}

/** What lane `lane` shows at the moment. Pure. */
export function laneBoardAt(moment: Moment, lane: SheetLane): LaneBoard {
  const { sheet, motions, t } = moment;
  const place = placeAt(sheet, motions, lane, t);
  const motion = motions.find((candidate) => candidate.lane === lane.lane);
  const current = motion ? currentRep(moment, lane, motion, place) : null;
  const next = motion && place.state !== 'done' ? nextRep(moment, lane, motion, place, current) : null;
  const phase = phaseOf(moment, lane, place, current, next);
  const about = phase === 'swimming' || phase === 'easy' ? current : phase === 'done' ? null : (next ?? current);
  const swimmers = about ? swimmersOf(moment, lane, about) : [];
  const stillToLeave = current
    ? swimmersOf(moment, lane, current).find(({ leavesAt }) => leavesAt !== null && leavesAt > t)
    : undefined;
  const nextAt = next?.leavesAt ?? null;
  return {
    lane: lane.lane,
    group: lane.group,
    phase,
    rep: about?.step ?? null,
    nextAt,
    countdownMs: countdownOf(moment, place, next),
    nextReading: nextAt === null ? null : clockReading(nextAt, moment.trimMs),
    swimmers,
    turn: stillToLeave ?? (next ? (swimmersOf(moment, lane, next)[0] ?? null) : null),
    restMs: swimmers[0]?.target?.restMs ?? null,
    markers:
      current && phase !== 'gate' ? markersOf(sheet.course, swimmersOf(moment, lane, current), current.step, t) : [],
  };
}

/** The rep whose send-off has been and whose cycle lasts, or at a gate the rep before it; null when there is none. */
function currentRep(moment: Moment, lane: SheetLane, motion: LaneMotion, place: Place): Timed | null {
  const at = place.state === 'at gate' ? lane.steps[place.step - 1] : lane.steps[place.step];
  if (at?.kind !== 'rep' || moment.state === 'ready') return null;
  const trace = tracesOf(moment.sheet, moment.motions).get(lane.lane);
  const traced = trace ? departureFrom(trace, at.atMs) : null;
  const begunBefore = motion.position > at.atMs || (motion.position === at.atMs && motion.leftAt !== undefined);
  const leavesAt = begunBefore ? (motion.leftAt ?? null) : zeroLength(at, place) ? leftZeroLength(motion, at) : traced;
  if (leavesAt === null || leavesAt > moment.t) return null;
  return { step: at, leavesAt };
}

/** A rep of unknown time lasts 0 on the axis and stands at its gate as soon as it has left. */
const zeroLength = (step: Step, place: Place): boolean => step.durationMs === 0 && place.state === 'at gate';
const leftZeroLength = (motion: LaneMotion, step: Step): Instant | null =>
  motion.position === step.atMs && motion.rate === 1 ? motion.at : null;

/** The next rep to leave; beyond a shut gate its instant is not known. */
function nextRep(
  { sheet, motions, t }: Moment,
  lane: SheetLane,
  motion: LaneMotion,
  place: Place,
  current: Timed | null,
): Timed | null {
  const { end } = stretchOf(sheet, lane, motion.gates);
  const trace = tracesOf(sheet, motions).get(lane.lane) ?? [];
  for (let at = place.step; at < lane.steps.length; at += 1) {
    const step = lane.steps[at];
    if (step?.kind !== 'rep' || step === current?.step) continue;
    if (at >= end) return { step, leavesAt: null };
    const leavesAt = departureFrom(trace, step.atMs);
    if (leavesAt === null || leavesAt > t) return { step, leavesAt };
  }
  return null;
}

function countdownOf({ t }: Moment, place: Place, next: Timed | null): Ms | null {
  if (!next) return null;
  if (next.leavesAt !== null) return ms(next.leavesAt - t);
  if (place.state === 'at gate' || place.state === 'at join') return null;
  return place.state === 'standing' ? ms(next.step.atMs - place.position) : null;
}

function phaseOf(moment: Moment, lane: SheetLane, place: Place, current: Timed | null, next: Timed | null): LanePhase {
  if (moment.state === 'ready') return 'ready';
  if (place.state === 'done' || (place.state === 'at gate' && !next)) return 'done';
  if (next?.leavesAt != null && next.leavesAt - moment.t <= LEAVING_MS) return 'leaving';
  const swum = current ? swimmingPhase(moment, lane, current) : null;
  if (swum) return swum;
  if (place.state === 'at gate') return 'gate';
  if (place.state === 'at join') return 'joining';
  if (place.state === 'lead-in') return 'ready';
  const step = lane.steps[place.step];
  return step?.kind === 'rest' && step.reason === 'join' ? 'joining' : 'resting';
}

/** `swimming` until the leader's paced part is over, `easy` until the last swimmer should be back, then nothing. */
function swimmingPhase(moment: Moment, lane: SheetLane, current: Timed): LanePhase | null {
  const { t } = moment;
  const swimmers = swimmersOf(moment, lane, current);
  const known = swimmers.filter(({ target }) => target !== null && target.ms !== null);
  if (known.length === 0) return current.step.durationMs === 0 ? null : 'swimming';
  const backAt = Math.max(...known.map(({ leavesAt, target }) => (leavesAt ?? 0) + (target?.ms ?? 0)));
  if (t >= backAt) return null;
  const leader = known[0];
  if (!leader?.target || leader.leavesAt === null) return 'swimming';
  const sinceMs = t - leader.leavesAt;
  const stretch = leader.target.splits.find((split) => sinceMs < split.ms) ?? leader.target.splits.at(-1);
  return stretch?.paced === false ? 'easy' : 'swimming';
}

function swimmersOf({ sheet, labels }: Moment, lane: SheetLane, { step, leavesAt }: Timed): LaneSwimmer[] {
  const targets = targetsOf(sheet, step);
  return departuresOf(lane, step).map(({ swimmer, afterMs }, place) => ({
    swimmer,
    label: labels[swimmer] ?? '',
    order: step.heat ?? place + 1,
    leavesAt: leavesAt === null ? null : instant(leavesAt + afterMs),
    afterMs,
    target: targets.find((target) => target.swimmer === swimmer) ?? null,
  }));
}

/** Swimmers on their way at target pace; none for reps without a target. */
function markersOf(course: Course, swimmers: readonly LaneSwimmer[], step: RepStep, t: Instant): Marker[] {
  return swimmers.flatMap(({ order, leavesAt, target }) => {
    if (!target || target.ms === null || leavesAt === null || t < leavesAt || t >= leavesAt + target.ms) return [];
    const { swum, paced } = swumAt(target, t - leavesAt);
    return [{ order, paced, ...inPool(swum, course, step.fromEnd) }];
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
  return { swum: before.distance, paced: target.splits.at(-1)?.paced ?? true };
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
