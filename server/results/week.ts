import type { Instant } from '../../shared-types/brand.ts';
import { type Course, inMetres } from '../../shared-types/pool.ts';
import { STYLES, type Style } from '../../shared-types/practice.ts';
import type { RepTime, SwumSet, Week } from '../../shared-types/results.ts';
import type { ClockFace } from '../../shared-types/time.ts';

type Swum = Pick<RepTime, 'leftAt' | 'distance' | 'cycleMs' | 'passes'>;

/**
 * A swimmer's set as a week counts it: what was really left on, repeated reps each time, with the time the sheet has
 * for it. Rests between sets belong to none.
 * @returns null when nothing of it was swum
 */
export function swumSetOf(reps: readonly Swum[], style: Style, course: Course): SwumSet | null {
  const first = reps.reduce<Instant | null>(
    (earliest, { leftAt }) => (leftAt !== null && (earliest === null || leftAt < earliest) ? leftAt : earliest),
    null,
  );
  if (first === null) return null;
  const distance = reps.reduce((sum, rep) => sum + rep.passes * (rep.distance ?? 0), 0);
  const ms = reps.reduce((sum, rep) => sum + rep.passes * rep.cycleMs, 0);
  return { at: first, style, metres: inMetres(distance, course), ms };
}

const DAYS = 7;

/**
 * Sets, distance and minutes of each style on a day and the six before it, and the styles that are not among them.
 * Days are calendar days on the pool's clock, so that a week in which the clocks change has seven of them, too.
 * @param day YYYY-MM-DD
 * @throws RangeError when `day` is not such a date: that is a bug
 */
export function weekOf(swum: readonly SwumSet[], day: string, { timezone, trimMs }: ClockFace): Week {
  const last = dayNumber(day);
  const dayOf = calendar(timezone);
  const within = swum.filter(({ at }) => {
    const ago = last - dayNumber(dayOf(at + trimMs));
    return ago >= 0 && ago < DAYS;
  });
  const styles = STYLES.map((style) => ({ style, own: within.filter((set) => set.style === style) }));
  return {
    day,
    byStyle: styles.flatMap(({ style, own }) => (own.length === 0 ? [] : [{ style, ...sumOf(own) }])),
    leftOut: styles.flatMap(({ style, own }) => (own.length === 0 ? [style] : [])),
  };
}

const sumOf = (sets: readonly SwumSet[]) => ({
  sets: sets.length,
  metres: sets.reduce((sum, { metres }) => sum + metres, 0),
  minutes: sets.reduce((sum, { ms }) => sum + ms, 0) / 60_000,
});

/** Says the date of an instant in a zone, YYYY-MM-DD. */
function calendar(timezone: string): (at: number) => string {
  const format = new Intl.DateTimeFormat('en', {
    timeZone: timezone,
    calendar: 'gregory',
    numberingSystem: 'latn',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  });
  return (at) => {
    const parts = new Map(format.formatToParts(at).map(({ type, value }) => [type, value]));
    return `${parts.get('year')?.padStart(4, '0')}-${parts.get('month')}-${parts.get('day')}`;
  };
}

/** How many days from 1 March of the year 0 to a date. Years begin in March, so that a leap day is their last. */
function dayNumber(day: string): number {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day);
  if (!match) throw new RangeError(`not a date: ${day}`);
  const [year, month, date] = [Number(match[1]), Number(match[2]), Number(match[3])];
  const years = month > 2 ? year : year - 1;
  const months = (month + 9) % 12;
  const leapDays = Math.floor(years / 4) - Math.floor(years / 100) + Math.floor(years / 400);
  return years * 365 + leapDays + Math.floor((153 * months + 2) / 5) + date - 1;
}
