import { COURSES, type Course, type Pool } from '../../../shared-types/pool.ts';
import type { Event, Reference, Swimmer } from '../../../shared-types/squad.ts';
import { eventText } from '../../../shared-types/squad.ts';
import { formatSwimTime } from '../../../shared-types/time.ts';
import { type Conversion, conversionFrom, conversionText, convertTime, needsCategory } from './convert.ts';
import type { NoPace } from './paced.ts';
import { lawFor, timeByLaw } from './power-law.ts';
import { compareReferences, referenceFor, referenceText, swumTimes } from './references.ts';

/** A swimmer's time for a whole event in a course, and where it comes from. */
export interface EventTime {
  readonly event: Event;
  readonly course: Course;
  readonly timeMs: number;
  /** `200 free 1:58.40 SCM (best, 12 Oct 2026)` */
  readonly basis: string;
  /** What makes it an estimate, as `converted from LCM`; null for the swimmer's own time. */
  readonly estimate: string | null;
  /** Splits of the swimmer's own, where the time is their own: of half the distance, and of equal shares of it. */
  readonly halfMs?: number;
  readonly splitsMs?: readonly number[];
}

/**
 * The time a swimmer is held to have for an event in the pool's course: their own there, else one of theirs in another
 * course by the published factors, else by the power law through two of their own in the same course and stroke.
 */
export function eventTime(swimmer: Swimmer, event: Event, pool: Pool): EventTime | NoPace {
  const own = referenceFor(swimmer, event, pool.course, pool.prefer);
  if (own) return ownTime(own, pool.course);
  const converted = convertedTime(swimmer, event, pool);
  if (converted && 'timeMs' in converted) return converted;
  return (
    estimatedTime(swimmer, event, pool) ?? converted ?? { missing: `no ${eventText(event)} time (${pool.course})` }
  );
}

export const isEventTime = (result: EventTime | NoPace): result is EventTime => 'timeMs' in result;

function ownTime(reference: Reference, course: Course): EventTime {
  const { event, timeMs, halfMs, splitsMs } = reference;
  return {
    event,
    course,
    timeMs,
    basis: referenceText(reference),
    estimate: null,
    ...(halfMs === undefined ? {} : { halfMs }),
    ...(splitsMs === undefined ? {} : { splitsMs }),
  };
}

interface Source {
  readonly reference: Reference;
  readonly conversion: Conversion;
}

/** A race of another course by the published factors. Kick, pull and drill have none. */
function convertedTime(swimmer: Swimmer, event: Event, pool: Pool): EventTime | NoPace | null {
  if (event.activity !== 'swim') return null;
  const sources = COURSES.flatMap((course): Source[] => {
    const conversion = conversionFrom(course, { ...event, course: pool.course });
    const reference = conversion && referenceFor(swimmer, { ...event, ...conversion.from }, course, pool.prefer);
    return conversion && reference ? [{ conversion, reference }] : [];
  });
  const usable = sources.filter(({ conversion }) => swimmer.category !== undefined || !needsCategory(conversion));
  const [source] = usable.sort((a, b) => bySource(a, b, pool));
  if (source) return byFactors(source, event, swimmer, pool);
  const [other] = sources;
  if (!other) return null;
  const from = `${eventText(other.reference.event)} (${other.reference.course})`;
  return { missing: `no ${eventText(event)} time (${pool.course}), and no category to convert the ${from} with` };
}

/** By kind of time first, then the way with fewer factors. */
function bySource(a: Source, b: Source, { prefer }: Pool): number {
  const sameKind = a.reference.kind === b.reference.kind;
  const byKind = sameKind ? 0 : compareReferences(a.reference, b.reference, prefer);
  return byKind || a.conversion.factors.length - b.conversion.factors.length;
}

function byFactors({ reference, conversion }: Source, event: Event, swimmer: Swimmer, { course }: Pool): EventTime {
  const timeMs = convertTime(conversion, reference.timeMs, swimmer.category);
  const shown = `${eventText(event)} ${formatSwimTime(timeMs, 2)} ${course}`;
  return {
    event,
    course,
    timeMs,
    basis: `${shown} from ${referenceText(reference)} by ${conversionText(conversion)}`,
    estimate: `converted from ${reference.course}`,
  };
}

/** Between the swimmer's own two times of the stroke and course nearest to the distance; never from a single one. */
function estimatedTime(swimmer: Swimmer, event: Event, { course }: Pool): EventTime | null {
  const swum = swumTimes(swimmer, event, course);
  const law = lawFor(
    swum.map(({ event: { distance }, timeMs }) => ({ distance, timeMs })),
    event.distance,
  );
  if (!law) return null;
  const used = swum.filter(({ event: { distance } }) => [law.shorter.distance, law.longer.distance].includes(distance));
  const timeMs = timeByLaw(law, event.distance);
  const shown = `${eventText(event)} ${formatSwimTime(timeMs, 2)}`;
  const from = used.map(referenceText).join(' and ');
  return {
    event,
    course,
    timeMs,
    basis: `${shown} by t = a·D^${law.exponent.toFixed(3)} through ${from}`,
    estimate: `from ${used.map((reference) => eventText(reference.event)).join(' and ')}`,
  };
}
