import { z } from 'zod';
import { STYLES } from '../practice.ts';
import { styleSchema } from '../sheet.ts';
import { practiceSummarySchema } from './desk.ts';

/**
 * HTTP questions of desks about the library of practices, beside those of desk.ts.
 *
 * | request | answer |
 * | --- | --- |
 * | GET /api/practices/search?text=&style=&least=&most=&from=&to=&limit= | FoundAnswer: those that have it all |
 * | GET /api/practices/:id/versions | VersionsAnswer: the newest first |
 * | GET /api/practices/:id?version= | StoredPractice: that version of it |
 * | DELETE /api/practices/:id | DeletedAnswer: out of the library, but not for ever |
 * | POST /api/practices/:id/restore | StoredPractice: in the library again |
 */

/** Practices in one answer: so many unless asked for fewer or more, and never more than that. */
export const FOUND_A_PAGE = { usual: 100, most: 500 } as const;

const metres = z.coerce.number().min(0).max(1_000_000);
const day = z.iso.date('not a date like 2027-01-15');

export const searchQuerySchema = z.object({
  /** Words that are all in the text, in any order. */
  text: z.string().max(200).default(''),
  style: z.enum(STYLES).optional(),
  least: metres.default(0),
  most: metres.default(1_000_000),
  /** Saved on this day or later, and on that day or before: of the pool's clock. */
  from: day.optional(),
  to: day.optional(),
  limit: z.coerce.number().int().min(1).max(FOUND_A_PAGE.most).default(FOUND_A_PAGE.usual),
});

export const foundPracticeSchema = practiceSummarySchema.extend({
  /** What the lane swims that swims most; 0 of a text with errors. */
  metres: z.number(),
  styles: z.array(styleSchema),
});
export type FoundPractice = z.infer<typeof foundPracticeSchema>;

export const foundAnswerSchema = z.object({
  practices: z.array(foundPracticeSchema),
  /** Whether there are others. */
  more: z.boolean(),
});
export type FoundAnswer = z.infer<typeof foundAnswerSchema>;

export const versionsAnswerSchema = z.object({ versions: z.array(practiceSummarySchema) });
export type VersionsAnswer = z.infer<typeof versionsAnswerSchema>;

export const deletedAnswerSchema = z.object({ deleted: z.literal(true) });
