import type { Course } from '../../shared-types/pool.ts';
import { STYLES } from '../../shared-types/practice.ts';
import type { CopiedWeek, PlannedPractice, WeekPlan } from '../../shared-types/wire/plan.ts';
import { metresText, minutesText, wholeWeek } from './weeks-words.ts';

/** `1,600 m, 41 min of sets`, or why nothing can be said. */
export function practiceSize({ title, byStyle }: PlannedPractice, course: Course): string {
  if (title === null) return 'no longer in the library';
  if (byStyle.length === 0) return 'has errors, or nothing to swim';
  const whole = wholeWeek({ day: '', byStyle, leftOut: [] });
  return `${metresText(whole, course)}, ${minutesText(whole)} of sets`;
}

/** What a week's plan leaves out, in words. */
export function planLeavesOut({ planned: { byStyle, leftOut } }: Pick<WeekPlan, 'planned'>): string {
  if (byStyle.length === 0) return 'Nothing is planned yet.';
  return leftOut.length === 0 ? 'Every style is planned.' : `Not planned: ${leftOut.join(', ')}.`;
}

/** What was copied, in words. */
export function copiedWords({ copied, kept }: CopiedWeek): string {
  const days = (count: number): string => (count === 1 ? '1 day' : `${count} days`);
  if (copied === 0 && kept === 0) return 'There was nothing to copy.';
  const left = kept === 0 ? '' : ` ${days(kept)} had something already and ${kept === 1 ? 'was' : 'were'} left alone.`;
  return `${copied === 0 ? 'No day was' : `${days(copied)} ${copied === 1 ? 'was' : 'were'}`} filled.${left}`;
}

/** The styles that are planned or were swum, in their order. */
export const stylesIn = ({ planned, swum }: Pick<WeekPlan, 'planned' | 'swum'>) =>
  STYLES.filter((style) => [...planned.byStyle, ...swum.byStyle].some((own) => own.style === style));
