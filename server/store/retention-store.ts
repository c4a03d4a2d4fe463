import { z } from 'zod';
import { type Instant, instantSchema, runIdSchema } from '../../shared-types/brand.ts';
import type { Older } from '../../shared-types/wire/privacy.ts';
import { type Database, query } from './database.ts';
import { OF_RUNS } from './personal-tables.ts';
import { POOL_ID } from './pool-store.ts';
import type { RunList } from './run-list.ts';

const runRow = z.object({ run_id: runIdSchema, loaded_at: instantSchema });

/** Sheets that neither a run nor one of its events goes by. */
const FORGET_SHEETS = `
  DELETE FROM sheets WHERE hash NOT IN (SELECT sheet_hash FROM runs) AND hash NOT IN (
    SELECT json_extract(event_json, '$.sheet') FROM events WHERE json_extract(event_json, '$.sheet') IS NOT NULL
  )`;

/** What was swum long ago. */
export class RetentionStore {
  readonly #database: Database;
  readonly #runList: RunList;

  constructor(database: Database, runList: RunList) {
    this.#database = database;
    this.#runList = runList;
  }

  /** What was put on the wall before an instant, and is not there now. */
  older(before: Instant): Older {
    const runs = this.#runsBefore(before);
    const times = runs.reduce((sum, { run_id }) => sum + (this.#runList.summary(run_id)?.times ?? 0), 0);
    return { before, practices: runs.length, times, oldest: runs[0]?.loaded_at ?? null };
  }

  /** Deletes that, with all that was worked out from it, and what undos kept from before. @returns whether there was any */
  deleteOlder(before: Instant): boolean {
    const changesBefore = this.#database.changes();
    this.#database.inTransaction(() => {
      for (const { run_id } of this.#runsBefore(before)) {
        for (const table of OF_RUNS) this.#database.run(query.deleteFrom(table).where('run_id', '=', run_id));
      }
      this.#database.run(query.deleteFrom('squad_before').where('loaded_at', '<', before));
      this.#database.run(query.deleteFrom('removed_demo').where('removed_at', '<', before));
      if (this.#database.changes() === changesBefore) return;
      // Answers to presses for runs that are gone, or never were.
      this.#database.run(
        query.deleteFrom('commands').where('run_id', 'not in', query.selectFrom('runs').select('runs.run_id')),
      );
      this.#database.exec(FORGET_SHEETS);
    });
    return this.#database.changes() !== changesBefore;
  }

  /** Oldest first. */
  #runsBefore(before: Instant): z.infer<typeof runRow>[] {
    const asked = query
      .selectFrom('runs')
      .select(['run_id', 'loaded_at'])
      .where('pool_id', '=', POOL_ID)
      .where('live', '=', 0)
      .where('loaded_at', '<', before);
    return this.#database.all(asked.orderBy('loaded_at'), runRow);
  }
}
