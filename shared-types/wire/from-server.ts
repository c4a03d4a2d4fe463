import { z } from 'zod';
import { deviceIdSchema, instantSchema, swimmerIdSchema } from '../brand.ts';
import { runEventSchema, runSchema } from '../events.ts';
import { markEventSchema } from '../marks.ts';
import { ROLES } from './protocol.ts';
import { identifySchema, wallInfosSchema, wallSetUpSchema } from './walls.ts';

/**
 * What the server sends. Broadcasts: `event` (a RunEvent), `run` (LiveRun: another run is on the wall, or none),
 * `screens` (ScreenInfo[], to decks and desks), `mark` (a MarkEvent, to decks and desks), `walls` (WallInfo[], to
 * desks), `changed` (Changed, to desks), `wall` (WallSetUp) and `identify` (Identify), each to the one wall it is about. Answers: to `hello`, `sync`,
 * `command` and `mark` (an Answer, see commands.ts).
 */

/** How screens read the pool's clock and what they need besides sheet and run. */
export const settingsSchema = z.object({
  /** IANA time zone of the pool's clock. */
  timezone: z.string(),
  /** How far the hall's own clock is ahead of the server's, ms. */
  trimMs: z.number(),
  /** Lanes set off on multiples of this on the pool's clock, ms. */
  gridMs: z.number(),
  /** At least this long after the press, ms. */
  leadInMs: z.number(),
});
export type Settings = z.infer<typeof settingsSchema>;

/** Names apart from sheets: what each screen may write for a swimmer. */
export const labelsSchema = z.record(swimmerIdSchema, z.string());
export type Labels = z.infer<typeof labelsSchema>;

/** The run on the wall, with what its screens need to read it; the sheet itself comes by HTTP under its hash. */
export const liveRunSchema = z.object({
  run: runSchema.nullable(),
  labels: labelsSchema,
  title: z.string().optional(),
});
export type LiveRun = z.infer<typeof liveRunSchema>;

/** The error shape of every HTTP answer and acknowledgement. */
export const failureSchema = z.object({
  ok: z.literal(false),
  code: z.string(),
  message: z.string(),
  place: z.string().optional(),
  fix: z.string().optional(),
});
export type Failure = z.infer<typeof failureSchema>;

export const helloAnswerSchema = z.discriminatedUnion('ok', [
  z.object({
    ok: z.literal(true),
    /** The version chosen of those offered. */
    protocol: z.number().int(),
    /** Changes when the pool's clock is taken anew, not when a server that starts goes on with the one of a practice. */
    boot: z.string(),
    live: liveRunSchema,
    /** The last mark event of the run on the wall; not told to walls. */
    markSeq: z.number().int().min(0).optional(),
    settings: settingsSchema,
    /** Told to walls only. */
    wall: wallSetUpSchema.optional(),
  }),
  failureSchema,
]);
export type HelloAnswer = z.infer<typeof helloAnswerSchema>;

/** [SYN1] The pool clock when the question came and when the answer left. */
export const syncAnswerSchema = z.object({ receivedAt: instantSchema, answeredAt: instantSchema });
export type SyncAnswer = z.infer<typeof syncAnswerSchema>;

export const screenInfoSchema = z.object({
  device: deviceIdSchema,
  role: z.enum(ROLES),
  syncBoundMs: z.number().nullable(),
  width: z.number().nullable(),
  height: z.number().nullable(),
  /** Of walls: from how far all that must be read on it can be, metres; absent until it says so. */
  readableToM: z.number().optional(),
  /** Of walls: where its farthest reader is, metres; absent until it says so. */
  seenFromM: z.number().optional(),
});
export type ScreenInfo = z.infer<typeof screenInfoSchema>;

export const screensSchema = z.array(screenInfoSchema);

export const changedSchema = z.object({
  /** Of what something is another now, by the routes under /api/; `demo` is of squad and practices. */
  what: z.enum(['practices', 'plan', 'squad', 'pool', 'demo', 'runs', 'devices']),
});
/** Told to desks: what one of them has changed, or a deck, so that the others look again. */
export type Changed = z.infer<typeof changedSchema>;

/** The broadcasts and the schema of each. */
export const BROADCASTS = {
  event: runEventSchema,
  run: liveRunSchema,
  screens: screensSchema,
  mark: markEventSchema,
  walls: wallInfosSchema,
  wall: wallSetUpSchema,
  identify: identifySchema,
  changed: changedSchema,
} as const;
