import { type Course, fromMetres } from '../../shared-types/pool.ts';
import type { Week } from '../../shared-types/results.ts';
import { weekTo } from './plan-days.ts';
import { distanceWords } from './sheet-words.ts';

/** `9 Jan to 15 Jan 2027`, of a week by its seventh day. */
export const weekSpan = ({ day }: Pick<Week, 'day'>): string => weekTo(day);

/** What a week has left out, in words. */
export function leftOutWords({ byStyle, leftOut }: Week): string {
  if (byStyle.length === 0) return 'Nothing was swum in these seven days.';
  return leftOut.length === 0 ? 'Nothing is left out: every style was swum.' : `Left out: ${leftOut.join(', ')}.`;
}

type StyleOfWeek = Week['byStyle'][number];

/** `42 min`. */
export const minutesText = ({ minutes }: Pick<StyleOfWeek, 'minutes'>): string =>
  minutes > 0 && minutes < 1 ? '< 1 min' : `${Math.round(minutes)} min`;

/** `3 sets`. */
export const setsText = ({ sets }: Pick<StyleOfWeek, 'sets'>): string => `${sets} ${sets === 1 ? 'set' : 'sets'}`;

/** `1,200 m`, in the unit of the pool. */
export const metresText = ({ metres }: Pick<StyleOfWeek, 'metres'>, course: Course): string =>
  distanceWords(Math.round(fromMetres(metres, course)), course);

/** A week's styles together. */
export function wholeWeek({ byStyle }: Week): Omit<StyleOfWeek, 'style'> {
  const sum = (of: (one: StyleOfWeek) => number): number => byStyle.reduce((all, one) => all + of(one), 0);
  return { sets: sum(({ sets }) => sets), metres: sum(({ metres }) => metres), minutes: sum(({ minutes }) => minutes) };
}
