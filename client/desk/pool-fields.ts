import {
  COURSES,
  type Course,
  courseSchema,
  PACES,
  PERCENTS,
  type Pool,
  REFERENCE_KINDS,
} from '../../shared-types/pool.ts';
import { formatClock, parseSwimTime } from '../../shared-types/time.ts';
import type { Problem } from './problem.ts';

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
});

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
  const apartMs = parseSwimTime(fields.apart.trim());
  if (apartMs === null) return { message: `“${fields.apart}” is not a time.`, fix: 'Write :05 or 5s.' };
  const minutes = fields.booked.trim() === '' ? undefined : whole(fields.booked, 1, 720);
  if (minutes === null) {
    return { message: `“${fields.booked}” minutes cannot be booked.`, fix: 'Write 1 to 720, or nothing.' };
  }
  const easy = whole(fields.easy, 30, 100);
  if (easy === null) return { message: `“${fields.easy}” % is not an easy speed.`, fix: 'Write 30 to 100.' };
  const { bookedMs: _before, ...kept } = pool;
  return {
    ...kept,
    course: courseSchema.parse(fields.course),
    lanes,
    apartMs,
    pace: PACES.find((one) => one === fields.pace) ?? pool.pace,
    percent: PERCENTS.find((one) => one === fields.percent) ?? pool.percent,
    prefer: REFERENCE_KINDS.find((one) => one === fields.prefer) ?? pool.prefer,
    easyShare: easy / 100,
    ...(minutes === undefined ? {} : { bookedMs: minutes * MINUTE_MS }),
  };
}
