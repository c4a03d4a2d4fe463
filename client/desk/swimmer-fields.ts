import { type Ms, ms } from '../../shared-types/brand.ts';
import { COURSES, type Course, courseSchema, REFERENCE_KINDS, referenceKindSchema } from '../../shared-types/pool.ts';
import { type Event, eventText, parseEvent, type Reference, type Swimmer } from '../../shared-types/squad.ts';
import { formatSwimTime, readTypedTime } from '../../shared-types/time.ts';
import type { Problem } from './problem.ts';

/** What is typed about a swimmer, read and written. Pure. */

export interface OwnFields {
  readonly name: string;
  readonly short: string;
  readonly group: string;
  readonly category: string;
  readonly main: string;
}

export interface TimeFields {
  readonly event: string;
  readonly course: Course;
  readonly time: string;
  readonly kind: Reference['kind'];
  /** YYYY-MM-DD, or nothing. */
  readonly date: string;
  /** Nothing: not said. */
  readonly start: string;
  readonly byHand: boolean;
}

export const LONGEST = { name: 60, short: 20 } as const;

export const TIME_CHOICES = { course: COURSES, kind: REFERENCE_KINDS } as const;

export const ownFieldsOf = ({ name, short, group, category, main }: Swimmer): OwnFields => ({
  name,
  short: short ?? '',
  group: group ?? '',
  category: category ?? '',
  main: main ? eventText(main) : '',
});

export const isProblem = (read: object): read is Problem => 'message' in read;

/** The swimmer as the fields say, all else as before; or the first field that cannot be read. */
export function withOwn(swimmer: Swimmer, fields: OwnFields): Swimmer | Problem {
  const [name, short, group] = [fields.name.trim(), fields.short.trim(), fields.group.trim()];
  const main = fields.main.trim() === '' ? null : parseEvent(fields.main);
  if (name === '') return { message: 'A swimmer needs a name.' };
  if (name.length > LONGEST.name) return tooLong('name', LONGEST.name);
  if (short.length > LONGEST.short) return tooLong('short name', LONGEST.short);
  if (!/^[a-z]?$/i.test(group))
    return { message: `“${group}” is not a pace group.`, fix: 'Write one letter, A the fastest.' };
  if (fields.main.trim() !== '' && !main) return notAnEvent(fields.main);
  const { short: _, group: _group, category: _category, main: _main, ...rest } = swimmer;
  return {
    ...rest,
    name,
    ...(short === '' ? {} : { short }),
    ...(group === '' ? {} : { group: group.toUpperCase() }),
    ...(fields.category === 'women' || fields.category === 'men' ? { category: fields.category } : {}),
    ...(main ? { main } : {}),
  };
}

const tooLong = (what: string, most: number): Problem => ({
  message: `The ${what} is longer than ${most} letters.`,
  fix: 'Shorten it.',
});

const notAnEvent = (written: string): Problem => ({
  message: `“${written.trim()}” is not an event.`,
  fix: 'Write it like 200 free or 100 free kick.',
});

export const noTime = (course: Course): TimeFields => ({
  event: '',
  course,
  time: '',
  kind: 'best',
  date: '',
  start: '',
  byHand: false,
});

export const timeFieldsOf = ({ event, course, timeMs, kind, date, start, handTimed }: Reference): TimeFields => ({
  event: eventText(event),
  course,
  time: formatSwimTime(timeMs, 2),
  kind,
  date: date ?? '',
  start: start ?? '',
  byHand: handTimed ?? false,
});

/**
 * The time as the fields say, or the first field that cannot be read.
 * @param before the time that is changed, whose splits stay while event and time do; null: it is new
 */
export function timeFrom(fields: TimeFields, before: Reference | null): Reference | Problem {
  const event = parseEvent(fields.event);
  const typed = readTypedTime(fields.time);
  if (!event) return notAnEvent(fields.event);
  if (typed === null || typed === 0) {
    return { message: `“${fields.time.trim()}” is not a swim time.`, fix: 'Write it like 1:58.40 or 58.4.' };
  }
  // The fields show hundredths; a time that was worked out may have thousandths.
  const isAsShown = before !== null && formatSwimTime(before.timeMs, 2) === formatSwimTime(typed, 2);
  const timeMs = isAsShown ? before.timeMs : typed;
  return {
    event,
    course: fields.course,
    timeMs,
    kind: fields.kind,
    ...(fields.date === '' ? {} : { date: fields.date }),
    ...(before ? splitsOf(before, event, timeMs) : {}),
    ...(fields.start === 'push' || fields.start === 'dive' ? { start: fields.start } : {}),
    ...(fields.byHand ? { handTimed: true as const } : {}),
  };
}

/** Splits add up to the time and halves are of the distance, so they go with both. */
function splitsOf(
  { event: of, timeMs: whole, halfMs, splitsMs }: Reference,
  event: Event,
  timeMs: Ms,
): Partial<Reference> {
  if (eventText(of) !== eventText(event) || whole !== timeMs) return {};
  return {
    ...(halfMs === undefined ? {} : { halfMs: ms(halfMs) }),
    ...(splitsMs === undefined ? {} : { splitsMs }),
  };
}

export const courseNamed = (name: string): Course => courseSchema.parse(name);
export const kindNamed = (name: string): Reference['kind'] => referenceKindSchema.parse(name);

/** `half 57.02`, `splits 28.10, 30.25`; nothing where there are none. */
export function splitWords({ halfMs, splitsMs }: Reference): string {
  if (splitsMs) return `splits ${splitsMs.map((one) => formatSwimTime(one, 2)).join(', ')}`;
  return halfMs === undefined ? '' : `half ${formatSwimTime(halfMs, 2)}`;
}

const isSame = (a: Reference, b: Reference): boolean => JSON.stringify(a) === JSON.stringify(b);

/** @returns null when the swimmer has that time already */
export function withTime(swimmer: Swimmer, time: Reference, before: Reference | null): Swimmer | null {
  const others = swimmer.references.filter((one) => one !== before);
  if (others.some((one) => isSame(one, time))) return null;
  const references = before ? swimmer.references.map((one) => (one === before ? time : one)) : [...others, time];
  return { ...swimmer, references };
}

export const withoutTime = (swimmer: Swimmer, time: Reference): Swimmer => ({
  ...swimmer,
  references: swimmer.references.filter((one) => one !== time),
});

export function withoutMean(swimmer: Swimmer, mean: NonNullable<Swimmer['means']>[number]): Swimmer {
  const { means = [], ...rest } = swimmer;
  const others = means.filter((one) => one !== mean);
  return { ...rest, ...(others.length > 0 ? { means: others } : {}) };
}
