import { z } from 'zod';
import { swimmerIdSchema } from '../brand.ts';

/** The desk's questions about who is here today; their routes are in the table of `desk.ts`. */

export const absencesSchema = z.object({
  /** Today on the pool's clock, YYYY-MM-DD: at its end everybody counts as here again. */
  day: z.iso.date(),
  away: z.array(swimmerIdSchema),
});
export type Absences = z.infer<typeof absencesSchema>;

export const setAbsenceSchema = z.object({ swimmer: swimmerIdSchema, isAway: z.boolean() });
