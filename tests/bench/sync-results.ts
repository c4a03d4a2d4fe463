import { z } from 'zod';

/** Errors of a clock, without their sign, ms: of so many looks half, 99 of 100 and all are no larger. */
const spreadSchema = z.object({ p50: z.number(), p99: z.number(), max: z.number(), looks: z.number() });
export type Spread = z.infer<typeof spreadSchema>;

const trialResultSchema = z.object({
  profile: z.string(),
  clock: z.string(),
  /** After settling. */
  any: spreadSchema,
  /** As outages end, and ten seconds later; null where there is none. */
  outageEnd: spreadSchema.nullable(),
  afterOutage: spreadSchema.nullable(),
  /** Looks with an error beyond the bound that the clock gave. */
  beyondBound: z.number(),
});
export type TrialResult = z.infer<typeof trialResultSchema>;

/** What a trial prints. */
export const trialResultsSchema = z.array(trialResultSchema);
