/** Says the date of an instant in a zone, YYYY-MM-DD. */
export function calendarOf(timezone: string): (at: number) => string {
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

/** Days of so many years from that of the year 0 on, each from March to February. */
const daysOfYears = (years: number): number =>
  years * 365 + Math.floor(years / 4) - Math.floor(years / 100) + Math.floor(years / 400);

/** Days of so many months from March on: of 31 and 30 by turns, five have 153. */
const daysOfMonths = (months: number): number => Math.floor((153 * months + 2) / 5);

/**
 * How many days from 1 March of the year 0 to a date. Years begin in March, so that a leap day is their last.
 * @param day YYYY-MM-DD
 * @throws RangeError when it is not such a date: that is a bug
 */
export function dayNumber(day: string): number {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day);
  if (!match) throw new RangeError(`not a date: ${day}`);
  const [year, month, date] = [Number(match[1]), Number(match[2]), Number(match[3])];
  return daysOfYears(month > 2 ? year : year - 1) + daysOfMonths((month + 9) % 12) + date - 1;
}

/** The number of 1 January 1970. */
export const EPOCH_DAY = dayNumber('1970-01-01');

/** The date with a day's number, YYYY-MM-DD. */
export function dateOf(day: number): string {
  let years = Math.floor(day / 365.2425);
  // The mean year puts a day near the end of February into the one before or after.
  while (daysOfYears(years) > day) years -= 1;
  while (daysOfYears(years + 1) <= day) years += 1;
  const within = day - daysOfYears(years);
  const months = Math.floor((5 * within + 2) / 153);
  const month = ((months + 2) % 12) + 1;
  const written = [month, within - daysOfMonths(months) + 1].map((part) => String(part).padStart(2, '0'));
  return [String(month > 2 ? years : years + 1).padStart(4, '0'), ...written].join('-');
}
