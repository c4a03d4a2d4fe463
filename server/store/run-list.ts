import type { StatementSync } from 'node:sqlite';
import { sql } from 'kysely';
import { z } from 'zod';
import { instantSchema, practiceIdSchema, type RunId, runIdSchema } from '../../shared-types/brand.ts';
import { runStateSchema } from '../../shared-types/events.ts';
import type { RunSummary, RunsAnswer } from '../../shared-types/wire/results.ts';
import { type Database, flagColumn, query } from './database.ts';
import { POOL_ID } from './pool-store.ts';

const summaryRow = z.object({
  run_id: runIdSchema,
  practice_id: practiceIdSchema,
  title: z.string().nullable(),
  loaded_at: instantSchema,
  live: flagColumn,
  rehearsed: flagColumn,
});

const summaries = query
  .selectFrom('runs')
  .select(['run_id', 'practice_id', 'loaded_at', 'live', 'rehearsed'])
  .select(sql`json_extract(pinned_json, '$.title')`.as('title'))
  .where('pool_id', '=', POOL_ID);

const newestFirst = query
  .selectFrom('runs')
  .select('run_id')
  .where('pool_id', '=', POOL_ID)
  .orderBy('loaded_at', 'desc')
  .orderBy('run_id', 'desc');

/**
 * The times whose last event leaves them standing; who was missed has none. SQLite takes the other columns beside a single max() from the row
 * that has it (sqlite.org/lang_select.html, bare columns in an aggregate query).
 */
const COUNT_TIMES = `
  SELECT count(*) AS times FROM (
    SELECT max(seq), json_extract(event_json, '$.kind') AS kind, json_extract(event_json, '$.isVoid') AS is_void
    FROM mark_events WHERE run_id = ? GROUP BY json_extract(event_json, '$.mark')
    HAVING total(json_extract(event_json, '$.kind') = 'miss') = 0
  ) WHERE kind <> 'void' AND ifnull(is_void, 0) = 0`;

const LAST_MARK = 'SELECT ifnull(max(seq), 0) AS seq FROM mark_events WHERE run_id = ?';

const LAST_STATE = `
  SELECT json_extract(event_json, '$.state') AS state FROM events WHERE run_id = ? ORDER BY seq DESC LIMIT 1`;

/** What there is to choose from of the runs there have been: only their heads are read, no event is folded. */
export class RunList {
  readonly #database: Database;
  readonly #countTimes: StatementSync;
  readonly #lastMark: StatementSync;
  readonly #lastState: StatementSync;

  constructor(database: Database) {
    this.#database = database;
    this.#countTimes = database.prepare(COUNT_TIMES);
    this.#lastMark = database.prepare(LAST_MARK);
    this.#lastState = database.prepare(LAST_STATE);
  }

  /** Null when there is no such run. */
  summary(id: RunId): RunSummary | null {
    const row = this.#database.first(summaries.where('run_id', '=', id), summaryRow);
    return row ? this.#summaryOf(row) : null;
  }

  /** Whether there are runs, and nobody has swum any of them. */
  holdsOnlyRehearsals(): boolean {
    const row = z.object({ runs: z.number(), rehearsed: z.number() });
    const counts = query
      .selectFrom('runs')
      .select(({ fn }) => [fn.countAll().as('runs'), sql`ifnull(sum(rehearsed), 0)`.as('rehearsed')])
      .where('pool_id', '=', POOL_ID);
    const { runs, rehearsed } = this.#database.first(counts, row) ?? { runs: 0, rehearsed: 0 };
    return runs > 0 && rehearsed === runs;
  }

  /**
   * So many runs, the newest first.
   * @param before only those older than this one; null: from the newest on
   */
  page(limit: number, before: RunSummary | null): RunsAnswer {
    const chosen = before
      ? newestFirst.where(({ eb, or, and }) =>
          or([
            eb('loaded_at', '<', before.loadedAt),
            and([eb('loaded_at', '=', before.loadedAt), eb('run_id', '<', before.id)]),
          ]),
        )
      : newestFirst;
    // Titles of these alone: with each a pinned squad is read, half a megabyte where it is a large one.
    const titled = summaries.where('run_id', 'in', chosen.limit(limit + 1));
    const rows = this.#database.all(titled.orderBy('loaded_at', 'desc').orderBy('run_id', 'desc'), summaryRow);
    return { runs: rows.slice(0, limit).map((row) => this.#summaryOf(row)), more: rows.length > limit };
  }

  #summaryOf(row: z.infer<typeof summaryRow>): RunSummary {
    const { run_id: id, practice_id: practice, title, loaded_at: loadedAt, live, rehearsed } = row;
    const { times } = z.object({ times: z.number() }).parse(this.#countTimes.get(id));
    const { seq: markSeq } = z.object({ seq: z.number() }).parse(this.#lastMark.get(id));
    const last = this.#lastState.get(id);
    const state = last ? z.object({ state: runStateSchema }).parse(last).state : 'ready';
    return { id, practice, title, loadedAt, state, live, rehearsed, times, markSeq };
  }
}
