import { z } from 'zod';
import { instantSchema, laneNumberSchema, msSchema, practiceIdSchema, runIdSchema, swimmerIdSchema } from '../brand.ts';
import { runStateSchema } from '../events.ts';
import { repLoadsSchema } from '../loads.ts';
import { courseSchema } from '../pool.ts';
import { repTimeSchema, setResultsSchema, swimmerResultsSchema } from '../results.ts';
import { rigSchema } from '../rig.ts';
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
 * | PUT /api/runs/:id/loads/:set/:swimmer (Loads) | Loads: what a swimmer pulled against in a set, in the place of before |
 * | PUT /api/runs/:id/references/:set/:swimmer/:offer (TakeOver) | ReferencesAnswer: a result becomes a reference |
 * | DELETE the same | ReferencesAnswer: what was there before is put back |
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

const referenceOfferSchema = z.object({
  /** What it is told by among those of the swimmer's set. */
  id: z.string(),
  /** `100 free SCM test`, `mean of 12 × 50 free, from a push, SCM, @ 1:30` */
  what: z.string(),
  /** `58.4` */
  time: z.string(),
  timeMs: msSchema,
  /** How it was taken: `from a push`, `by hand`. */
  notes: z.array(z.string()),
  /** What it takes the place of, or took: `59.10 of 3 Oct 2026`; null: nothing. */
  before: z.string().nullable(),
  /** It has been taken over, and that can be undone. */
  isTaken: z.boolean(),
});
/** A result that is a reference in the squad, or could become one. */
export type ReferenceOffer = z.infer<typeof referenceOfferSchema>;

const shownSwimmerSchema = swimmerResultsSchema.extend({
  reps: z.array(judgedRepSchema),
  /** What was written down of single reps; absent where nothing was. */
  loads: repLoadsSchema.optional(),
  /** What could become a reference or has; for desks only, absent where nothing could. */
  offers: z.array(referenceOfferSchema).optional(),
});
export type ShownSwimmer = z.infer<typeof shownSwimmerSchema>;

const pulledSchema = z.object({
  /** A pulley has a stack with a mass; of a cord or parachute only a force could be known. */
  against: z.enum(['pulley', 'other']),
  /** Mass of the stack as the practice says it, kilograms; absent where it does not. */
  saidKg: z.number().optional(),
  /** The pulley that power is worked out with; absent on a cord or parachute. */
  rig: rigSchema.optional(),
  /** What to mind; on the first such set only. */
  caution: z.string().optional(),
});
/** What swimmers pull against in a set. */
export type Pulled = z.infer<typeof pulledSchema>;

const shownSetSchema = setResultsSchema.extend({
  /** The section's name. */
  section: z.string(),
  /** `at 200 pace, from a dive`; may be empty. */
  detail: z.string(),
  swimmers: z.array(shownSwimmerSchema),
  /** Absent where swimmers pull against nothing. */
  pulled: pulledSchema.optional(),
});
export type ShownSet = z.infer<typeof shownSetSchema>;

export const loadsUploadSchema = z.object({ loads: repLoadsSchema });
/** Reps that are not among them were swum as the practice says. */
export type Loads = z.infer<typeof loadsUploadSchema>;

export const takeOverRequestSchema = z.object({
  /** The time as the desk shows it: with another one by now nothing is done. */
  timeMs: msSchema,
});

export const referencesAnswerSchema = z.object({
  /** Whether the result is a reference now. */
  isTaken: z.boolean(),
});
export type ReferencesAnswer = z.infer<typeof referencesAnswerSchema>;

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
