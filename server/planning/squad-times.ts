import { z } from 'zod';
import { type Ms, ms } from '../../shared-types/brand.ts';
import { COURSES, type Course, inMetres, REFERENCE_KINDS } from '../../shared-types/pool.ts';
import { type Event, parseEvent, type Reference, type SetMean } from '../../shared-types/squad.ts';
import { formatSwimTime, readTypedTime } from '../../shared-types/time.ts';
import { type SetSignature, signatureOf } from './set-signature.ts';
import { parsePractice } from './shorthand/parse.ts';

/** The columns of a time: a reference, or the mean of a set. */
export const TIME_COLUMNS = ['event', 'course', 'time', 'kind', 'date', 'half', 'splits', 'start', 'hand'] as const;
type TimeColumn = (typeof TIME_COLUMNS)[number];

/** What a row says in a column; empty where it says nothing. */
type Cells = (column: TimeColumn) => string;

/** What is wrong with one cell. */
export interface Slip {
  readonly column: TimeColumn;
  readonly text: string;
  readonly fix?: string;
}

export interface TimeRow {
  readonly reference?: Reference;
  readonly mean?: SetMean;
  readonly slips: readonly Slip[];
}

/** A swim time as people type it, also with the thousandths of an exported mean. */
function readTime(text: string): Ms | null {
  const [, hundredths = text, thousandth = '0'] = /^(.+[.,]\d\d)(\d)$/.exec(text) ?? [];
  const time = readTypedTime(hundredths);
  return time === null ? null : ms(time + Number(thousandth));
}

const notA = (cell: Cells, column: TimeColumn, what: string, fix?: string): Slip => ({
  column,
  text: `"${cell(column)}" is not ${what}`,
  ...(fix === undefined ? {} : { fix }),
});

/**
 * Reads the cells of one time: a reference (`200 free`, best, goal or test) or the mean of a set (`12 x 50 free @ 1:30`,
 * kind `mean`). Nothing is returned with slips.
 * @param name whose time it is, for the messages
 */
export function readTimeRow(cell: Cells, name: string): TimeRow {
  const course = COURSES.find((known) => known === cell('course').toUpperCase());
  const time = readTime(cell('time'));
  const date = z.iso.date().safeParse(cell('date'));
  const slips: Slip[] = [];
  if (!course) slips.push(notA(cell, 'course', `a course (${COURSES.join(', ')})`));
  if (time === null || time === 0) slips.push(notA(cell, 'time', 'a swim time', 'write it like 1:58.40'));
  if (cell('date') !== '' && !date.success) {
    slips.push(notA(cell, 'date', 'a date', 'write it like 2026-10-12'));
  }
  const common: Common = { course, time, ...(date.success ? { date: date.data } : {}) };
  const isMean = cell('kind').toLowerCase() === 'mean';
  const row = isMean ? readMean(cell, common) : readReference(cell, common, name);
  const all = [...slips, ...row.slips];
  const inOrder = all.sort((a, b) => TIME_COLUMNS.indexOf(a.column) - TIME_COLUMNS.indexOf(b.column));
  return all.length > 0 ? { slips: inOrder } : row;
}

/** What is known of how a time was taken; an export writes it. */
function readTaken(cell: Cells): { taken: Pick<Reference, 'start' | 'handTimed'>; slips: Slip[] } {
  const start = (['push', 'dive'] as const).find((known) => known === cell('start').toLowerCase());
  const isByHand = cell('hand').toLowerCase() === 'yes';
  const slips: Slip[] = [];
  if (cell('start') !== '' && !start) slips.push(notA(cell, 'start', 'a start (push or dive)'));
  if (cell('hand') !== '' && !isByHand)
    slips.push(notA(cell, 'hand', 'yes', 'leave it empty for times not taken by hand'));
  return { taken: { ...(start ? { start } : {}), ...(isByHand ? { handTimed: true } : {}) }, slips };
}

interface Common {
  readonly course: Course | undefined;
  readonly time: Ms | null;
  readonly date?: string;
}

/** `12 × 50 free, from a push, SCM; @ 1:30`: a mean as an export writes it. */
function readSignature(written: string): SetSignature | null {
  const match = /^(\d+ × .+, from a (?:push|dive)(?:, .+)?); (@ .+|rest .+|on go)$/.exec(written);
  return match?.[1] && match[2] ? { set: match[1], sendOff: match[2] } : null;
}

/** A mean is of one set line, as it stands in a practice. */
function readMean(cell: Cells, { course, time, date }: Common): TimeRow {
  const exported = readSignature(cell('event'));
  if (exported && time !== null) {
    const { taken, slips } = readTaken(cell);
    const byHand = taken.handTimed ? { handTimed: taken.handTimed } : {};
    return { mean: { ...exported, meanMs: time, ...(date === undefined ? {} : { date }), ...byHand }, slips };
  }
  const { practice } = parsePractice(cell('event'));
  const items = practice?.sections.flatMap((section) => section.items) ?? [];
  const [set, more] = items;
  if (set?.kind !== 'set' || more || set.counts.length > 1) {
    return { slips: [notA(cell, 'event', 'a set', 'write it like 12 x 50 free @ 1:30')] };
  }
  if (!course || time === null) return { slips: [] };
  const signature = signatureOf(set, 'A', ['A'], set.counts[0], course);
  return { mean: { ...signature, meanMs: time, ...(date === undefined ? {} : { date }) }, slips: [] };
}

function readReference(cell: Cells, { course, time, date }: Common, name: string): TimeRow {
  const slips: Slip[] = [];
  const event = parseEvent(cell('event'));
  if (!event) slips.push(notA(cell, 'event', 'an event', 'write it like 200 free or 100 free kick'));
  const written = cell('kind').toLowerCase() || 'best';
  const kind = REFERENCE_KINDS.find((known) => known === written);
  if (!kind) slips.push(notA(cell, 'kind', 'a kind of time (best, goal, test, or mean for a set)'));
  if (!event || !course || !time) return { slips };
  const reference: Reference = {
    event,
    course,
    timeMs: time,
    kind: kind ?? 'best',
    ...(date === undefined ? {} : { date }),
  };
  const halves = readHalf(cell, reference, name);
  const splits = readSplits(cell, reference, name);
  const { taken, slips: takenSlips } = readTaken(cell);
  slips.push(...speedSlips(reference), ...halves.slips, ...splits.slips, ...takenSlips);
  const whole: Reference = { ...reference, ...halves.value, ...splits.value, ...taken };
  if (slips.length === 0) slips.push(...halfAgainstSplits(whole, name));
  return { reference: whole, slips };
}

/** A half split and an even number of splits must say the same. */
function halfAgainstSplits({ halfMs, splitsMs }: Reference, name: string): Slip[] {
  if (halfMs === undefined || !splitsMs || splitsMs.length % 2 !== 0) return [];
  const half = splitsMs.slice(0, splitsMs.length / 2).reduce((total, split) => total + split, 0);
  if (half === halfMs) return [];
  const text = `the half split ${formatSwimTime(halfMs, 2)} of ${name} is not the ${formatSwimTime(half, 2)} of the splits`;
  return [{ column: 'half', text, fix: 'leave the half split out, or mend one of them' }];
}

interface Field<T> {
  readonly value: T;
  readonly slips: readonly Slip[];
}

function readHalf(cell: Cells, { timeMs }: Reference, name: string): Field<Pick<Reference, 'halfMs'>> {
  if (cell('half') === '') return { value: {}, slips: [] };
  const halfMs = readTime(cell('half'));
  if (halfMs === null) return { value: {}, slips: [notA(cell, 'half', 'a swim time', 'write it like 57.90')] };
  if (halfMs < timeMs) return { value: { halfMs }, slips: [] };
  const text = `the half split ${formatSwimTime(halfMs, 2)} of ${name} is not less than the time ${formatSwimTime(timeMs, 2)}`;
  return { value: {}, slips: [{ column: 'half', text, fix: 'write the split at half the distance' }] };
}

/** Splits of equal shares of the distance, `24.89 28.59 33.03 27.49`: they must add up to the time. */
function readSplits(cell: Cells, reference: Reference, name: string): Field<Pick<Reference, 'splitsMs'>> {
  const written = cell('splits')
    .split(/[\s/|]+/)
    .filter(Boolean);
  if (written.length === 0) return { value: {}, slips: [] };
  const refused = (text: string, fix: string) => ({ value: {}, slips: [{ column: 'splits' as const, text, fix }] });
  const splitsMs = written.flatMap((text) => readTime(text) ?? []);
  const { event, timeMs } = reference;
  if (splitsMs.length < written.length || splitsMs.some((split) => split === 0)) {
    return refused(`"${cell('splits')}" are not split times`, 'write them like 28.10 30.25 30.90 30.75');
  }
  if (splitsMs.length < 2 || event.distance % (25 * splitsMs.length) !== 0) {
    const text = `${splitsMs.length} splits do not divide ${event.distance} into equal lengths`;
    return refused(text, 'write one for each 50, or one for each quarter');
  }
  const sum = ms(splitsMs.reduce((total, split) => total + split, 0));
  if (sum === timeMs) return { value: { splitsMs }, slips: [] };
  const text = `the splits of ${name} add up to ${formatSwimTime(sum, 2)}, the time is ${formatSwimTime(timeMs, 2)}`;
  return refused(text, 'look them up again: one of them is wrong');
}

/** Speeds nobody swims at, m/s: the fastest 50 is at about 2.4 (from memory), and a slow kick at about 0.4. */
const SPEEDS = { least: 0.2, most: 2.6 } as const;

function speedSlips({ event, course, timeMs }: { event: Event; course: Course; timeMs: number }): Slip[] {
  const speed = (inMetres(event.distance, course) * 1000) / timeMs;
  if (speed >= SPEEDS.least && speed <= SPEEDS.most) return [];
  const how = speed < SPEEDS.least ? 'slower' : 'faster';
  const text = `${formatSwimTime(timeMs, 2)} over ${event.distance} is ${how} than anybody swims`;
  return [{ column: 'time', text, fix: 'write minutes, seconds and hundredths like 2:21.00' }];
}
