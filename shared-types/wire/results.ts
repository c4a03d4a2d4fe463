import { z } from 'zod';
import { instantSchema, laneNumberSchema, practiceIdSchema, runIdSchema, swimmerIdSchema } from '../brand.ts';
import { runStateSchema } from '../events.ts';
import { courseSchema } from '../pool.ts';
import { repTimeSchema, setResultsSchema, swimmerResultsSchema } from '../results.ts';
import { labelsSchema } from './from-server.ts';

/**
 * HTTP questions of decks and desks about practices that have been on the wall, and what their times say.
 *
 * | request | answer |
 * | --- | --- |
 * | GET /api/runs?limit=&before=run | RunsAnswer: the newest first; `before`: those older than that run |
 * | GET /api/runs/:id/results?role=deck or desk | ResultsAnswer: in full names on the desk only, none for walls |
 * | GET /api/runs/:id/lines?role=deck or desk | LinesAnswer: of the same what comes first, a line a swimmer |
 * | GET /api/runs/:id/results.csv?role=&bom=1 | the same with every time taken as a CSV; `bom=1`: with a byte order mark |
 */

/** Runs in one answer: so many unless asked for fewer or more, and never more than that. */
export const RUNS_A_PAGE = { usual: 20, most: 100 } as const;

export const runSummarySchema = z.object({
  id: runIdSchema,
  practice: practiceIdSchema,
  /** Of the practice; null for runs from before it was kept. */
  title: z.string().nullable(),
  /** When it was put on the wall. */
  loadedAt: instantSchema,
  state: runStateSchema,
  /** Whether it is on the wall. */
  live: z.boolean(),
  /** Only tried out: nobody swam it, and its times count nowhere else. */
  rehearsed: z.boolean(),
  /** How many times were taken and not taken back. */
  times: z.number().int().min(0),
  /** Of its last mark event, 0 before the first: another one whenever anything about its times has changed. */
  markSeq: z.number().int().min(0),
});
export type RunSummary = z.infer<typeof runSummarySchema>;

export const runsAnswerSchema = z.object({
  runs: z.array(runSummarySchema),
  /** Whether there are older ones. */
  more: z.boolean(),
});
export type RunsAnswer = z.infer<typeof runsAnswerSchema>;

const judgementSchema = z.object({
  /** How much of the rep it is about, in the course's unit. */
  distance: z.number(),
  /** held: within the tolerance of the target; under: faster by more than that; unjudged: no time where it ends. */
  verdict: z.enum(['held', 'under', 'missed', 'unjudged']),
});

const judgedRepSchema = repTimeSchema.extend({
  /** Of the rep, or of its paced parts in order; empty where nothing was to be held. */
  judgements: z.array(judgementSchema),
});
/** One rep of one swimmer, held against its target. */
export type JudgedRep = z.infer<typeof judgedRepSchema>;

const shownSwimmerSchema = swimmerResultsSchema.extend({ reps: z.array(judgedRepSchema) });
export type ShownSwimmer = z.infer<typeof shownSwimmerSchema>;

const shownSetSchema = setResultsSchema.extend({
  /** The section's name. */
  section: z.string(),
  /** `at 200 pace, from a dive`; may be empty. */
  detail: z.string(),
  swimmers: z.array(shownSwimmerSchema),
});
export type ShownSet = z.infer<typeof shownSetSchema>;

export const resultsAnswerSchema = z.object({
  run: runSummarySchema,
  course: courseSchema,
  /** What may be written for the swimmers. */
  labels: labelsSchema,
  sets: z.array(shownSetSchema),
});
export type ResultsAnswer = z.infer<typeof resultsAnswerSchema>;

/** A tenth of what the results are: a deck asks for them while times are taken over the same air. */
export const linesAnswerSchema = z.object({
  run: runIdSchema,
  /** The last mark event that is in it. */
  markSeq: z.number().int().min(0),
  labels: labelsSchema,
  /** The sets that somebody has left on, in the order of the practice. */
  sets: z.array(
    z.object({
      /** Index into the sheet's sets. */
      set: z.number().int().min(0),
      /** `8 × 50 free at 200 pace` */
      words: z.string(),
      /** By lane and in the order in which they leave. */
      swimmers: z.array(z.object({ swimmer: swimmerIdSchema, lane: laneNumberSchema, line: z.string() })),
    }),
  ),
});
export type LinesAnswer = z.infer<typeof linesAnswerSchema>;
