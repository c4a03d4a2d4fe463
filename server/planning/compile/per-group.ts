import type { PerGroup } from '../../../shared-types/practice.ts';

/** Pace groups are single letters, A the first. */
const placeOfGroup = (group: string): number => group.charCodeAt(0) - 'A'.charCodeAt(0);

/**
 * Which entry of a slash list is a pace group's. One entry is for all; as many entries as groups present go to them
 * in order; more go by name, A first.
 * @param present the groups that swim the line, by name
 * @returns the index, or null when the list is too short for the groups present
 */
export function placeInList(length: number, group: string, present: readonly string[]): number | null {
  if (length === 1) return 0;
  if (length === present.length) return present.indexOf(group);
  const byName = placeOfGroup(group);
  return length > present.length && byName < length ? byName : null;
}

/** The group's entry of a slash list whose length has been checked; the last one when it is too short. */
export function entryFor<T>(list: PerGroup<T>, group: string, present: readonly string[]): T {
  const place = placeInList(list.length, group, present);
  return list[place ?? list.length - 1] ?? list[0];
}
