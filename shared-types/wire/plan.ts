import { z } from 'zod';
import { practiceIdSchema, runIdSchema } from '../brand.ts';
import { weekSchema } from '../results.ts';

/**
 * HTTP questions of desks about the week's plan: which practice is to be swum on which day, and what that comes to.
 * Days are calendar days, YYYY-MM-DD.
 *
 * | request | body | answer |
 * | --- | --- | --- |
 * | GET /api/plan?from= | | WeekPlan: seven days from that one on; without `from` the week of today, Monday first |
 * | PUT /api/plan/:day | PlanDay | PlannedDay; 409 with `current` when somebody planned that day in between |
 * | POST /api/plan/copy | CopyWeek | CopiedWeek: onto the days that have nothing yet |
 */

/** More practices nobody swims in a day. */
export const MOST_A_DAY = 6;

const daySchema = z.iso
  .date('not a date like 2027-01-15')
  // Before and after there are no weeks that could be shown.
  .refine((day) => day >= '1970-01-08' && day <= '9999-12-24', 'not a day that can be planned');

const practicesSchema = z
  .array(practiceIdSchema)
  .max(MOST_A_DAY, `more than the ${MOST_A_DAY} practices that a day holds`)
  .refine((practices) => new Set(practices).size === practices.length, 'the same practice twice on a day');

export const planQuerySchema = z.object({ from: daySchema.optional() });
export const planParamsSchema = z.object({ day: daySchema });

export const planDaySchema = z.object({
  /** In the order in which they are swum. */
  practices: practicesSchema,
  /** What they take the place of, as it was seen. */
  instead: practicesSchema,
});
export type PlanDay = z.infer<typeof planDaySchema>;

/** The first of seven days each. */
export const copyWeekSchema = z.object({ from: daySchema, to: daySchema });
export type CopyWeek = z.infer<typeof copyWeekSchema>;

const count = z.number().int().min(0);

export const copiedWeekSchema = z.object({
  /** Days that were filled. */
  copied: count,
  /** Days that had something and were left as they are. */
  kept: count,
});
export type CopiedWeek = z.infer<typeof copiedWeekSchema>;

const plannedPracticeSchema = z.object({
  practice: practiceIdSchema,
  /** Null when it is no longer in the library. */
  title: z.string().nullable(),
  /** As its newest version would be swum by the squad of today; empty when it cannot be read. */
  byStyle: weekSchema.shape.byStyle,
});
export type PlannedPractice = z.infer<typeof plannedPracticeSchema>;

export const plannedDaySchema = z.object({ day: daySchema, practices: z.array(plannedPracticeSchema) });
export type PlannedDay = z.infer<typeof plannedDaySchema>;

const swumPracticeSchema = z.object({
  run: runIdSchema,
  /** Null when it is not known. */
  title: z.string().nullable(),
});

export type SwumPractice = z.infer<typeof swumPracticeSchema>;

export const weekPlanSchema = z.object({
  /** Today on the pool's clock. */
  today: daySchema,
  days: z.array(plannedDaySchema.extend({ swum: z.array(swumPracticeSchema) })),
  /** What was planned and what was swum of it or of anything else in these seven days. */
  planned: weekSchema,
  swum: weekSchema,
});
export type WeekPlan = z.infer<typeof weekPlanSchema>;
