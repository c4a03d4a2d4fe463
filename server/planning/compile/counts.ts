import type { Pool } from '../../../shared-types/pool.ts';
import { lengthOf } from '../../../shared-types/pool.ts';
import type { SetItem } from '../../../shared-types/practice.ts';
import { entryFor } from './per-group.ts';

/** Whether swimmers come back after each rep, so that every rep starts at the same end: dives and anchored cords. */
export const comesBack = (set: SetItem): boolean =>
  set.start === 'dive' || set.equipment.some(({ name }) => name === 'cord' || name === 'pulley');

/** Whether a rep leaves its swimmers at the other wall. A stretch that ends between the walls counts as a length. */
export function endsAtOtherWall(set: SetItem, pool: Pool): boolean {
  if (set.size.kind === 'timed' || comesBack(set)) return false;
  return Math.ceil(set.size.distance / lengthOf(pool.course)) % 2 === 1;
}

/** How many reps a pace group swims of a set. */
export function countFor(set: SetItem, group: string, present: readonly string[], pool: Pool): number {
  const written = entryFor(set.counts, group, present);
  const first = present[0];
  if (!set.finishTogether || set.release?.kind !== 'interval' || first === undefined || group === first) {
    return written;
  }
  const { intervalMs } = set.release;
  const firstCount = entryFor(set.counts, first, present);
  const ideal = (firstCount * entryFor(intervalMs, first, present)) / entryFor(intervalMs, group, present);
  return nearestCount(ideal, endsAtOtherWall(set, pool) ? firstCount % 2 : null);
}

/**
 * The whole number nearest to `ideal`, half to fewer, at least 1; with a parity, the nearest of that parity.
 * Reps that end at the other wall need the first group's parity so that all finish at the same end.
 */
export function nearestCount(ideal: number, parity: number | null): number {
  if (parity === null) return Math.max(1, Math.ceil(ideal - 0.5));
  const least = parity === 1 ? 1 : 2;
  const count = parity + 2 * Math.ceil((ideal - parity) / 2 - 0.5);
  return Math.max(least, count);
}
