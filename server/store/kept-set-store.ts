import type { StatementSync } from 'node:sqlite';
import { z } from 'zod';
import { type Instant, type RunId, runIdSchema } from '../../shared-types/brand.ts';
import type { KeptSet } from '../results/kept-set.ts';
import type { Database } from './database.ts';
import { POOL_ID } from './pool-store.ts';

const originRow = z
  .object({ run_id: runIdSchema, seq: z.number(), mark_seq: z.number() })
  .transform(({ run_id: run, seq, mark_seq: markSeq }) => ({ run, seq, markSeq }));
/** Up to where the events of a run go that its kept sets are to be worked out from. */
export type KeptFrom = z.infer<typeof originRow>;

/** How kept sets are worked out, beside what was swum. */
export interface HowKept {
  readonly toleranceMsPer50: number;
  /** The version of the working out. */
  readonly workingOut: number;
}

/**
 * Of these runs those that have begun and whose kept sets are not of what is known of them, oldest first. Those of a run
 * under way never are, because swimmers leave without an event.
 */
const staleAmong = (runs: string): string => `
  WITH swum AS (
    SELECT run_id, loaded_at, live,
      (SELECT max(seq) FROM events WHERE events.run_id = runs.run_id) AS seq,
      ifnull((SELECT max(seq) FROM mark_events WHERE mark_events.run_id = runs.run_id), 0) AS mark_seq
    FROM runs WHERE pool_id = ? AND ${runs}
  )
  SELECT swum.run_id, swum.seq, swum.mark_seq FROM swum LEFT JOIN kept_runs AS kept
    ON kept.run_id = swum.run_id AND kept.seq = swum.seq AND kept.mark_seq = swum.mark_seq
    AND kept.tolerance_ms_per_50 = ? AND kept.working_out = ?
  WHERE swum.seq IS NOT NULL AND (
    kept.run_id IS NULL
    OR swum.live = 1 AND (
      SELECT json_extract(event_json, '$.state') FROM events WHERE run_id = swum.run_id AND seq = swum.seq
    ) = 'running'
  )
  ORDER BY swum.loaded_at, swum.run_id`;

const COUNTS = 'SELECT (SELECT ifnull(sum(sets), 0) FROM kept_runs) = (SELECT count(*) FROM kept_sets) AS all_there';

const FORGET_INCOMPLETE = `
  DELETE FROM kept_runs
  WHERE sets <> (SELECT count(*) FROM kept_sets WHERE kept_sets.run_id = kept_runs.run_id)`;

const INSERT_RUN = `
  INSERT INTO kept_runs (run_id, seq, mark_seq, tolerance_ms_per_50, working_out, title, sets)
  VALUES (?, ?, ?, ?, ?, (SELECT json_extract(pinned_json, '$.title') FROM runs WHERE run_id = ?), ?)`;

const INSERT_SET = `
  INSERT INTO kept_sets (run_id, set_number, place, swimmer_id, rehearsed, at, style, loose, strict, reps, timed,
    is_whole, mean_ms, best_ms, worst_ms, judged, hits, metres, ms)
  VALUES (?, ?, ?, ?, (SELECT rehearsed FROM runs WHERE run_id = ?), ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`;

/** The sets that are kept of each run, and whether they are those of what is known of it now. */
export class KeptSetStore {
  readonly #database: Database;
  readonly #staleBefore: StatementSync;
  readonly #staleRun: StatementSync;
  readonly #counts: StatementSync;
  readonly #insertRun: StatementSync;
  readonly #insertSet: StatementSync;
  readonly #forget: StatementSync;

  constructor(database: Database) {
    this.#database = database;
    this.#staleBefore = database.prepare(staleAmong('loaded_at < ?'));
    this.#staleRun = database.prepare(staleAmong('run_id = ?'));
    this.#counts = database.prepare(COUNTS);
    this.#insertRun = database.prepare(INSERT_RUN);
    this.#insertSet = database.prepare(INSERT_SET);
    this.#forget = database.prepare('DELETE FROM kept_runs WHERE run_id = ?');
  }

  /** Which runs have to be worked out, oldest first. @param before only those put on the wall before; null: all */
  stale(how: HowKept, before: Instant | null): KeptFrom[] {
    if (this.#counts.get()?.all_there === 0) this.#database.exec(FORGET_INCOMPLETE);
    const { toleranceMsPer50, workingOut } = how;
    const rows = this.#staleBefore.all(POOL_ID, before ?? Number.MAX_VALUE, toleranceMsPer50, workingOut);
    return rows.map((row) => originRow.parse(row));
  }

  /** The same of one run: null when what is kept of it is right. */
  staleRun(run: RunId, { toleranceMsPer50, workingOut }: HowKept): KeptFrom | null {
    const row = this.#staleRun.get(POOL_ID, run, toleranceMsPer50, workingOut);
    return row ? originRow.parse(row) : null;
  }

  /** Keeps these sets of a run in place of those before, all or none. */
  keep({ run, seq, markSeq }: KeptFrom, { toleranceMsPer50, workingOut }: HowKept, sets: readonly KeptSet[]): void {
    this.#database.inTransaction(() => {
      this.#forget.run(run);
      this.#insertRun.run(run, seq, markSeq, toleranceMsPer50, workingOut, run, sets.length);
      sets.forEach((set, place) => {
        this.#insert(run, set, place);
      });
    });
  }

  #insert(run: RunId, kept: KeptSet, place: number): void {
    const { set, swimmer, at, style, signature, reps, timed, isWhole, judged, hits, metres, ms } = kept;
    const means = [kept.meanMs, kept.bestMs, kept.worstMs];
    const counts = [reps, timed, isWhole ? 1 : 0, ...means, judged, hits, metres, ms];
    this.#insertSet.run(run, set, place, swimmer, run, at, style, signature.loose, signature.strict, ...counts);
  }
}
