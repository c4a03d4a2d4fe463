import { z } from 'zod';
import { instantSchema, runIdSchema } from '../brand.ts';
import { styleSchema } from '../sheet.ts';
import { swimmerSchema } from '../squad.ts';
import { swumOnceSchema } from './history.ts';

/** The desk's questions about one swimmer; their routes are in the table of `desk.ts`. */

/** Sets in one answer: so many unless asked for fewer or more, and never more than that. */
export const SWIMMER_SETS_A_PAGE = { usual: 25, most: 500 } as const;

const thresholdSchema = z.object({
  /** `free`, `free kick` */
  what: z.string(),
  /** Per 100 of the pool's unit, ms. */
  per100Ms: z.number(),
  /** The times it comes from. */
  from: z.string(),
  /** What makes it an estimate; null for a test of 30 minutes or 3000. */
  estimate: z.string().nullable(),
});
export type SwimmerThreshold = z.infer<typeof thresholdSchema>;

const swumSetSchema = swumOnceSchema.omit({ swimmer: true }).extend({
  run: runIdSchema,
  /** Index into the sets of that practice's sheet. */
  set: z.number().int().min(0),
  /** Of the practice; null where it is not known. */
  title: z.string().nullable(),
  /** When the swimmer left. */
  at: instantSchema,
  style: styleSchema,
  /** The loose signature: the same set whatever its send-off and effort. */
  loose: z.string(),
});
/** A set that a swimmer has swum. */
export type SwimmerSet = z.infer<typeof swumSetSchema>;

export const swimmerAnswerSchema = z.object({
  swimmer: swimmerSchema,
  /** Of each stroke and activity that there are times of; none where a threshold cannot be told. */
  thresholds: z.array(thresholdSchema),
  /** Swum in earnest, the last first. */
  sets: z.array(swumSetSchema),
  /** Whether there are others. */
  more: z.boolean(),
});
export type SwimmerAnswer = z.infer<typeof swimmerAnswerSchema>;

export const saveSwimmerSchema = z.object({
  /** Lane and order of who is in the squad stay as they are. */
  swimmer: swimmerSchema,
  /** What it takes the place of, as it was seen; null: nobody, the swimmer is new. */
  instead: swimmerSchema.nullable(),
});
export type SaveSwimmer = z.infer<typeof saveSwimmerSchema>;
