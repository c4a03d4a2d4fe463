import {
  COURSES,
  type Course,
  courseSchema,
  DEFAULT_TOLERANCE_MS_PER_50,
  PACES,
  PERCENTS,
  type Pool,
  REFERENCE_KINDS,
} from '../../shared-types/pool.ts';
import { formatClock, readTypedTime } from '../../shared-types/time.ts';
import type { Problem } from './problem.ts';
import { decimalFrom, rigFieldsOf, rigFrom } from './rig-fields.ts';

/** The pool's settings as the form's fields hold them. */
export interface PoolFields {
  readonly course: string;
  readonly lanes: string;
  readonly apart: string;
  readonly booked: string;
  readonly pace: string;
  readonly percent: string;
  readonly prefer: string;
  readonly easy: string;
  readonly tolerance: string;
  readonly ratio: string;
  readonly stackHeight: string;
  readonly timedOver: string;
}

interface Choice {
  readonly kind: 'choice';
  readonly name: keyof PoolFields;
  readonly label: string;
  readonly options: readonly { readonly value: string; readonly words: string }[];
}

interface Written {
  readonly kind: 'written';
  readonly name: keyof PoolFields;
  readonly label: string;
  readonly numeric: boolean;
}

function choice<T extends string>(
  name: keyof PoolFields,
  label: string,
  values: readonly T[],
  words: Readonly<Record<T, string>>,
): Choice {
  return { kind: 'choice', name, label, options: values.map((value) => ({ value, words: words[value] })) };
}

const COURSE_WORDS: Readonly<Record<Course, string>> = {
  SCY: 'Short course, 25 yards',
  SCM: 'Short course, 25 metres',
  LCM: 'Long course, 50 metres',
};

/** The fields in the order of the form. */
export const POOL_FORM: readonly (Choice | Written)[] = [
  choice('course', 'Course', COURSES, COURSE_WORDS),
  { kind: 'written', name: 'lanes', label: 'Lanes', numeric: true },
  { kind: 'written', name: 'apart', label: 'Gap between swimmers', numeric: false },
  { kind: 'written', name: 'booked', label: 'Booked for, minutes', numeric: true },
  choice('pace', 'Race pace', PACES, { even: 'Even, as a whole race', 'without-dive': 'Without the dive' }),
  choice('percent', '90 % means', PERCENTS, { speed: '90 % of the speed', time: '10 % more time' }),
  choice('prefer', 'Times that count first', REFERENCE_KINDS, { goal: 'Goals', best: 'Bests', test: 'Tests' }),
  { kind: 'written', name: 'easy', label: 'Easy, % of 200 pace', numeric: true },
  { kind: 'written', name: 'tolerance', label: 'Held within, s a 50', numeric: false },
  { kind: 'written', name: 'ratio', label: 'Pulley: rope out for 1 m up', numeric: false },
  { kind: 'written', name: 'stackHeight', label: 'Its stack goes up, m', numeric: false },
  { kind: 'written', name: 'timedOver', label: 'It is timed over, m or yd', numeric: false },
];

const MINUTE_MS = 60_000;

export const fieldsOf = (pool: Pool): PoolFields => ({
  course: pool.course,
  lanes: String(pool.lanes),
  apart: formatClock(pool.apartMs),
  booked: pool.bookedMs === undefined ? '' : String(Math.round(pool.bookedMs / MINUTE_MS)),
  pace: pool.pace,
  percent: pool.percent,
  prefer: pool.prefer,
  easy: String(Math.round(pool.easyShare * 100)),
  tolerance: toleranceText(pool.toleranceMsPer50 ?? DEFAULT_TOLERANCE_MS_PER_50),
  ...rigFieldsOf(pool.rig),
});

/** Seconds with a decimal at least: `0.3`, `0.25`. */
export const toleranceText = (ms: number): string => (ms % 100 === 0 ? (ms / 1000).toFixed(1) : String(ms / 1000));

/** Seconds as written, in milliseconds; null when they are no tolerance. */
function toleranceFrom(written: string): number | null {
  const seconds = decimalFrom(written, { least: 0, most: 5 });
  return seconds === null ? null : Math.round(seconds * 1000);
}

const whole = (text: string, least: number, most: number): number | null => {
  const value = Number(text);
  return text.trim() !== '' && Number.isInteger(value) && value >= least && value <= most ? value : null;
};

/** The pool as the fields say it, or the first thing that cannot be read. */
export function poolFrom(fields: PoolFields, pool: Pool): Pool | Problem {
  const lanes = whole(fields.lanes, 1, 12);
  if (lanes === null) {
    return { message: `“${fields.lanes}” lanes cannot be used.`, fix: 'Write a whole number from 1 to 12.' };
  }
  const apartMs = readTypedTime(fields.apart);
  if (apartMs === null) return { message: `“${fields.apart}” is not a time.`, fix: 'Write :05 or 5s.' };
  const minutes = fields.booked.trim() === '' ? undefined : whole(fields.booked, 1, 720);
  if (minutes === null) {
    return { message: `“${fields.booked}” minutes cannot be booked.`, fix: 'Write 1 to 720, or nothing.' };
  }
  const easy = whole(fields.easy, 30, 100);
  if (easy === null) return { message: `“${fields.easy}” % is not an easy speed.`, fix: 'Write 30 to 100.' };
  const toleranceMsPer50 = toleranceFrom(fields.tolerance);
  if (toleranceMsPer50 === null) {
    return { message: `“${fields.tolerance}” s a 50 cannot be used.`, fix: 'Write 0 to 5 seconds, like 0.3.' };
  }
  const course = courseSchema.parse(fields.course);
  const rig = rigFrom(fields, course);
  if ('message' in rig) return rig;
  const { bookedMs: _before, rig: _rig, ...kept } = pool;
  return {
    ...kept,
    course,
    lanes,
    apartMs,
    pace: PACES.find((one) => one === fields.pace) ?? pool.pace,
    percent: PERCENTS.find((one) => one === fields.percent) ?? pool.percent,
    prefer: REFERENCE_KINDS.find((one) => one === fields.prefer) ?? pool.prefer,
    easyShare: easy / 100,
    toleranceMsPer50,
    ...(Object.keys(rig).length > 0 ? { rig } : {}),
    ...(minutes === undefined ? {} : { bookedMs: minutes * MINUTE_MS }),
  };
}
