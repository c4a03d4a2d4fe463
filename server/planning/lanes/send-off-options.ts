import type { Sheet } from '../../../shared-types/sheet.ts';
import { formatClock } from '../../../shared-types/time.ts';
import type { SendOffOption } from '../../../shared-types/wire/desk.ts';
import { slowestTargets, suggestedFor } from './suggested-sets.ts';

/** Rests that are offered to choose from, ms. */
const RESTS_MS = [5, 10, 15, 20, 30, 45, 60].map((seconds) => seconds * 1000);

/**
 * For every line with targets for all pace groups that swim it, what to write after the @ so that everybody has at least
 * so much rest: `1:10`, for groups that need others `1:10/1:15`. The same for several rests is offered once, with the
 * longest of them.
 */
export function sendOffOptions(sheet: Sheet): SendOffOption[] {
  const groups = groupsBySet(sheet);
  const slowest = slowestTargets(sheet);
  const options = new Map<string, SendOffOption>();
  for (const restMs of RESTS_MS) {
    for (const { set, byGroup } of suggestedFor(slowest, restMs)) {
      const line = sheet.sets[set]?.line;
      if (line === undefined || byGroup.length < (groups.get(set)?.size ?? 0)) continue;
      const cycles = byGroup.map(({ cycleMs }) => formatClock(cycleMs));
      const sendOffs = new Set(cycles).size === 1 ? (cycles[0] ?? '') : cycles.join('/');
      options.set(`${line} ${sendOffs}`, { line, sendOffs, restMs });
    }
  }
  return [...options.values()];
}

function groupsBySet({ lanes }: Sheet): Map<number, Set<string>> {
  const groups = new Map<number, Set<string>>();
  for (const { group, steps } of lanes) {
    for (const step of steps) {
      if (step.kind === 'rep') groups.set(step.set, (groups.get(step.set) ?? new Set()).add(group));
    }
  }
  return groups;
}
