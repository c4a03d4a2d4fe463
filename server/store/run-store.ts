import type { StatementSync } from 'node:sqlite';
import { gunzipSync, gzipSync } from 'node:zlib';
import { z } from 'zod';
import {
  type CommandId,
  instantSchema,
  type PracticeId,
  practiceIdSchema,
  type RunId,
  runIdSchema,
  type SheetHash,
  sheetHashSchema,
} from '../../shared-types/brand.ts';
import { type Answer, answerSchema, type Command } from '../../shared-types/commands.ts';
import { type RunEvent, runEventSchema } from '../../shared-types/events.ts';
import { poolSchema } from '../../shared-types/pool.ts';
import { type Sheet, sheetSchema } from '../../shared-types/sheet.ts';
import { squadSchema } from '../../shared-types/squad.ts';
import { labelsSchema } from '../../shared-types/wire/from-server.ts';
import { type Database, flagColumn, jsonColumn, query } from './database.ts';
import { POOL_ID, runSettingsSchema } from './pool-store.ts';

export const pinnedSchema = z.object({
  /** What a wall or a deck may write for a swimmer. */
  shortLabels: labelsSchema,
  fullLabels: labelsSchema,
  settings: runSettingsSchema,
  title: z.string().optional(),
  /** It was put on the wall for the demo's swimmers. */
  demo: z.literal(true).optional(),
  /** What the sheet was made from; absent for runs from before practices could be changed as they are swum. */
  plan: z.object({ text: z.string(), squad: squadSchema, pool: poolSchema }).optional(),
});
/** [RUN5] What a run keeps as it was when it was put on the wall. */
export type Pinned = z.infer<typeof pinnedSchema>;

const runRow = z.object({
  run_id: runIdSchema,
  sheet_hash: sheetHashSchema,
  practice_id: practiceIdSchema,
  practice_version: z.number(),
  loaded_at: instantSchema,
  rehearsed: flagColumn,
  pinned_json: jsonColumn(pinnedSchema),
});

const idRow = z.object({ run_id: runIdSchema });
const eventRow = z.object({ event_json: jsonColumn(runEventSchema) });
const sheetRow = z.object({ sheet_json: z.string(), sheet_gzip: z.instanceof(Uint8Array).nullable() });

export interface StoredRun {
  readonly id: RunId;
  readonly hash: SheetHash;
  readonly practice: PracticeId;
  readonly practiceVersion: number;
  readonly loadedAt: z.infer<typeof instantSchema>;
  /** Only tried out, nobody swam it. */
  readonly rehearsed: boolean;
  readonly pinned: Pinned;
}

const runColumns = query
  .selectFrom('runs')
  .select(['run_id', 'sheet_hash', 'practice_id', 'practice_version', 'loaded_at', 'rehearsed', 'pinned_json']);

function storedRunOf(row: z.infer<typeof runRow> | undefined): StoredRun | null {
  if (!row) return null;
  return {
    id: row.run_id,
    hash: row.sheet_hash,
    practice: row.practice_id,
    practiceVersion: row.practice_version,
    loadedAt: row.loaded_at,
    rehearsed: row.rehearsed,
    pinned: row.pinned_json,
  };
}

const OF_DEMO = `
  SELECT run_id FROM runs
  WHERE pool_id = ? AND rehearsed = 0 AND json_extract(pinned_json, '$.demo') = 1
    AND EXISTS (SELECT 1 FROM events WHERE events.run_id = runs.run_id)
  ORDER BY loaded_at, run_id`;

/** Sheets kept at hand: the versions of one practice that was often changed. */
const MOST_SHEETS = 24;

/** Of one run. A practice of two hours has a tenth of it, each swimmer's every rep timed twice. */
const MOST_COMMANDS = 100_000;

/** Runs, their sheets, their events and the answers to their commands. */
export class RunStore {
  readonly #database: Database;
  readonly #sheets = new Map<SheetHash, Sheet>();
  /** How many commands of a run are stored, of those that were asked about. */
  readonly #commandsOf = new Map<RunId, number>();
  readonly #insertEvent: StatementSync;
  readonly #insertAnswer: StatementSync;
  readonly #selectAnswer: StatementSync;
  readonly #selectOfDemo: StatementSync;

  constructor(database: Database) {
    this.#database = database;
    this.#insertEvent = database.prepare('INSERT INTO events (run_id, seq, event_json) VALUES (?, ?, ?)');
    this.#insertAnswer = database.prepare('INSERT INTO commands (command_id, run_id, answer_json) VALUES (?, ?, ?)');
    this.#selectAnswer = database.prepare('SELECT answer_json FROM commands WHERE command_id = ?');
    this.#selectOfDemo = database.prepare(OF_DEMO);
  }

  /** The run on the wall, or null. */
  liveRun(): StoredRun | null {
    const asked = runColumns.where('pool_id', '=', POOL_ID).where('live', '=', 1);
    return storedRunOf(this.#database.first(asked, runRow));
  }

  has(id: RunId): boolean {
    const asked = query.selectFrom('runs').select('run_id').where('run_id', '=', id);
    return this.#database.first(asked, z.object({ run_id: runIdSchema })) !== undefined;
  }

  /** How many were put on the wall since then. */
  loadedSince(at: number): number {
    const asked = query.selectFrom('runs').select(({ fn }) => fn.countAll<number>().as('loaded'));
    return this.#database.first(asked.where('loaded_at', '>', at), z.object({ loaded: z.number() }))?.loaded ?? 0;
  }

  /** Any run there has ever been, or null. */
  run(id: RunId): StoredRun | null {
    return storedRunOf(this.#database.first(runColumns.where('run_id', '=', id), runRow));
  }

  eventsOf(run: RunId): RunEvent[] {
    const asked = query.selectFrom('events').select('event_json').where('run_id', '=', run).orderBy('seq');
    return this.#database.all(asked, eventRow).map((row) => row.event_json);
  }

  /** Null before the first. */
  lastEventOf(run: RunId): RunEvent | null {
    const asked = query.selectFrom('events').select('event_json').where('run_id', '=', run).orderBy('seq', 'desc');
    return this.#database.first(asked.limit(1), eventRow)?.event_json ?? null;
  }

  /** The canonical JSON of a sheet, as hashed, or null. */
  sheetText(hash: SheetHash): string | null {
    const asked = query.selectFrom('sheets').select(['sheet_json', 'sheet_gzip']).where('hash', '=', hash);
    const row = this.#database.first(asked, sheetRow);
    if (!row) return null;
    return row.sheet_gzip ? gunzipSync(row.sheet_gzip).toString() : row.sheet_json;
  }

  /** Null when there is no such sheet. The same object for those asked for last: a sheet never changes. */
  sheet(hash: SheetHash): Sheet | null {
    const known = this.#sheets.get(hash);
    if (known) return known;
    const text = this.sheetText(hash);
    if (text === null) return null;
    const sheet = sheetSchema.parse(JSON.parse(text));
    const [oldest] = this.#sheets.keys();
    if (this.#sheets.size >= MOST_SHEETS && oldest !== undefined) this.#sheets.delete(oldest);
    this.#sheets.set(hash, sheet);
    return sheet;
  }

  /** The same of a sheet that must be there. @throws Error when it is not stored: the database is damaged */
  sheetOfRun(run: RunId, hash: SheetHash): Sheet {
    const sheet = this.sheet(hash);
    if (!sheet) throw new Error(`a sheet of run ${run} is missing`);
    return sheet;
  }

  /** Makes `run` the one on the wall, instead of any other. */
  putOnWall(run: StoredRun, sheetText: string): void {
    this.#database.inTransaction(() => {
      this.#keepSheet(run.hash, sheetText);
      this.takeOffWall();
      const row = {
        run_id: run.id,
        pool_id: POOL_ID,
        sheet_hash: run.hash,
        practice_id: run.practice,
        practice_version: run.practiceVersion,
        loaded_at: run.loadedAt,
        live: 1,
        rehearsed: run.rehearsed ? 1 : 0,
        pinned_json: JSON.stringify(run.pinned),
      };
      this.#database.run(query.insertInto('runs').values(row));
    });
  }

  /** Those that the demo's swimmers have begun, unless they were only rehearsed. */
  ofDemo(): RunId[] {
    return this.#selectOfDemo.all(POOL_ID).map((row) => idRow.parse(row).run_id);
  }

  /** Has a run count as only tried out or as swum in earnest, also in what is kept of it. */
  countAs(id: RunId, { rehearsed }: { readonly rehearsed: boolean }): void {
    const counted = { rehearsed: rehearsed ? 1 : 0 };
    this.#database.inTransaction(() => {
      this.#database.run(query.updateTable('runs').set(counted).where('run_id', '=', id));
      this.#database.run(query.updateTable('kept_sets').set(counted).where('run_id', '=', id));
    });
  }

  /** Stores anew what a run has pinned. */
  pin({ id, pinned }: StoredRun): void {
    const pinned_json = JSON.stringify(pinned);
    this.#database.run(query.updateTable('runs').set({ pinned_json }).where('run_id', '=', id));
  }

  #keepSheet(hash: SheetHash, sheetText: string): void {
    const sheet_gzip = gzipSync(sheetText);
    this.#database.run(
      query
        .insertInto('sheets')
        .values({ hash, sheet_json: '', sheet_gzip })
        .onConflict((conflict) => conflict.doNothing()),
    );
  }

  takeOffWall(): void {
    this.#database.run(query.updateTable('runs').set({ live: 0 }).where('pool_id', '=', POOL_ID).where('live', '=', 1));
  }

  /** [CMD1] What this command was answered when it came first, or null. */
  answerTo(command: CommandId): Answer | null {
    const row = this.#selectAnswer.get(command);
    return row ? z.object({ answer_json: jsonColumn(answerSchema) }).parse(row).answer_json : null;
  }

  /** Whether so many presses and times of a run are stored that no page of ours has sent them all. */
  isFull(run: RunId): boolean {
    const stored = this.#commandsOf.get(run) ?? this.#countCommands(run);
    this.#commandsOf.set(run, stored);
    return stored >= MOST_COMMANDS;
  }

  /** One more of a run is stored. */
  countCommand(run: RunId): void {
    const known = this.#commandsOf.get(run);
    if (known !== undefined) this.#commandsOf.set(run, known + 1);
  }

  #countCommands(run: RunId): number {
    const asked = query.selectFrom('commands').select(({ fn }) => fn.countAll<number>().as('stored'));
    return this.#database.first(asked.where('run_id', '=', run), z.object({ stored: z.number() }))?.stored ?? 0;
  }

  /** [FLT1] Stores an answer with the event it stands for (none for a refusal), both or neither; on disk on return. */
  append(command: Command, answer: Answer, event: RunEvent | null, sheetText?: string): void {
    this.#database.inTransaction(() => {
      if (event?.sheet && sheetText !== undefined) this.#keepSheet(event.sheet, sheetText);
      if (event) this.#insertEvent.run(event.run, event.seq, JSON.stringify(event));
      this.#insertAnswer.run(command.id, command.run, JSON.stringify(answer));
    });
    this.countCommand(command.run);
  }
}
