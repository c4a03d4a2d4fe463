import type { Instant } from '../brand.ts';
import { type Course, type End, lengthOf } from '../pool.ts';
import { lastSplitOf, type Sheet, type Target } from '../sheet.ts';
import { type TimedRep, wholeMsOf } from './timed-rep.ts';

/** Where a swimmer should be: `along` the pool's length as it is drawn, 0 at the left … 1 at the right. */
export interface Marker {
  readonly order: number;
  readonly along: number;
  readonly heading: End;
  readonly paced: boolean;
}

/** The stretch of the rep a swimmer is on `sinceMs` after leaving; after the touch the last one. */
export const stretchAt = (target: Target, sinceMs: number): Target['splits'][number] | undefined =>
  target.splits.find((split) => sinceMs < split.ms) ?? lastSplitOf(target);

/** The water that is drawn. */
interface Water {
  readonly sheet: Sheet;
  readonly t: Instant;
  readonly rightEnd: End;
}

/** Swimmers on their way at target pace, as far as it is known; none for reps without a target. */
export function markersOf({ sheet, t, rightEnd }: Water, { step, swimmers }: TimedRep): Marker[] {
  return swimmers.flatMap(({ order, leavesAt, target }) => {
    const lastsMs = wholeMsOf(target);
    if (!target || lastsMs === undefined || leavesAt === null || t < leavesAt || t >= leavesAt + lastsMs) return [];
    const { swum, paced } = swumAt(target, t - leavesAt);
    return [{ order, paced, ...drawn(inPool(swum, sheet.course, step.fromEnd), rightEnd) }];
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
  return { swum: before.distance, paced: lastSplitOf(target)?.paced ?? true };
}

/** Where in the pool, `along` from the near end, someone is who has swum `swum` from `fromEnd`, turning at the walls. */
export function inPool(swum: number, course: Course, fromEnd: End): { along: number; heading: End } {
  const lengths = swum / lengthOf(course);
  const whole = Math.floor(lengths);
  const out = whole % 2 === 0;
  const fromStart = out ? lengths - whole : 1 - (lengths - whole);
  const fromNear = fromEnd === 'near';
  return { along: fromNear ? fromStart : 1 - fromStart, heading: out === fromNear ? 'far' : 'near' };
}

/** So that the same place out and back is one. */
const toMillionths = (along: number): number => Math.round(along * 1e6) / 1e6;

const drawn = <T extends { readonly along: number }>(place: T, rightEnd: End): T =>
  rightEnd === 'far' ? place : { ...place, along: 1 - place.along };

/** A wall asks sixty times a second for what stays the same for a whole rep. */
const keptChanges: Readonly<Record<End, WeakMap<TimedRep, readonly number[]>>> = {
  near: new WeakMap(),
  far: new WeakMap(),
};

/** Where paced and easy swimming change between the walls, `along` as markers; each place once, ascending. */
export function changesOf({ sheet, rightEnd }: Water, rep: TimedRep): readonly number[] {
  const kept = keptChanges[rightEnd];
  const known = kept.get(rep) ?? changesIn(sheet.course, rep, rightEnd);
  kept.set(rep, known);
  return known;
}

function changesIn(course: Course, { step, swimmers }: TimedRep, rightEnd: End): number[] {
  const target = swimmers.find((one) => one.target !== null && one.target.splits.length > 1)?.target;
  const ends = (target?.splits ?? []).filter(
    ({ paced }, place, all) => all[place + 1] && all[place + 1]?.paced !== paced,
  );
  const places = ends.map(({ distance }) => drawn(inPool(distance, course, step.fromEnd), rightEnd).along);
  return [...new Set(places.map(toMillionths))].filter((along) => along > 0 && along < 1).sort((a, b) => a - b);
}
