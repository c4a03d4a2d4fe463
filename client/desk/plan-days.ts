const DAY_MS = 86_400_000;

const midnightOf = (day: string): number => Date.parse(`${day}T00:00:00Z`);

/** @param day YYYY-MM-DD */
export const daysLater = (day: string, days: number): string =>
  new Date(midnightOf(day) + days * DAY_MS).toISOString().slice(0, 10);

/** In calendar days a zone plays no part. */
const WEEKDAY = new Intl.DateTimeFormat('en-GB', { timeZone: 'UTC', weekday: 'long' });
const DATE = new Intl.DateTimeFormat('en-GB', { timeZone: 'UTC', day: 'numeric', month: 'short' });

/** `Friday`. */
export const weekdayOf = (day: string): string => WEEKDAY.format(midnightOf(day));

/** `15 Jan`. */
export const dateOf = (day: string): string => DATE.format(midnightOf(day));
