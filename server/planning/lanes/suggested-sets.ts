import { type Ms, ms } from '../../../shared-types/brand.ts';
import { type Sheet, targetsOf } from '../../../shared-types/sheet.ts';
import { suggestSendOffs } from './suggest-send-offs.ts';

/** The send-offs a set could have. */
export interface SuggestedSet {
  /** Index into the sheet's sets. */
  readonly set: number;
  /** By pace group, A first; groups of which nobody has a target are not in it. */
  readonly byGroup: readonly { readonly group: string; readonly cycleMs: Ms }[];
}

/** By set and pace group the slowest whole target, ms. */
type Slowest = ReadonlyMap<number, ReadonlyMap<string, number>>;

/** What the rests that everybody is to have are counted from: worked out once, however many rests are asked for. */
export function slowestTargets(sheet: Sheet): Slowest {
  const slowest = new Map<number, Map<string, number>>();
  for (const { group, steps } of sheet.lanes) {
    for (const step of steps) {
      if (step.kind !== 'rep') continue;
      const times = targetsOf(sheet, step).flatMap(({ ms: whole }) => whole ?? []);
      if (times.length === 0) continue;
      const groups = slowest.get(step.set) ?? new Map<string, number>();
      groups.set(group, Math.max(groups.get(group) ?? 0, ...times));
      slowest.set(step.set, groups);
    }
  }
  return slowest;
}

/**
 * For every set with targets the shortest send-offs, multiples of :05, that leave everybody of a pace group at least so
 * much rest.
 */
export const suggestedSets = (sheet: Sheet, restMs: number): SuggestedSet[] =>
  suggestedFor(slowestTargets(sheet), restMs);

/** The same of the slowest targets. */
export function suggestedFor(slowest: Slowest, restMs: number): SuggestedSet[] {
  return [...slowest]
    .sort(([a], [b]) => a - b)
    .map(([set, own]) => ({
      set,
      byGroup: [...suggestSendOffs(own, restMs)]
        .sort(([a], [b]) => a.localeCompare(b))
        .map(([group, cycleMs]) => ({ group, cycleMs: ms(cycleMs) })),
    }));
}
