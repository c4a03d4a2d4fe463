import { z } from 'zod';
import { instantSchema, runIdSchema, swimmerIdSchema } from '../brand.ts';
import { weekSchema } from '../results.ts';
import { styleSchema } from '../sheet.ts';
import { labelsSchema } from './from-server.ts';

/**
 * HTTP questions of desks about what has been swum over the weeks. `rehearsed=1` counts rehearsed practices in, which
 * are left out otherwise. `role=deck` in any of them asks for short names; walls are told nothing. Without `day` the last
 * week ends today.
 *
 * | request | answer |
 * | --- | --- |
 * | GET /api/history/sets?limit=&rehearsed= | SetKindsAnswer: what sets there have been, the last swum first |
 * | GET /api/history/set?signature=&rehearsed= | SetHistoryAnswer: one of them each time it was swum |
 * | GET /api/history/weeks?day=&weeks=&swimmer=&rehearsed= | WeeksAnswer: weeks that end on `day` and every seven days before |
 */

/** Kinds of sets in one answer: so many unless asked for fewer or more, and never more than that. */
export const SET_KINDS_A_PAGE = { usual: 50, most: 500 } as const;
/** Weeks in one answer: so many unless asked for fewer or more, and never more than that. */
export const WEEKS_A_PAGE = { usual: 12, most: 53 } as const;

const count = z.number().int().min(0);

const setKindSchema = z.object({
  /** The loose signature: the same set whatever its send-off and effort. */
  signature: z.string(),
  style: styleSchema,
  /** In how many practices it was swum. */
  occurrences: count,
  /** How many swimmers have swum it. */
  swimmers: count,
  /** When it was last swum. */
  lastAt: instantSchema,
});
/** A set that has been swum, once or again and again. */
export type SetKind = z.infer<typeof setKindSchema>;

export const setKindsAnswerSchema = z.object({
  kinds: z.array(setKindSchema),
  /** Whether there are others. */
  more: z.boolean(),
});
export type SetKindsAnswer = z.infer<typeof setKindsAnswerSchema>;

export const swumOnceSchema = z.object({
  swimmer: swimmerIdSchema,
  /** The strict signature: with send-off and effort. */
  strict: z.string(),
  /** Reps that the swimmer was to swim. */
  reps: count,
  /** Those of them with a time. */
  timed: count,
  /** Every rep was left on. */
  isWhole: z.boolean(),
  /** Mean, fastest and slowest time of its reps, ms; null when none was timed. */
  meanMs: z.number().nullable(),
  bestMs: z.number().nullable(),
  worstMs: z.number().nullable(),
  /** Reps or paced parts with a target and a time, and those of them that were hits. */
  judged: count,
  hits: count,
});
/** What a set came to with one swimmer, once. */
export type SwumOnce = z.infer<typeof swumOnceSchema>;

const occurrenceSchema = z.object({
  run: runIdSchema,
  /** Index into the sets of that practice's sheet. */
  set: count,
  /** Of the practice; null where it is not known. */
  title: z.string().nullable(),
  /** When its first swimmer left. */
  at: instantSchema,
  rehearsed: z.boolean(),
  swimmers: z.array(swumOnceSchema),
});
export type Occurrence = z.infer<typeof occurrenceSchema>;

export const setHistoryAnswerSchema = z.object({
  signature: z.string(),
  style: styleSchema,
  /** What may be written for the swimmers, as the squad has them now. */
  labels: labelsSchema,
  /** In order of time. */
  occurrences: z.array(occurrenceSchema),
});
export type SetHistoryAnswer = z.infer<typeof setHistoryAnswerSchema>;

export const weeksAnswerSchema = z.object({
  /**
   * The last week first. Of one swimmer what that one left on; of the squad each set once, its distance and minutes as
   * the mean of those who swam it.
   */
  weeks: z.array(weekSchema),
  labels: labelsSchema,
});
export type WeeksAnswer = z.infer<typeof weeksAnswerSchema>;
