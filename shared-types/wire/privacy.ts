import { z } from 'zod';
import { instantSchema, practiceIdSchema, runIdSchema, swimmerIdSchema } from '../brand.ts';
import { markStateSchema } from '../marks.ts';
import { repTimeSchema } from '../results.ts';
import { swimmerSchema } from '../squad.ts';

/**
 * What is kept of swimmers, and who sees it. Under `/api/squad/`, so that all desks hear of every change.
 *
 * | request | body | answer |
 * | --- | --- | --- |
 * | GET /api/squad/privacy | | Privacy |
 * | PUT /api/squad/privacy | Privacy | Privacy; walls that are on show other names at once |
 * | GET /api/squad/older?months= | | Older: what is older than that, and would go |
 * | DELETE /api/squad/older?months= | | Older: what is gone; 409 while a practice is under way |
 * | GET /api/squad/former | | Former: who is out of the squad and still stored by name |
 * | GET /api/squad/swimmers/:id/export | | SwimmerExport: all that is stored of a swimmer, as a file |
 * | GET /api/squad/swimmers/:id/stored | | StoredOf: what would go with a swimmer; 409 while a practice is not over |
 * | DELETE /api/squad/swimmers/:id/stored | | StoredOf: what is gone for good; 409 likewise |
 *
 * Swimmers who are out of the squad but still stored are known by the last three, too.
 */

/** first: as short as tells them apart, the coach's short names first; none: the place in the lane instead. */
export const WALL_NAMES = ['first', 'initials', 'full', 'none'] as const;
export type WallNames = (typeof WALL_NAMES)[number];

export const KEEP_MONTHS = [6, 12, 24, 36] as const;
export type KeepMonths = (typeof KEEP_MONTHS)[number];

export const privacySchema = z.object({
  names: z.enum(WALL_NAMES),
  /** For how many months what was swum is kept; null: until somebody removes it. */
  keepMonths: z.literal(KEEP_MONTHS).nullable(),
});
export type Privacy = z.infer<typeof privacySchema>;

/** Until the coach says otherwise. */
export const USUAL_PRIVACY: Privacy = { names: 'first', keepMonths: null };

const count = z.number().int().min(0);

export const olderSchema = z.object({
  /** Practices put on the wall before this. */
  before: instantSchema,
  practices: count,
  /** Times taken in them. */
  times: count,
  /** When the oldest of them was put on the wall; null when there is none. */
  oldest: instantSchema.nullable(),
});
export type Older = z.infer<typeof olderSchema>;

const formerSwimmerSchema = z.object({
  id: swimmerIdSchema,
  name: z.string(),
  /** When a practice was last put on the wall while they were in the squad. */
  last: instantSchema,
});

export const formerSchema = z.object({ swimmers: z.array(formerSwimmerSchema) });
export type Former = z.infer<typeof formerSchema>;

const mentionSchema = z.object({
  practice: practiceIdSchema,
  title: z.string(),
  /** False: only versions of before, or a practice that is deleted, which can come back. */
  isInLibrary: z.boolean(),
});
/** A practice whose text has a word of the name in it. */
export type Mention = z.infer<typeof mentionSchema>;

export const storedOfSchema = z.object({
  name: z.string(),
  /** Reference times and means of sets. */
  references: count,
  /** Practices that they were in the squad for. */
  practices: count,
  times: count,
  /** Sets with something written down of what was pulled. */
  loads: count,
  /** Texts stay as they are: a coach mends them. */
  mentions: z.array(mentionSchema),
});
export type StoredOf = z.infer<typeof storedOfSchema>;

const exportedMarkSchema = z.object({
  step: z.string(),
  /** How far into the rep, in the course's unit. */
  distance: z.number(),
  pressedAt: z.iso.datetime(),
  /** From the send-off; null when missed or of no send-off. */
  ms: z.number().nullable(),
  state: markStateSchema,
  typed: z.literal(true).optional(),
});

const exportedPracticeSchema = z.object({
  run: runIdSchema,
  title: z.string().nullable(),
  putOnWallAt: z.iso.datetime(),
  rehearsed: z.boolean(),
  sets: z.array(z.object({ words: z.string(), detail: z.string(), reps: z.array(repTimeSchema) })),
  /** All marks, those that do not count too. */
  marks: z.array(exportedMarkSchema),
});
export type ExportedPractice = z.infer<typeof exportedPracticeSchema>;

/** Rows as they are stored; what stood in columns of JSON is spelt out. */
const rowsSchema = z.array(z.record(z.string(), z.json()));

export const swimmerExportSchema = z.object({
  exportedAt: z.iso.datetime(),
  name: z.string(),
  /** Null: is out of the squad. */
  swimmer: swimmerSchema.nullable(),
  /** As they were before the last file was loaded, and in a demo that was removed. */
  before: z.array(swimmerSchema),
  practices: z.array(exportedPracticeSchema),
  /** Of each table that names swimmers, by its name. */
  tables: z.record(z.string(), rowsSchema),
});
export type SwimmerExport = z.infer<typeof swimmerExportSchema>;
