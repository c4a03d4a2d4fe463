import { z } from 'zod';
import { asName } from '../plain-name.ts';

/** The desk's questions about loading a squad from a file; their routes are in the table of `desk.ts`. */

const csvSchema = z.object({ csv: z.string().max(2_000_000), fileName: z.string().max(200).transform(asName) });

export const squadPreviewRequestSchema = csvSchema;

export const squadUploadSchema = csvSchema.extend({
  /** True: rows that cannot be read are left out; otherwise with one of them nothing is loaded. */
  leaveOutBadRows: z.boolean().optional(),
});

/** A row of a squad file that cannot be read. */
export const squadProblemSchema = z.object({
  /** From 1, the header's. */
  line: z.number(),
  /** The field's number in its row, from 1. */
  column: z.number(),
  message: z.string(),
  fix: z.string().optional(),
});
export type SquadProblem = z.infer<typeof squadProblemSchema>;

const swimmerChangeSchema = z.object({
  /** `lane`, `200 free SCM, best` */
  what: z.string(),
  /** In words; null: there was nothing. */
  was: z.string().nullable(),
  /** In words; null: there will be nothing. */
  becomes: z.string().nullable(),
  /** Of the file; null where no row says it. */
  line: z.number().nullable(),
});
export type SwimmerChange = z.infer<typeof swimmerChangeSchema>;

const swimmerChangesSchema = z.object({
  name: z.string(),
  kind: z.enum(['added', 'changed', 'unchanged', 'removed']),
  /** Of the swimmer's first row; null for who is not in the file. */
  line: z.number().nullable(),
  changes: z.array(swimmerChangeSchema),
});
export type SwimmerChanges = z.infer<typeof swimmerChangesSchema>;

const count = z.number().int().min(0);

export const squadPreviewSchema = z.object({
  /** Rows that say something, without the header. */
  goodRows: count,
  badRows: count,
  /** Lines of rows that say what one above says already: they are taken once. */
  repeatedLines: z.array(z.number()),
  problems: z.array(squadProblemSchema),
  /** False: without mending the file nothing of it can be loaded. */
  canBeLoaded: z.boolean(),
  /** Columns of birth dates or ages: nothing of them is read or kept. */
  leftOut: z.array(z.string()).default([]),
  /** What becomes of each swimmer when the bad rows are left out. */
  swimmers: z.array(swimmerChangesSchema),
});
export type SquadPreview = z.infer<typeof squadPreviewSchema>;

/** The squad before the last load, which an undo puts back. */
export const squadBeforeSchema = z.object({
  before: z
    .object({
      /** What was loaded in its place. */
      fileName: z.string(),
      /** When that was, ms since 1970. */
      loadedAt: z.number(),
      swimmers: count,
    })
    .nullable(),
});
export type SquadBefore = z.infer<typeof squadBeforeSchema>;

export const squadUndoSchema = z.object({
  /** Of the load that is to be undone, as it was seen. */
  loadedAt: z.number(),
});
