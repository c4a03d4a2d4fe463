import { formatIn } from './days.ts';

/** Calendar days, YYYY-MM-DD: for them a zone plays no part. */

const DAY_MS = 86_400_000;

const midnightOf = (day: string): number => Date.parse(`${day}T00:00:00Z`);

export const daysLater = (day: string, days: number): string =>
  new Date(midnightOf(day) + days * DAY_MS).toISOString().slice(0, 10);

const WEEKDAY = formatIn('UTC', { weekday: 'long' });
const DATE = formatIn('UTC', { day: 'numeric', month: 'short' });
const DATE_OF_YEAR = formatIn('UTC', { day: 'numeric', month: 'short', year: 'numeric' });

/** `Friday`. */
export const weekdayOf = (day: string): string => WEEKDAY.format(midnightOf(day));

/** `15 Jan`. */
export const dateOf = (day: string): string => DATE.format(midnightOf(day));

/** `9 Jan to 15 Jan 2027`, of seven days by the last of them. */
export const weekTo = (day: string): string =>
  `${dateOf(daysLater(day, -6))} to ${DATE_OF_YEAR.format(midnightOf(day))}`;
