import { z } from 'zod';
import { msSchema } from '../../shared-types/brand.ts';
import { styleSchema } from '../../shared-types/sheet.ts';

/** What `rehearse --json` prints. Nothing more is allowed in it; times are milliseconds on the pool's clock. */

const count = z.number().int().min(0);

const setReportSchema = z.strictObject({
  line: z.number().int().min(1),
  words: z.string(),
  style: styleSchema,
  /** Reps that somebody left on, each swimmer's counted, repeated ones each time. */
  swum: count,
  /** Reps with a time, at their end or on the way. */
  timed: count,
  /** Reps or paced parts that have a target and a time, and those of them that were hits. */
  judged: count,
  hits: count,
  /** What leads of each swimmer's times, as a deck shows it. */
  swimmers: z.array(z.strictObject({ name: z.string(), line: z.string() })),
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
  /** By how much a time may be above its target, a 50, and still be a hit, ms; null where nothing was to be swum. */
  toleranceMsPer50: z.number().min(0).nullable(),
  sets: z.array(setReportSchema),
  /** Whether the database, folded, is what the deck saw. */
  storedAsSeen: z.boolean(),
  /** Why the rehearsal failed, a sentence each. */
  problems: z.array(z.string()),
});
export type RehearsalReport = z.infer<typeof rehearsalReportSchema>;
