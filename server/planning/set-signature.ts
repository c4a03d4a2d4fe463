import type { Course } from '../../shared-types/pool.ts';
import type { Release, SetItem } from '../../shared-types/practice.ts';
import { formatClock } from '../../shared-types/time.ts';
import { entryFor } from './compile/per-group.ts';
import { equipmentWords } from './compile/words.ts';

/** What makes two sets the same set, swum again. */
export interface SetSignature {
  /** Reps × distance, stroke, activity, start, equipment, course. */
  readonly set: string;
  /** `@ 1:30`, `rest :20`, `on go`. */
  readonly sendOff: string;
}

/**
 * The signature of a set as a pace group swims it; its effort and notes do not count.
 * @param present the pace groups that swim the line, by name
 * @param reps how many the group swims
 */
export function signatureOf(
  set: SetItem,
  group: string,
  present: readonly string[],
  reps: number,
  course: Course,
): SetSignature {
  const size = set.size.kind === 'distance' ? String(set.size.distance) : formatClock(set.size.timeMs);
  const start = set.start === 'dive' ? 'from a dive' : 'from a push';
  const equipment = [...set.equipment].map(equipmentWords).sort();
  const what = `${reps} × ${size} ${set.stroke}${set.activity === 'swim' ? '' : ` ${set.activity}`}`;
  const words = [what, start, ...(equipment.length > 0 ? [`with ${equipment.join(' + ')}`] : []), course];
  return { set: words.join(', '), sendOff: sendOffWords(set.release, group, present) };
}

function sendOffWords(release: Release | undefined, group: string, present: readonly string[]): string {
  if (release === undefined || release.kind === 'go') return 'on go';
  if (release.kind === 'rest') return `rest ${formatClock(release.restMs)}`;
  const dropping = release.droppingMs === undefined ? '' : ` dropping ${formatClock(release.droppingMs)}`;
  return `@ ${formatClock(entryFor(release.intervalMs, group, present))}${dropping}`;
}
