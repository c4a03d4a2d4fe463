import { COURSES, DEFAULT_POOL, PACES, PERCENTS, type Pool, REFERENCE_KINDS } from '../shared-types/pool.ts';
import { LIMITS } from '../shared-types/practice.ts';
import { parseClock } from '../shared-types/time.ts';
import { CommandError, wholeNumber } from './command-line.ts';

/** The pool's settings as flags of a command. */

export const POOL_OPTIONS = {
  course: { type: 'string' },
  lanes: { type: 'string' },
  apart: { type: 'string' },
  percent: { type: 'string' },
  pace: { type: 'string' },
  prefer: { type: 'string' },
  minutes: { type: 'string' },
} as const;

export const POOL_USAGE = `  --course C      SCY, SCM or LCM (SCM)
  --lanes N       lanes in the pool, 1 to ${LIMITS.lanes} (6)
  --apart T       gap between swimmers of a lane (:05)
  --percent P     what 90 % means: of speed or of time (speed)
  --pace P        race pace from a push: even, or without-dive (even)
  --prefer K      which of several times of an event: goal, best or test (goal)
  --minutes N     how long the pool is booked: a warning where a lane runs out of it`;

type PoolValues = { readonly [name in keyof typeof POOL_OPTIONS]?: string | undefined };

/** The default pool with what the flags say. @throws CommandError */
export function poolOf({ course, lanes, apart, percent, pace, prefer, minutes }: PoolValues): Pool {
  return {
    ...DEFAULT_POOL,
    ...(course === undefined ? {} : { course: readCourse(course) }),
    ...(lanes === undefined ? {} : { lanes: readLanes(lanes) }),
    ...(apart === undefined ? {} : { apartMs: readApart(apart) }),
    ...(percent === undefined ? {} : { percent: readChoice('percent', percent, PERCENTS) }),
    ...(pace === undefined ? {} : { pace: readChoice('pace', pace, PACES) }),
    ...(prefer === undefined ? {} : { prefer: readChoice('prefer', prefer, REFERENCE_KINDS) }),
    ...(minutes === undefined ? {} : { bookedMs: readMinutes(minutes) }),
  };
}

function readChoice<T extends string>(flag: string, text: string, choices: readonly T[]): T {
  const choice = choices.find((known) => known === text.toLowerCase());
  if (choice === undefined) throw new CommandError(`--${flag} "${text}" is not known: write ${choices.join(' or ')}`);
  return choice;
}

function readCourse(text: string): Pool['course'] {
  const course = COURSES.find((known) => known === text.toUpperCase());
  if (!course) throw new CommandError(`--course "${text}" is not a course: write ${COURSES.join(', ')}`);
  return course;
}

function readLanes(text: string): number {
  const lanes = wholeNumber(text, LIMITS.lanes);
  if (lanes === null) {
    throw new CommandError(`--lanes "${text}" is not a number of lanes: write 1 to ${LIMITS.lanes}`);
  }
  return lanes;
}

function readApart(text: string): number {
  const apart = parseClock(text);
  if (apart === null || apart > 300_000) throw new CommandError(`--apart "${text}" is not a gap: write it like :05`);
  return apart;
}

/** @returns milliseconds */
function readMinutes(text: string): number {
  const minutes = Number(text);
  if (!/^\d{1,3}$/.test(text) || minutes < 1 || minutes > 720) {
    throw new CommandError(`--minutes "${text}" is not how long a pool is booked: write whole minutes, 1 to 720`);
  }
  return minutes * 60_000;
}
