import type { LaneNumber } from '../../../shared-types/brand.ts';
import type { End } from '../../../shared-types/pool.ts';
import { type Join, laneOf, type RepStep, type Sheet, type Step } from '../../../shared-types/sheet.ts';
import { type Draft, draftLanes } from './drafts.ts';

/**
 * [CMD7] How far a practice has come that is planned anew: what has begun stays as it is on the sheet it was swum by.
 */
export interface Begun {
  readonly sheet: Sheet;
  /** How many of each lane's steps have begun. */
  readonly steps: ReadonlyMap<LaneNumber, number>;
  /** Indices of the joins that are behind all their lanes. */
  readonly joins: ReadonlySet<number>;
}

export const begunSteps = ({ sheet, steps }: Begun, lane: LaneNumber): readonly Step[] =>
  laneOf(sheet, lane)?.steps.slice(0, steps.get(lane) ?? 0) ?? [];

export const joinsBehind = ({ sheet, joins }: Begun): Join[] => sheet.joins.filter((_, index) => joins.has(index));

/** The place in the drafts of the last one of each lane that has begun; −1 where none has. */
function lastBegun(drafts: readonly Draft[], begun: Begun): Map<LaneNumber, number> {
  const ids = new Map<LaneNumber, Set<string>>(
    begun.sheet.lanes.map(({ lane }) => [lane, new Set(begunSteps(begun, lane).map(({ id }) => id))]),
  );
  const last = new Map<LaneNumber, number>();
  drafts.forEach((draft, place) => {
    for (const lane of draftLanes(draft)) if (ids.get(lane)?.has(draft.id)) last.set(lane, place);
  });
  return last;
}

const isRep = (step: Step): step is RepStep => step.kind === 'rep';

/** Lines of which a lane has begun a rep. */
const begunLines = (begun: Begun): ReadonlySet<number> =>
  new Set(
    begun.sheet.lanes.flatMap(({ lane }) => begunSteps(begun, lane).flatMap((step) => (isRep(step) ? step.line : []))),
  );

/**
 * The drafts that are still to come: what follows, lane by lane, the last of them that has begun. Nothing of skipped
 * sets, but for the go after one that the coach releases and that is being swum: nobody else knows when the rep in hand
 * is over.
 */
export function stillToCome(drafts: readonly Draft[], begun: Begun): Draft[] {
  const last = lastBegun(drafts, begun);
  const lines = begunLines(begun);
  const behind = new Set(joinsBehind(begun).flatMap(({ id }) => id ?? []));
  return drafts.filter((draft, place) => {
    if (draft.kind === 'join' && behind.has(draft.id)) return false;
    const ends = draft.kind === 'join' && draft.gate === 'after set' && lines.has(draft.line);
    if (draft.skipped && !ends) return false;
    return draftLanes(draft).every((lane) => (last.get(lane) ?? -1) < place);
  });
}

const other = (end: End): End => (end === 'near' ? 'far' : 'near');

/** Whether the swimmers come back after a rep that ends at the other wall, told by where the next one starts. */
function endAfter(rep: RepStep, next: RepStep | undefined): End {
  return next && next.fromEnd === rep.fromEnd && next.start !== 'dive' ? rep.fromEnd : rep.toEnd;
}

/**
 * The steps to come so that they start at the wall the swimmers are at: a changed number of reps may leave them at the
 * other one than the practice as written would. From a dive on it is the blocks again.
 * @param planned the same lane's reps as the old sheet had them, to tell where the last begun rep leaves its swimmers
 */
export function fromTheirEnd(toCome: readonly Step[], swum: readonly Step[], planned: readonly Step[]): Step[] {
  const last = swum.filter(isRep).pop();
  const first = toCome.find(isRep);
  if (!last || !first || first.start === 'dive') return [...toCome];
  const following = planned.slice(planned.indexOf(last) + 1).find(isRep);
  let flips = endAfter(last, following) !== first.fromEnd;
  return toCome.map((step) => {
    if (step.kind !== 'rep') return step;
    if (step.start === 'dive') flips = false;
    return flips ? { ...step, fromEnd: other(step.fromEnd), toEnd: other(step.toEnd) } : step;
  });
}
