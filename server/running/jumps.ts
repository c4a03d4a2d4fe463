import { type Instant, instant, type Ms } from '../../shared-types/brand.ts';
import { type LaneMotion, repFrom } from '../../shared-types/motion.ts';
import type { Sheet, SheetLane } from '../../shared-types/sheet.ts';
import { clockReading } from '../../shared-types/time.ts';
import { spotOf } from '../../shared-types/trace.ts';
import { notNow, type Vectors } from './in-words.ts';
import { afresh, from, type LaneThen } from './vectors.ts';

/**
 * Where a lane is to go. Steps tell it more exactly than places on the axis, since steps that last no time share one.
 */
interface Jump {
  readonly then: LaneThen;
  /** The first step not begun there. */
  ahead: number;
  position: Ms;
  /** The first join not behind it there. */
  behind: number;
  /** `keeps`: its vector as it is; `stays`: its place; `waits`: at a join or gate; `leaves`: on a rep; `ends`. */
  how: 'keeps' | 'stays' | 'waits' | 'leaves' | 'ends';
}

/** A join as a lane comes to it. */
interface Crossing<J extends Jump> {
  readonly jump: J;
  readonly join: number;
  /** Before which step of the lane the join lies. */
  readonly spot: number;
  /** The step that a lane waiting there has ahead: at a gate the gate's own. */
  readonly waitsBefore: number;
  readonly atMs: Ms;
}

/** Each join with the jumps of its lanes, in the order of the practice. */
function crossingsOf<J extends Jump>(sheet: Sheet, jumps: readonly J[]): Crossing<J>[][] {
  return sheet.joins.map(({ atMs, lanes, gate }, join) =>
    jumps
      .filter(({ then }) => lanes.includes(then.run.lane.lane))
      .map((jump) => {
        const spot = spotOf(sheet, jump.then.run.lane, join);
        return { jump, join, spot, waitsBefore: gate ? spot - 1 : spot, atMs };
      }),
  );
}

/** Whether the lane stands at the join or is behind it. */
const hasReached = ({ jump: { then }, waitsBefore, atMs }: Crossing<Jump>): boolean =>
  then.place.ahead > waitsBefore || (then.place.ahead === waitsBefore && then.place.position >= atMs);

const isBehind = (crossing: Crossing<Jump>): boolean =>
  crossing.jump.then.place.ahead >= crossing.spot && hasReached(crossing);

const waitThere = ({ jump, join, waitsBefore, atMs }: Crossing<Jump>): void => {
  jump.ahead = waitsBefore;
  jump.position = atMs;
  jump.behind = join;
  jump.how = 'waits';
};

const stepAt = (lane: SheetLane, index: number): Ms => lane.steps[index]?.atMs ?? lane.durationMs;

/** Whether a lane stands in its lead-in right before a rep: that send-off is set. */
const isAboutToLeave = ({ run, place }: LaneThen): boolean =>
  place.state === 'lead-in' &&
  run.lane.steps[place.ahead]?.kind === 'rep' &&
  stepAt(run.lane, place.ahead) === place.position;

/** How far a jump forward goes: to the next send-off, or to the first of the next set. */
export type Stride = 'rep' | 'set';

const keepsItsWay = (then: LaneThen): Jump => {
  const { ahead, position } = then.place;
  return { then, ahead, position, behind: 0, how: 'keeps' };
};

function jumpToNext(then: LaneThen): Jump {
  const { lane } = then.run;
  if (then.place.state === 'done' || isAboutToLeave(then)) return keepsItsWay(then);
  return jumpTo(then, repFrom(lane, then.place.ahead, lane.steps.length));
}

/** The set the lane is at: that of the rep it is about to leave on, else of the last rep before. */
function setInHand(then: LaneThen): number | null {
  const { steps } = then.run.lane;
  const { ahead } = then.place;
  const last = isAboutToLeave(then) ? steps[ahead] : steps.findLast((step, at) => at < ahead && step.kind === 'rep');
  return last?.kind === 'rep' ? last.set : null;
}

function jumpToNextSet(then: LaneThen): Jump {
  if (then.place.state === 'done') return keepsItsWay(then);
  const { steps } = then.run.lane;
  const inHand = setInHand(then);
  const first = steps.findIndex((step, at) => at >= then.place.ahead && step.kind === 'rep' && step.set !== inHand);
  return jumpTo(then, first < 0 ? steps.length : first);
}

const jumpTo = (then: LaneThen, rep: number): Jump => {
  const { lane } = then.run;
  const how = rep < lane.steps.length ? 'leaves' : 'ends';
  return { then, ahead: rep, position: stepAt(lane, rep), behind: 0, how };
};

/** A gate is where the coach says go: no jump passes the one before the rep it goes to. After the last rep nobody waits. */
const isLastGate = (sheet: Sheet, { jump: { then, ahead, how }, join, spot }: Crossing<Jump>): boolean =>
  how !== 'ends' && sheet.joins[join]?.gate === true && repFrom(then.run.lane, spot, ahead) === ahead;

/**
 * [CMD2] Every lane to its next send-off, or to the first of its next set. A lane crosses a join only when all its
 * lanes do or have, and never the gate before the rep it goes to; there it stops and waits. A lane that is about to
 * leave keeps its send-off.
 */
export function toNext(
  sheet: Sheet,
  lanes: readonly LaneThen[],
  stride: Stride,
  at: Instant,
  setsOffAt: Instant,
  trimMs: number,
): Vectors {
  const jumps = lanes.map(stride === 'rep' ? jumpToNext : jumpToNextSet);
  const stopped = new Set<Jump>();
  for (const crossings of crossingsOf(sheet, jumps)) {
    const crosses = ({ jump, spot }: Crossing<Jump>): boolean => jump.ahead >= spot && !stopped.has(jump);
    const isOpen = crossings.every(
      (crossing) => crosses(crossing) && (isBehind(crossing) || !isLastGate(sheet, crossing)),
    );
    if (isOpen) for (const { jump, join } of crossings) jump.behind = join + 1;
    else for (const crossing of crossings.filter(crosses)) stopAt(crossing, stopped);
  }
  if (jumps.every(({ how }) => how === 'keeps')) return nothingNext(lanes, trimMs);
  return jumps.map((jump) => vectorOf(sheet, jump, at, setsOffAt));
}

/** A lane that may not cross a join with the others goes there and waits, unless it was behind it before. */
function stopAt(crossing: Crossing<Jump>, stopped: Set<Jump>): void {
  const { jump, waitsBefore } = crossing;
  if (jump.then.place.ahead > waitsBefore) return;
  stopped.add(jump);
  waitThere(crossing);
  if (hasReached(crossing)) jump.how = 'keeps';
}

function nothingNext(lanes: readonly LaneThen[], trimMs: number): Vectors {
  const leaving = lanes.filter(isAboutToLeave).map(({ run }) => run.motion.at);
  const waits = lanes.some(({ place }) => place.state === 'at gate');
  if (waits && leaving.length === 0) return notNow('The lanes wait for your go.', 'Press go.');
  if (leaving.length === 0) return notNow('Every lane has swum everything.', 'Press finish.');
  const reading = clockReading(instant(Math.min(...leaving)), trimMs);
  return notNow(`The lanes already leave at ${reading}.`);
}

interface JumpBack extends Jump {
  /** The rep to repeat, or null when none was before. */
  rep: number | null;
  /** It would repeat a rep before a join, but other lanes of that join stay behind it. */
  pinned: boolean;
}

function jumpBack(then: LaneThen): JumpBack {
  const { position, ahead, state } = then.place;
  const rep = then.run.lane.steps.findLastIndex((step, index) => index < ahead && step.kind === 'rep');
  const how = state === 'at gate' || state === 'at join' || state === 'done' ? 'keeps' : 'stays';
  return { then, ahead, position, behind: 0, how, rep: rep < 0 ? null : rep, pinned: false };
}

/**
 * [CMD2] Every lane to the start of the last rep it began; in a lead-in before a rep that is the one before. A join
 * (or gate, which then shuts) is crossed backwards by all its lanes or by none: who repeats nothing behind it would
 * stand on its other side. A lane with nothing to repeat goes along and waits there, or else stays where it is.
 */
export function toLast(sheet: Sheet, lanes: readonly LaneThen[], at: Instant, setsOffAt: Instant): Vectors {
  const jumps = lanes.map(jumpBack);
  for (const crossings of crossingsOf(sheet, jumps).reverse()) crossBack(crossings.filter(isBehind));
  for (const jump of jumps) {
    if (jump.rep === null || jump.pinned) continue;
    jump.ahead = jump.rep;
    jump.position = stepAt(jump.then.run.lane, jump.rep);
    jump.how = 'leaves';
  }
  for (const { jump, join, spot } of crossingsOf(sheet, jumps).flat()) {
    if (jump.how === 'leaves' && spot <= jump.ahead) jump.behind = join + 1;
  }
  if (jumps.every(({ how }) => how === 'keeps')) return notNow('No lane has a rep to go back to.');
  return jumps.map((jump) => vectorOf(sheet, jump, at, setsOffAt));
}

function crossBack(behind: readonly Crossing<JumpBack>[]): void {
  const wanting = behind.filter(({ jump: { rep, pinned }, spot }) => rep !== null && rep < spot && !pinned);
  const someStay = behind.some(({ jump: { rep, pinned }, spot }) => pinned || (rep !== null && rep >= spot));
  for (const { jump } of someStay ? wanting : []) jump.pinned = true;
  if (!someStay && wanting.length > 0) behind.forEach(waitThere);
}

function vectorOf(sheet: Sheet, jump: Jump, at: Instant, setsOffAt: Instant): LaneMotion {
  const { then, how, position } = jump;
  if (how === 'keeps') return then.run.motion;
  if (how === 'stays') return from(then, at, position, 1, setsOffAt);
  return afresh(sheet, then, jump, how === 'leaves' ? setsOffAt : at);
}
