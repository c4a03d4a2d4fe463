import type { Instant, LaneNumber, SwimmerId } from '../../shared-types/brand.ts';
import type { Change } from '../../shared-types/changes.ts';
import type { Refusal } from '../../shared-types/commands.ts';
import type { RunEvent, RunState } from '../../shared-types/events.ts';
import { type LaneMotion, laneRunOf, placeIn } from '../../shared-types/motion.ts';
import { LIMITS } from '../../shared-types/practice.ts';
import { laneOf, type Sheet, type SheetLane } from '../../shared-types/sheet.ts';
import { joinsFrom } from '../../shared-types/trace.ts';
import { type Begun, type RunPlan, revise } from '../planning/revise.ts';
import { notNow } from './in-words.ts';
import { type SettingOff, setOffAt } from './setting-off.ts';
import { from, type LaneThen } from './vectors.ts';

/** What a change leads to: another version of the sheet, and the lanes on it. */
export interface Revised {
  readonly sheet: Sheet;
  readonly motions: readonly LaneMotion[];
}

export interface ChangeContext {
  /** Null for runs from before practices could be changed as they are swum. */
  readonly plan: RunPlan | null;
  readonly events: readonly RunEvent[];
  readonly settings: SettingOff;
}

/** All changes of a run that have not been undone, the newest last. */
export function changesIn(events: readonly RunEvent[]): Change[] {
  const takenBack = new Set(events.flatMap(({ kind, takesBack }) => (kind === 'undo' ? (takesBack ?? []) : [])));
  return events.flatMap(({ seq, change }) => (change && !takenBack.has(seq) ? [change] : []));
}

const TOO_OLD = notNow(
  'This practice was put on the wall by an older Farwall and cannot be changed now.',
  'Put it on the wall again.',
);

/** How far the lanes have come at an instant. */
function begunAt(sheet: Sheet, lanes: readonly LaneThen[]): Begun {
  const steps = new Map(lanes.map(({ run, place }) => [run.lane.lane, place.ahead]));
  const isBehind = ({ run, place }: LaneThen, join: number): boolean =>
    join < joinsFrom(sheet, run.motion) || place.position > (sheet.joins[join]?.atMs ?? 0);
  const joins = new Set<number>();
  sheet.joins.forEach(({ lanes: numbers }, join) => {
    const here = lanes.filter(({ run }) => numbers.includes(run.lane.lane));
    if (here.length > 0 && here.every((then) => isBehind(then, join))) joins.add(join);
  });
  return { sheet, steps, joins };
}

/**
 * [CMD7] The sheet with one more change, and every lane where it is on it. What has begun stays; the rep in hand keeps
 * its send-off and its time to the next.
 */
export function changed(
  sheet: Sheet,
  state: RunState,
  lanes: readonly LaneThen[],
  change: Change,
  at: Instant,
  { plan, events, settings }: ChangeContext,
): Revised | Refusal {
  if (!plan || sheet.joins.some(({ id }) => id === undefined)) return TOO_OLD;
  const before = changesIn(events);
  const begun = begunAt(sheet, lanes);
  const refusal = refusedChange(change, { sheet, plan, before, begun });
  if (refusal) return refusal;
  const planned = revise(plan, [...before, change], begun);
  if (!planned.sheet) {
    const error = planned.messages.find(({ severity }) => severity === 'error');
    return notNow(`With this change the practice cannot be swum: ${error?.text ?? 'it has errors'}.`);
  }
  const setsOffAt = setOffAt('grid', at, settings);
  return { sheet: planned.sheet, motions: onRevised(planned.sheet, state, lanes, begun, at, setsOffAt) };
}

/**
 * Every lane's vector on the revised sheet, whose steps are the same as far as they have begun: the one it has, unless it
 * stands where on this sheet it would have gone on.
 */
function onRevised(
  sheet: Sheet,
  state: RunState,
  lanes: readonly LaneThen[],
  { joins }: Begun,
  at: Instant,
  setsOffAt: Instant,
): LaneMotion[] {
  const behind = joins.size > 0 ? { behind: joins.size } : {};
  const onIt = ({ behind: _old, ...motion }: LaneMotion): LaneMotion => ({ ...motion, ...behind });
  const asBefore = lanes.map(({ run }) => onIt(run.motion));
  const restands = (then: LaneThen): boolean => {
    if (!['at join', 'at gate', 'done'].includes(then.place.state)) return false;
    const run = laneRunOf(sheet, asBefore, then.run.lane.lane);
    const place = run && placeIn(run, at);
    return place?.state !== then.place.state || place.position !== then.place.position;
  };
  const standing = (then: LaneThen, until: Instant): LaneMotion =>
    onIt(from(then, at, then.place.position, state === 'running' ? 1 : 0, until));
  const motions = lanes.map((then) => (restands(then) ? standing(then, at) : onIt(then.run.motion)));
  // Who stood and has something to swim now does not leave at this very instant, but on the clock's next reading.
  return lanes.map((then, place) => {
    const run = laneRunOf(sheet, motions, then.run.lane.lane);
    const leavesNow = restands(then) && run && placeIn(run, at).state === 'moving';
    return leavesNow ? standing(then, setsOffAt) : (motions[place] ?? then.run.motion);
  });
}

interface Changing {
  readonly sheet: Sheet;
  readonly plan: RunPlan;
  readonly before: readonly Change[];
  readonly begun: Begun;
}

/** Why a change makes no sense now, in words; null when it does. */
function refusedChange(change: Change, changing: Changing): Refusal | null {
  switch (change.kind) {
    case 'adjust':
    case 'skip':
    case 'repeat':
      return refusedSet(change, changing);
    case 'move':
    case 'join':
      return refusedMove(change, changing);
    case 'sitOut':
      return swimsIn(change.swimmer, changing) ? null : notNow('That swimmer is not in a lane.');
    case 'rejoin':
      return refusedRejoin(change.swimmer, changing);
  }
}

type SetChange = Extract<Change, { kind: 'adjust' | 'skip' | 'repeat' }>;

function refusedSet(change: SetChange, { sheet, begun }: Changing): Refusal | null {
  const place = sheet.sets.findIndex(({ key }) => key === change.set);
  const set = sheet.sets[place];
  if (!set) return notNow('There is no such set in this practice.', 'Load the page again.');
  const isAhead = ({ lane, steps }: SheetLane): boolean =>
    steps.some((step, index) => step.kind === 'rep' && step.set === place && index >= (begun.steps.get(lane) ?? 0));
  const inHand = ({ lane, steps }: SheetLane): boolean => {
    const last = steps.slice(0, begun.steps.get(lane) ?? 0).findLast(({ kind }) => kind === 'rep');
    return last?.kind === 'rep' && last.set === place;
  };
  if (change.kind === 'repeat' && sheet.lanes.some((lane) => isAhead(lane) || inHand(lane))) return null;
  if (
    change.kind !== 'repeat' &&
    sheet.lanes.some((lane) => isAhead(lane) || (change.kind === 'adjust' && inHand(lane)))
  )
    return refusedInterval(change, sheet, place);
  return notNow(`${set.words} has been swum.`, 'Press back for the last rep.');
}

/** An interval can be changed only where there is one. */
function refusedInterval(change: SetChange, sheet: Sheet, place: number): Refusal | null {
  if (change.kind !== 'adjust') return null;
  const { intervalMs, count, apartMs, by } = change;
  const changes = [intervalMs, count, apartMs, by?.intervalMs, by?.count, by?.apartMs];
  if (changes.every((value) => value === undefined)) return notNow('Nothing was changed.');
  const release = sheet.sets[place]?.release;
  if ((intervalMs === undefined && by?.intervalMs === undefined) || release === 'interval') return null;
  return notNow('This set has no send-off interval that could be changed.');
}

const swimsIn = (swimmer: SwimmerId, changing: Changing): LaneNumber | null => {
  const { before } = changing;
  const placed = before.findLast((change) => 'swimmer' in change && change.swimmer === swimmer);
  if (placed?.kind === 'sitOut') return null;
  if (placed?.kind === 'move' || placed?.kind === 'join') return placed.lane;
  return changing.plan.squad.swimmers.find(({ id }) => id === swimmer)?.lane ?? null;
};

function refusedMove(
  { kind, swimmer, lane }: Extract<Change, { kind: 'move' | 'join' }>,
  changing: Changing,
): Refusal | null {
  const known = changing.plan.squad.swimmers.some(({ id }) => id === swimmer);
  if (!known) return notNow('That swimmer is not in the squad.', 'Load the page again.');
  if (!laneOf(changing.sheet, lane)) {
    return notNow(`Nobody swims in lane ${lane}, so it has nothing to swim.`, 'Choose a lane that swims.');
  }
  const now = swimsIn(swimmer, changing);
  if (kind === 'join' && now !== null) return notNow(`That swimmer is in lane ${now} already.`, 'Move them instead.');
  if (kind === 'move' && now === null) return notNow('That swimmer is not in a lane.', 'Let them join instead.');
  const there = changing.plan.squad.swimmers.filter(({ id }) => id !== swimmer && swimsIn(id, changing) === lane);
  if (there.length < LIMITS.swimmersPerLane) return null;
  return notNow(`Lane ${lane} has ${there.length} swimmers; more do not fit.`);
}

function refusedRejoin(swimmer: SwimmerId, changing: Changing): Refusal | null {
  const last = changing.before.findLast((change) => 'swimmer' in change && change.swimmer === swimmer);
  return last?.kind === 'sitOut' ? null : notNow('That swimmer does not sit out.');
}
