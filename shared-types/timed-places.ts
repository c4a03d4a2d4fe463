import { lengthOf } from './pool.ts';
import { isMixed, type RepStep, type Sheet, targetsOf } from './sheet.ts';

/** Where in a rep times are taken. Pure. */

export const TAKINGS = ['part', 'finish', 'both'] as const;
/**
 * What is timed of a rep in which paced and easy parts change: where paced parts end, the finish, or both. Of any other
 * rep it is the finish.
 */
export type Taking = (typeof TAKINGS)[number];

const partEndsOfReps = new WeakMap<RepStep, readonly number[]>();

/**
 * Where the paced parts of a rep end that has easy parts too, in the course's unit, nearest first; only at walls, for
 * nobody can see from the deck who passes a mark in the water. Empty where nothing but the finish can be timed.
 */
export function partEndsOf(sheet: Sheet, rep: RepStep): readonly number[] {
  const known = partEndsOfReps.get(rep);
  if (known) return known;
  const splits = targetsOf(sheet, rep).find(isMixed)?.splits ?? [];
  const ends = splits.filter(
    ({ paced, distance }, place) =>
      paced && splits[place + 1]?.paced !== true && distance % lengthOf(sheet.course) === 0,
  );
  const distances = ends.map(({ distance }) => distance);
  partEndsOfReps.set(rep, distances);
  return distances;
}

/** Where a rep's times are taken, nearest first; nowhere in reps of so many seconds. */
export function timedPlacesOf(sheet: Sheet, rep: RepStep, taking: Taking = 'part'): readonly number[] {
  if (rep.distance === undefined) return [];
  const ends = taking === 'finish' ? [] : partEndsOf(sheet, rep);
  if (ends.length === 0) return [rep.distance];
  return taking === 'part' || ends.includes(rep.distance) ? ends : [...ends, rep.distance];
}
