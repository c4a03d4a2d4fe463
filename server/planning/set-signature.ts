import type { Course } from '../../shared-types/pool.ts';
import type { Release, SetItem } from '../../shared-types/practice.ts';
import type { Activity } from '../../shared-types/squad.ts';
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
  const words = signatureWords({
    reps: String(reps),
    size: set.size.kind === 'distance' ? String(set.size.distance) : formatClock(set.size.timeMs),
    stroke: set.stroke,
    activity: set.activity,
    start: set.start,
    equipment: set.equipment.map(equipmentWords),
    course,
  });
  return { set: words, sendOff: sendOffWords(set.release, group, present) };
}

/** What a set is known again by, each in words. */
export interface SignatureParts {
  readonly reps: string;
  /** The distance, or how long a timed rep lasts. */
  readonly size: string;
  readonly stroke: string;
  readonly activity: Activity;
  readonly start: 'push' | 'dive';
  readonly equipment: readonly string[];
  readonly course: Course;
}

/** `12 × 50 free kick, from a push, with board, SCM`; in whichever order the equipment is written. */
export function signatureWords({ reps, size, stroke, activity, start, equipment, course }: SignatureParts): string {
  const what = `${reps} × ${size} ${stroke}${activity === 'swim' ? '' : ` ${activity}`}`;
  const from = start === 'dive' ? 'from a dive' : 'from a push';
  const having = equipment.length > 0 ? [`with ${[...equipment].sort().join(' + ')}`] : [];
  return [what, from, ...having, course].join(', ');
}

function sendOffWords(release: Release | undefined, group: string, present: readonly string[]): string {
  if (release === undefined || release.kind === 'go') return 'on go';
  if (release.kind === 'rest') return `rest ${formatClock(release.restMs)}`;
  const dropping = release.droppingMs === undefined ? '' : ` dropping ${formatClock(release.droppingMs)}`;
  return `@ ${formatClock(entryFor(release.intervalMs, group, present))}${dropping}`;
}
