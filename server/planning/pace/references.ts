import { type Course, REFERENCE_KINDS, type ReferenceKind } from '../../../shared-types/pool.ts';
import { type Event, eventText, type Reference, type Swimmer } from '../../../shared-types/squad.ts';
import { formatSwimTime } from '../../../shared-types/time.ts';

const sameEvent = (a: Event, b: Event): boolean =>
  a.distance === b.distance && a.stroke === b.stroke && a.activity === b.activity;

/** Kinds of time in the order in which they are taken: the preferred one, then goal, best, test. */
const inOrder = (prefer: ReferenceKind): readonly ReferenceKind[] => [
  prefer,
  ...REFERENCE_KINDS.filter((kind) => kind !== prefer),
];

/** Which of two times of one event comes first: by kind; of bests the fastest, otherwise the latest. */
export function compareReferences(a: Reference, b: Reference, prefer: ReferenceKind): number {
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
 * distance.
 */
export function swumTimes(
  swimmer: Swimmer,
  { stroke, activity }: Omit<Event, 'distance'>,
  course: Course,
): Reference[] {
  const byDistance = new Map<number, Reference>();
  for (const reference of swimmer.references) {
    const { event, kind } = reference;
    if (kind === 'goal' || reference.course !== course) continue;
    if (event.stroke !== stroke || event.activity !== activity) continue;
    const known = byDistance.get(event.distance);
    if (!known || compareReferences(reference, known, 'best') < 0) byDistance.set(event.distance, reference);
  }
  return [...byDistance.values()].sort((a, b) => a.event.distance - b.event.distance);
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** `12 Oct 2026` of an ISO date. */
export function dateText(iso: string): string {
  const [year, month, day] = iso.split('-').map(Number);
  return `${day} ${MONTHS[(month ?? 1) - 1]} ${year}`;
}

/** `200 free 1:58.40 SCM (best, 12 Oct 2026)` */
export function referenceText(reference: Reference): string {
  const when = reference.date === undefined ? '' : `, ${dateText(reference.date)}`;
  const time = formatSwimTime(reference.timeMs, 2);
  return `${eventText(reference.event)} ${time} ${reference.course} (${reference.kind}${when})`;
}
