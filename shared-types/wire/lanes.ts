import { z } from 'zod';
import { laneNumberSchema, swimmerIdSchema } from '../brand.ts';
import { courseSchema } from '../pool.ts';
import { LIMITS } from '../practice.ts';
import { eventSchema, MOST_SWIMMERS } from '../squad.ts';

/** The desk's questions about who swims in which lane; their routes are in the table of `desk.ts`. */

export const lanesQuestionSchema = z.object({
  /** Whose times count. */
  event: eventSchema,
  /** Of the times. */
  course: courseSchema,
  /** Most swimmers in a lane. */
  capacity: z.number().int().min(1).max(LIMITS.swimmersPerLane),
});
export type LanesQuestion = z.infer<typeof lanesQuestionSchema>;

const proposedSwimmerSchema = z.object({
  id: swimmerIdSchema,
  name: z.string(),
  /** For the event, ms; null: has none and stays in the lane of now. */
  timeMs: z.number().nullable(),
  /** Where the time comes from; null without one. */
  basis: z.string().nullable(),
  /** What makes it an estimate; null for the swimmer's own time. */
  estimate: z.string().nullable(),
  laneNow: laneNumberSchema.nullable(),
});

const proposedLaneSchema = z.object({
  lane: laneNumberSchema,
  /** Null where nobody has a time. */
  group: z.string().nullable(),
  /** For the event, ms; null where nobody has a time. */
  meanMs: z.number().nullable(),
  /** Slowest less fastest, ms. */
  spreadMs: z.number().nullable(),
  /** Who leaves first comes first. */
  swimmers: z.array(proposedSwimmerSchema),
});
export type ProposedLane = z.infer<typeof proposedLaneSchema>;

export const lanesProposalSchema = z.object({
  lanes: z.array(proposedLaneSchema),
  /** Who has no time, and what is missing: `no 200 free time (SCM)`. */
  without: z.array(z.object({ name: z.string(), missing: z.string(), laneNow: laneNumberSchema.nullable() })),
  /** Of the differences from the lanes' means, ms². */
  sumOfSquares: z.number(),
});
export type LanesProposal = z.infer<typeof lanesProposalSchema>;

const placeSchema = z.object({
  swimmer: swimmerIdSchema,
  /** Null: in none, so not on the sheet. */
  lane: laneNumberSchema.nullable(),
  /** In the lane, 1 leaves first; null: not said. */
  order: z.number().int().min(1).max(MOST_SWIMMERS).nullable(),
  /** The pace group, which a lane has one of; null: not said. */
  group: z
    .string()
    .regex(/^[A-Z]$/)
    .nullable(),
});
/** Where a swimmer swims. */
export type SwimmerPlace = z.infer<typeof placeSchema>;

const placesSchema = z
  .array(placeSchema)
  .max(MOST_SWIMMERS)
  .refine((places) => new Set(places.map(({ swimmer }) => swimmer)).size === places.length, 'a swimmer is there twice');

export const changeLanesSchema = z.object({
  /** Of those whose place changes. */
  places: placesSchema,
  /** What they take the place of, as it was seen. */
  instead: placesSchema,
});
export type ChangeLanes = z.infer<typeof changeLanesSchema>;
