import { type Instant, instant } from '../../shared-types/brand.ts';
import { type Course, inMetres } from '../../shared-types/pool.ts';
import { STYLES, type Style } from '../../shared-types/practice.ts';
import type { RepTime, SwumSet, Week } from '../../shared-types/results.ts';
import type { ClockFace } from '../../shared-types/time.ts';
import { begunAt } from './begun-at.ts';
import { calendarOf, dateOf, dayNumber, EPOCH_DAY } from './calendar.ts';

type Swum = Pick<RepTime, 'leftAt' | 'distance' | 'cycleMs' | 'passes'>;

/**
 * A swimmer's set as a week counts it: what was really left on, repeated reps each time, with the time the sheet has
 * for it. Rests between sets belong to none.
 * @returns null when nothing of it was swum
 */
export function swumSetOf(reps: readonly Swum[], style: Style, course: Course): SwumSet | null {
  const at = begunAt(reps);
  if (at === null) return null;
  const distance = reps.reduce((sum, rep) => sum + rep.passes * (rep.distance ?? 0), 0);
  const ms = reps.reduce((sum, rep) => sum + rep.passes * rep.cycleMs, 0);
  return { at, style, metres: inMetres(distance, course), ms };
}

const DAYS = 7;
const DAY_MS = 24 * 60 * 60 * 1000;

/**
 * Sets, distance and minutes of each style on a day and the six before it, and the styles that are not among them.
 * Days are calendar days on the pool's clock, so that a week in which the clocks change has seven of them, too.
 * @param day YYYY-MM-DD
 * @throws RangeError when `day` is not such a date: that is a bug
 */
export const weekOf = (swum: readonly SwumSet[], day: string, face: ClockFace): Week =>
  weekOn(day, withinWeeks(swum, day, face).get(0) ?? []);

/**
 * The same of so many weeks: the one that ends on a day, the one before it, and so on.
 * @throws RangeError when `day` is not a date: that is a bug
 */
export function weeksOf(swum: readonly SwumSet[], day: string, weeks: number, face: ClockFace): Week[] {
  const within = withinWeeks(swum, day, face);
  return Array.from({ length: weeks }, (_, ago) => weekOn(dateOf(dayNumber(day) - DAYS * ago), within.get(ago) ?? []));
}

/**
 * From when to before when everything was swum that may be in these weeks, wherever the pool is: no zone is two days
 * away from UTC.
 * @throws RangeError when `day` is not a date: that is a bug
 */
export function spanOfWeeks(day: string, weeks: number): { readonly from: Instant; readonly to: Instant } {
  const midnight = (dayNumber(day) - EPOCH_DAY) * DAY_MS;
  return { from: instant(midnight - (weeks * DAYS + 1) * DAY_MS), to: instant(midnight + 3 * DAY_MS) };
}

/**
 * From when to before when everything happened that may be in these days, wherever the pool is; null: without an end.
 * @throws RangeError when one is not a date: that is a bug
 */
export function spanOfDays(first: string | null, last: string | null): { readonly from: number; readonly to: number } {
  return {
    from: first === null ? 0 : (dayNumber(first) - EPOCH_DAY - 1) * DAY_MS,
    to: last === null ? Number.MAX_SAFE_INTEGER : (dayNumber(last) - EPOCH_DAY + 3) * DAY_MS,
  };
}

/** Sets by how many weeks ago they were swum, seen from a day: 0 in the seven that it ends, below 0 after it. */
function withinWeeks(swum: readonly SwumSet[], day: string, { timezone, trimMs }: ClockFace): Map<number, SwumSet[]> {
  const last = dayNumber(day);
  const dayAt = calendarOf(timezone);
  const weeks = new Map<number, SwumSet[]>();
  for (const set of swum) {
    const ago = Math.floor((last - dayNumber(dayAt(set.at + trimMs))) / DAYS);
    const week = weeks.get(ago);
    if (week) week.push(set);
    else weeks.set(ago, [set]);
  }
  return weeks;
}

/** A set as a week counts it, swum or planned. */
export type WeekSet = Omit<SwumSet, 'at'>;

/** What sets come to in the week that ends on a day. */
export function weekOn(day: string, within: readonly WeekSet[]): Week {
  const byStyle = styleSums(within);
  return { day, byStyle, leftOut: STYLES.filter((style) => byStyle.every((own) => own.style !== style)) };
}

/** Sets, distance and minutes of each style that is among them, in the order of the styles. */
export function styleSums(sets: readonly WeekSet[]): Week['byStyle'] {
  return STYLES.flatMap((style) => {
    const own = sets.filter((set) => set.style === style);
    return own.length === 0 ? [] : [{ style, ...sumOf(own) }];
  });
}

const sumOf = (sets: readonly WeekSet[]) => ({
  sets: sets.length,
  metres: sets.reduce((sum, { metres }) => sum + metres, 0),
  minutes: sets.reduce((sum, { ms }) => sum + ms, 0) / 60_000,
});
