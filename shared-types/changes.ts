import { z } from 'zod';
import { laneNumberSchema, msSchema, swimmerIdSchema } from './brand.ts';
import { LIMITS } from './practice.ts';

/** [CMD7] What a coach changes while a practice is on the wall. Each makes a new version of its sheet. */

/** `12`, or for the second set of an inline line `12b`: what the ids of its steps begin with. */
const setKeySchema = z.string().max(20);

export const scopeSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('all') }),
  z.object({ kind: z.literal('group'), group: z.string().regex(/^[A-Z]$/) }),
  z.object({ kind: z.literal('lane'), lane: laneNumberSchema }),
]);
/** Which lanes a change is for. */
export type Scope = z.infer<typeof scopeSchema>;

const orderSchema = z.number().int().min(1).max(LIMITS.swimmersPerLane);

export const changeSchema = z.discriminatedUnion('kind', [
  /** A set's send-off interval, count or gap, from the next rep on. */
  z.object({
    kind: z.literal('adjust'),
    set: setKeySchema,
    scope: scopeSchema,
    intervalMs: msSchema.min(1000).max(3_600_000).optional(),
    count: z.number().int().min(1).max(LIMITS.repsPerLane).optional(),
    apartMs: msSchema.min(0).max(300_000).optional(),
    /** By how much more (+) or less (−) than each lane has: lanes whose send-offs differ keep their differences. */
    by: z
      .object({
        intervalMs: z.number().int().min(-600_000).max(600_000).optional(),
        count: z.number().int().min(-100).max(100).optional(),
        apartMs: z.number().int().min(-300_000).max(300_000).optional(),
      })
      .optional(),
  }),
  /** What is left of a set is not swum. */
  z.object({ kind: z.literal('skip'), set: setKeySchema }),
  /** A set is swum once more after the round (`outer.round`) it is in. */
  z.object({ kind: z.literal('repeat'), set: setKeySchema, after: z.string().max(20) }),
  /** From the next rep on in another lane or place; absent order: last. */
  z.object({
    kind: z.literal('move'),
    swimmer: swimmerIdSchema,
    lane: laneNumberSchema,
    order: orderSchema.optional(),
  }),
  /** Somebody who was not there. */
  z.object({
    kind: z.literal('join'),
    swimmer: swimmerIdSchema,
    lane: laneNumberSchema,
    order: orderSchema.optional(),
  }),
  z.object({ kind: z.literal('sitOut'), swimmer: swimmerIdSchema }),
  /** Back where the swimmer was. */
  z.object({ kind: z.literal('rejoin'), swimmer: swimmerIdSchema }),
]);
export type Change = z.infer<typeof changeSchema>;
