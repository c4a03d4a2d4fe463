import type { Course } from '../../../shared-types/pool.ts';
import { type Event, eventText, type Reference, type Swimmer } from '../../../shared-types/squad.ts';
import { formatSwimTime } from '../../../shared-types/time.ts';

const KIND_RANK: Readonly<Record<Reference['kind'], number>> = { goal: 0, best: 1, test: 2 };

const sameEvent = (a: Event, b: Event): boolean =>
  a.distance === b.distance && a.stroke === b.stroke && a.activity === b.activity;

/**
 * The time a coach means by a swimmer's event: a goal before a best before a test; of several of one kind the fastest
 * best, otherwise the latest. Another course's time is never taken.
 */
export function referenceFor(swimmer: Swimmer, event: Event, course: Course): Reference | null {
  const candidates = swimmer.references.filter((ref) => ref.course === course && sameEvent(ref.event, event));
  const ranked = [...candidates].sort((a, b) => {
    const byKind = KIND_RANK[a.kind] - KIND_RANK[b.kind];
    if (byKind !== 0) return byKind;
    if (a.kind === 'best') return a.timeMs - b.timeMs;
    return (b.date ?? '').localeCompare(a.date ?? '');
  });
  return ranked[0] ?? null;
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

function dateText(iso: string): string {
  const [year, month, day] = iso.split('-').map(Number);
  return `${day} ${MONTHS[(month ?? 1) - 1]} ${year}`;
}

/** `200 free 1:58.40 SCM (best, 12 Oct 2026)` */
export function referenceText(reference: Reference): string {
  const when = reference.date === undefined ? '' : `, ${dateText(reference.date)}`;
  const time = formatSwimTime(reference.timeMs, 2);
  return `${eventText(reference.event)} ${time} ${reference.course} (${reference.kind}${when})`;
}
