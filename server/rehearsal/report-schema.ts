import { z } from 'zod';
import { msSchema } from '../../shared-types/brand.ts';
import { styleSchema } from '../../shared-types/sheet.ts';

/** What `rehearse --json` prints. Nothing more is allowed in it; times are milliseconds on the pool's clock. */

const count = z.number().int().min(0);

const setReportSchema = z.strictObject({
  line: z.number().int().min(1),
  words: z.string(),
  style: styleSchema,
  /** Reps that somebody left on, each swimmer's counted. */
  swum: count,
  /** Of those, how many have a time that counts. */
  timed: count,
  /** Of the times of reps with something to hold: within the tolerance of the target or faster, and slower. */
  made: count,
  missed: count,
});
export type SetReport = z.infer<typeof setReportSchema>;

export const rehearsalReportSchema = z.strictObject({
  title: z.string(),
  seed: count,
  finished: z.boolean(),
  tookMs: msSchema,
  presses: count,
  refused: count,
  marks: z.strictObject({
    /** Touches whose time was taken. */
    sent: count,
    stored: count,
    unplaced: count,
    /** Taken of somebody whom a deck no longer expected. */
    unexpected: count,
  }),
  /** By how much a time may be above its target and still be made, as a share of it. */
  tolerance: z.number().min(0),
  sets: z.array(setReportSchema),
  /** Whether the database, folded, is what the deck saw. */
  storedAsSeen: z.boolean(),
  /** Why the rehearsal failed, a sentence each. */
  problems: z.array(z.string()),
});
export type RehearsalReport = z.infer<typeof rehearsalReportSchema>;
