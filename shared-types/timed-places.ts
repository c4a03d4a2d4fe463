import { lengthOf } from './pool.ts';
import { isMixed, type RepStep, type Sheet, targetsOf } from './sheet.ts';

/** Where in a rep times are taken. Pure. */

export const TAKINGS = ['part', 'finish', 'both'] as const;
/**
 * What is timed of a rep in which paced and easy parts change, or on a pulley that is timed over less: where those parts
 * end, the finish, or both. Of any other rep it is the finish.
 */
export type Taking = (typeof TAKINGS)[number];

const partEndsOfReps = new WeakMap<RepStep, readonly number[]>();

/**
 * Where the paced parts of a rep end that has easy parts too, in the course's unit, nearest first; only at walls, for
 * nobody can see from the deck who passes a mark in the water. Of a rep on a pulley, where its rope is timed over. Empty
 * where nothing but the finish can be timed.
 */
export function partEndsOf(sheet: Sheet, rep: RepStep): readonly number[] {
  const known = partEndsOfReps.get(rep);
  if (known) return known;
  const distances = markOf(sheet, rep) ?? pacedEndsOf(sheet, rep);
  partEndsOfReps.set(rep, distances);
  return distances;
}

/** Of a pulley it is seen on its rope, or at a mark beside the lane, when the swimmer has come so far. */
function markOf({ sets }: Sheet, { set, distance = 0 }: RepStep): readonly number[] | null {
  const timedDistance = sets[set]?.timedDistance;
  return timedDistance !== undefined && timedDistance < distance ? [timedDistance] : null;
}

function pacedEndsOf(sheet: Sheet, rep: RepStep): readonly number[] {
  const splits = targetsOf(sheet, rep).find(isMixed)?.splits ?? [];
  const ends = splits.filter(
    ({ paced, distance }, place) =>
      paced && splits[place + 1]?.paced !== true && distance % lengthOf(sheet.course) === 0,
  );
  return ends.map(({ distance }) => distance);
}

/** Where a rep's times are taken, nearest first; nowhere in reps of so many seconds. */
export function timedPlacesOf(sheet: Sheet, rep: RepStep, taking: Taking = 'part'): readonly number[] {
  if (rep.distance === undefined) return [];
  const ends = taking === 'finish' ? [] : partEndsOf(sheet, rep);
  if (ends.length === 0) return [rep.distance];
  return taking === 'part' || ends.includes(rep.distance) ? ends : [...ends, rep.distance];
}
