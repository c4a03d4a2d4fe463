import { type Course, REFERENCE_KINDS, type ReferenceKind } from '../../../shared-types/pool.ts';
import {
  type Event,
  eventText,
  howTaken,
  type Reference,
  referenceTime,
  type Swimmer,
} from '../../../shared-types/squad.ts';
import { dateText } from '../../../shared-types/time.ts';

export const sameEvent = (a: Event, b: Event): boolean =>
  a.distance === b.distance && a.stroke === b.stroke && a.activity === b.activity;

/** Over so much the start makes no difference, in the course's unit (a convention of ours). */
const START_TELLS_BELOW = 3000;

/**
 * What a time began with where that matters. Kick, pull and drill are never raced, so that theirs are all alike; a swim
 * of which nothing is said is one from a dive.
 */
export function startOf({ event, start }: Pick<Reference, 'event' | 'start'>): 'push' | 'dive' | 'either' {
  if (event.activity !== 'swim' || event.distance >= START_TELLS_BELOW) return 'either';
  return start ?? 'dive';
}

/** Kinds of time in the order in which they are taken: the preferred one, then goal, best, test. */
const inOrder = (prefer: ReferenceKind): readonly ReferenceKind[] => [
  prefer,
  ...REFERENCE_KINDS.filter((kind) => kind !== prefer),
];

/** Which of two times of one event comes first: never one from a push; then by kind; of bests the fastest, otherwise the latest. */
export function compareReferences(a: Reference, b: Reference, prefer: ReferenceKind): number {
  const byStart = Number(startOf(a) === 'push') - Number(startOf(b) === 'push');
  if (byStart !== 0) return byStart;
  const kinds = inOrder(prefer);
  const byKind = kinds.indexOf(a.kind) - kinds.indexOf(b.kind);
  if (byKind !== 0) return byKind;
  if (a.kind === 'best') return a.timeMs - b.timeMs;
  return (b.date ?? '').localeCompare(a.date ?? '');
}

/** The time a coach means by a swimmer's event in this course; another course's time is never taken. */
export function referenceFor(swimmer: Swimmer, event: Event, course: Course, prefer: ReferenceKind): Reference | null {
  const candidates = swimmer.references.filter((ref) => ref.course === course && sameEvent(ref.event, event));
  return candidates.sort((a, b) => compareReferences(a, b, prefer))[0] ?? null;
}

/**
 * The swimmer's own swum times (bests and tests, no goals) of one stroke and activity in one course, one a distance, by
 * distance; never some from a push among others from a dive.
 */
export function swumTimes(
  swimmer: Swimmer,
  { stroke, activity }: Omit<Event, 'distance'>,
  course: Course,
  start: 'push' | 'dive' = 'dive',
): Reference[] {
  const byDistance = new Map<number, Reference>();
  for (const reference of swimmer.references) {
    const { event, kind } = reference;
    if (kind === 'goal' || reference.course !== course) continue;
    if (event.stroke !== stroke || event.activity !== activity) continue;
    if ((startOf(reference) === 'push') !== (start === 'push')) continue;
    const known = byDistance.get(event.distance);
    if (!known || compareReferences(reference, known, 'best') < 0) byDistance.set(event.distance, reference);
  }
  return [...byDistance.values()].sort((a, b) => a.event.distance - b.event.distance);
}

/** `200 free 1:58.40 SCM (best, 12 Oct 2026)`, `400 free 4:31.2 SCM (test, from a push, by hand, 12 Oct 2026)` */
export function referenceText(reference: Reference): string {
  const { event, course, kind, date } = reference;
  const said = [kind, ...howTaken(reference), ...(date === undefined ? [] : [dateText(date)])];
  return `${eventText(event)} ${referenceTime(reference)} ${course} (${said.join(', ')})`;
}
