import { z } from 'zod';
import { practiceIdSchema, sheetHashSchema } from '../brand.ts';
import { messageSchema } from '../message.ts';
import { poolSchema } from '../pool.ts';
import { sheetSchema } from '../sheet.ts';
import { swimmerSchema } from '../squad.ts';
import { labelsSchema } from './from-server.ts';
import { ROLES } from './protocol.ts';

/**
 * The desk's HTTP questions and answers (JSON). Every failure has the shape `Failure` and a status of 400 or more.
 *
 * | request | body | answer |
 * | --- | --- | --- |
 * | GET /api/pool | | Pool |
 * | PUT /api/pool | Pool | Pool |
 * | GET /api/squad | | SquadAnswer |
 * | PUT /api/squad | SquadUpload (CSV text) | SquadAnswer, or nothing changed and a Failure with `problems` |
 * | GET /api/squad.csv | | the squad as a file that loads again to the same |
 * | POST /api/preview/squad | SquadPreviewRequest | SquadPreview: what loading the file would change |
 * | GET /api/squad/before | | SquadBefore: what an undo of the last load would put back |
 * | POST /api/squad/undo | SquadUndo | SquadAnswer; 409 when another file was loaded in between |
 * | POST /api/preview/lanes | LanesQuestion | LanesProposal, or a Failure that says why there can be none |
 * | PUT /api/squad/lanes | ChangeLanes | SquadAnswer; 409 when somebody moved one of them in between |
 * | GET /api/squad/swimmers/:id?limit= | | SwimmerAnswer |
 * | PUT /api/squad/swimmers/:id | SaveSwimmer | SquadAnswer; 409 when somebody changed the swimmer in between |
 * | DELETE /api/squad/swimmers/:id | | SquadAnswer: who is out of the squad, results stay |
 * | GET /api/squad/absences | | Absences: who is away today |
 * | PUT /api/squad/absences | SetAbsence | Absences |
 * | POST /api/preview | PracticeText | Preview |
 * | GET /api/practices | | PracticeSummary[] |
 * | GET /api/practices/:id | | StoredPractice |
 * | PUT /api/practices/:id | SavePractice | StoredPractice; 409 when someone saved in between |
 * | POST /api/runs | PutOnWall | LiveRun (from-server.ts) |
 * | DELETE /api/runs/live | | LiveRun: takes a finished or unstarted practice off the wall |
 * | GET /api/sheets/:hash?role= | | Sheet (a wall's without basis and messages); immutable |
 * | POST /api/demo | | DemoAnswer: the invented squad and practices, on an empty store only; as they were if removed |
 * | GET /api/demo | | DemoState: whether it was removed today |
 * | DELETE /api/demo | | DemoState: what nobody has made their own goes; 409 while the demo is being swum |
 * | POST /api/demo/restore | | DemoRestored: what was removed is back where it was |
 * | POST /api/backup | | BackupAnswer: a backup is made now; 409 while a practice is under way |
 * | GET /health | | Health |
 */

/** What a practice is written in; half a pair of UTF-16 has no place in UTF-8 and is kept as the sign for that, U+FFFD. */
const writtenSchema = z
  .string()
  .max(200_000)
  .transform((text) => text.replace(/\p{Cs}/gu, '\ufffd'));

export const practiceTextSchema = z.object({ text: writtenSchema });

const sendOffOptionSchema = z.object({
  /** Of the practice, from 1. */
  line: z.number().int().min(1),
  /** What to write after the @, `1:10/1:15`. */
  sendOffs: z.string(),
  /** So much rest it leaves everybody at least, ms. */
  restMs: z.number().min(0),
});
/** A send-off that a set could have. */
export type SendOffOption = z.infer<typeof sendOffOptionSchema>;

export const previewSchema = z.object({
  messages: z.array(messageSchema),
  /** Null when the text has errors. */
  sheet: sheetSchema.nullable(),
  labels: labelsSchema,
  /** Line by line, the shortest first; none when the text has errors. */
  sendOffs: z.array(sendOffOptionSchema).default([]),
});
export type Preview = z.infer<typeof previewSchema>;

export const squadAnswerSchema = z.object({ swimmers: z.array(swimmerSchema), demo: z.boolean() });
export type SquadAnswer = z.infer<typeof squadAnswerSchema>;

export const practiceSummarySchema = z.object({
  id: practiceIdSchema,
  version: z.number().int(),
  title: z.string(),
  savedAt: z.number(),
  demo: z.boolean(),
});
export type PracticeSummary = z.infer<typeof practiceSummarySchema>;

export const storedPracticeSchema = practiceSummarySchema.extend({ text: z.string() });
export type StoredPractice = z.infer<typeof storedPracticeSchema>;

export const savePracticeSchema = z.object({
  text: writtenSchema,
  /** The version this text was made from; 0 for a new practice. */
  baseVersion: z.number().int().min(0),
});
export type SavePractice = z.infer<typeof savePracticeSchema>;

export const putOnWallSchema = z.object({
  practice: practiceIdSchema,
  version: z.number().int().min(1),
  /** True: another practice that is running may be ended for this one. */
  replace: z.boolean(),
  /** It is only tried out: nobody swims, and its times count nowhere else. */
  rehearsed: z.literal(true).optional(),
});
export type PutOnWall = z.infer<typeof putOnWallSchema>;

export const demoAnswerSchema = z.object({ practices: z.array(practiceSummarySchema) });

const count = z.number().int().min(0);

const removedDemoSchema = z.object({
  /** 0 where the squad was no longer the demo's. */
  swimmers: count,
  practices: count,
  /** Places that these had in the week's plan. */
  planned: count,
  /** Practices that the demo's swimmers have swum: their results stay, and count as rehearsed. */
  runs: count,
  /** Practices of the demo that somebody has changed: they stay. */
  kept: count,
});
/** What was taken out with the demo. */
export type RemovedDemo = z.infer<typeof removedDemoSchema>;

export const demoStateSchema = z.object({
  /** Null: it was not removed, or is back, or that was on another day of the pool's clock. */
  removed: removedDemoSchema.nullable(),
});
export type DemoState = z.infer<typeof demoStateSchema>;

export const demoRestoredSchema = z.object({
  /** 0 also where there is another squad by now, which stays. */
  swimmers: count,
  practices: count,
});
export type DemoRestored = z.infer<typeof demoRestoredSchema>;

/** What anyone is told of the server. */
export const aliveSchema = z.object({ ok: z.literal(true), database: z.enum(['ok', 'read-only']) });
export type Alive = z.infer<typeof aliveSchema>;

/** What coaches are told of it. */
export const healthSchema = aliveSchema.extend({
  version: z.string(),
  run: z.object({ id: z.string(), state: z.string(), seq: z.number(), sheet: sheetHashSchema }).nullable(),
  /** Of the database and its write-ahead log, bytes. */
  databaseBytes: z.number().int(),
  /** The last try, ms since 1970 on the machine's own clock; null before the first. */
  lastBackup: z.object({ at: z.number(), ok: z.boolean() }).nullable(),
  screens: z.array(
    z.object({
      role: z.enum(ROLES),
      /** [SYN5] Bound of its clock's error, ms; null until it reports one. */
      syncBoundMs: z.number().nullable(),
      /** How long ago it last reported, ms; null before its first report. */
      reportAgeMs: z.number().nullable(),
    }),
  ),
  uptimeMs: z.number(),
});
export type Health = z.infer<typeof healthSchema>;

export const backupAnswerSchema = z.object({
  /** Its name in the server's folder of backups. */
  name: z.string(),
  /** When it was made, ms since 1970. */
  at: z.number(),
});
export type BackupAnswer = z.infer<typeof backupAnswerSchema>;

export const poolAnswerSchema = poolSchema;
