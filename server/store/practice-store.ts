import { z } from 'zod';
import { type PracticeId, practiceIdSchema } from '../../shared-types/brand.ts';
import type { PracticeSummary, StoredPractice } from '../../shared-types/wire/desk.ts';
import { type Database, flagColumn, query } from './database.ts';
import { POOL_ID } from './pool-store.ts';

const SUMMARY = ['practice_id', 'version', 'title', 'saved_at', 'demo'] as const;

const summaryRow = z.object({
  practice_id: practiceIdSchema,
  version: z.number(),
  title: z.string(),
  saved_at: z.number(),
  demo: flagColumn,
});
const idRow = z.object({ practice_id: practiceIdSchema });
const practiceRow = summaryRow.extend({ text: z.string() });

const summaryOf = (row: z.infer<typeof summaryRow>): PracticeSummary => ({
  id: row.practice_id,
  version: row.version,
  title: row.title,
  savedAt: row.saved_at,
  demo: row.demo,
});

export interface PracticeDraft {
  readonly id: PracticeId;
  readonly text: string;
  readonly title: string;
  /** The version the text was made from; 0 for a new practice. */
  readonly baseVersion: number;
  readonly savedAt: number;
  readonly demo: boolean;
}

export type Saved = { ok: true; practice: StoredPractice } | { ok: false; current: StoredPractice | null };

/** Practices, every version kept: a run points at the one it was made from. */
export class PracticeStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  /** The newest version of each that is not deleted, last saved first. */
  list(): PracticeSummary[] {
    const asked = query
      .selectFrom('practices')
      .select(SUMMARY)
      .where('pool_id', '=', POOL_ID)
      .where('practice_id', 'not in', query.selectFrom('deleted_practices').select('deleted_practices.practice_id'))
      .where((row) =>
        row(
          'version',
          '=',
          row
            .selectFrom('practices as saved')
            .select((saved) => saved.fn.max('saved.version').as('newest'))
            .whereRef('saved.practice_id', '=', 'practices.practice_id'),
        ),
      )
      .orderBy('saved_at', 'desc')
      .orderBy('title');
    return this.#database.all(asked, summaryRow).map(summaryOf);
  }

  /** The version asked for, or the newest. */
  practice(id: PracticeId, version?: number): StoredPractice | null {
    const all = query
      .selectFrom('practices')
      .select([...SUMMARY, 'text'])
      .where('practice_id', '=', id);
    const asked = version === undefined ? all : all.where('version', '=', version);
    const row = this.#database.first(asked.orderBy('version', 'desc').limit(1), practiceRow);
    return row ? { ...summaryOf(row), text: row.text } : null;
  }

  /** All versions of a practice, the newest first. */
  versions(id: PracticeId): PracticeSummary[] {
    const asked = query.selectFrom('practices').select(SUMMARY).where('practice_id', '=', id);
    return this.#database.all(asked.orderBy('version', 'desc'), summaryRow).map(summaryOf);
  }

  /** How many in the library began as one of the demo and are another text now. */
  demoChanged(): number {
    const asked = query.selectFrom('practices').select('practice_id').distinct().where('demo', '=', 1);
    const begun = new Set(this.#database.all(asked, idRow).map(({ practice_id }) => practice_id));
    return this.list().filter(({ id, demo }) => !demo && begun.has(id)).length;
  }

  isDeleted(id: PracticeId): boolean {
    const asked = query.selectFrom('deleted_practices').select('practice_id').where('practice_id', '=', id);
    return this.#database.all(asked, z.unknown()).length > 0;
  }

  /** Takes a practice out of the library; it can come back as it was. */
  delete(id: PracticeId, deletedAt: number): void {
    this.#database.run(
      query
        .insertInto('deleted_practices')
        .values({ practice_id: id, deleted_at: deletedAt })
        .onConflict((conflict) => conflict.doNothing()),
    );
  }

  restore(id: PracticeId): void {
    this.#database.run(query.deleteFrom('deleted_practices').where('practice_id', '=', id));
  }

  /** Of all there are, deleted ones among them. */
  count(): number {
    const asked = query.selectFrom('practices').select(({ fn }) => fn.countAll<number>().as('stored'));
    return this.#database.first(asked.where('version', '=', 1), z.object({ stored: z.number() }))?.stored ?? 0;
  }

  /**
   * Saves a text as the version after the one it was made from. Saved again unchanged, as after a lost answer, it is
   * the same version; when somebody saved something else in between, nothing is stored. One that was deleted meanwhile
   * is there again: somebody was still writing it.
   */
  save(draft: PracticeDraft): Saved {
    return this.#database.inTransaction((): Saved => {
      const current = this.practice(draft.id);
      if (current && current.version === draft.baseVersion + 1 && current.text === draft.text) {
        return { ok: true, practice: current };
      }
      if ((current?.version ?? 0) !== draft.baseVersion) return { ok: false, current };
      const { id, text, title, savedAt, demo } = draft;
      const version = draft.baseVersion + 1;
      const row = { practice_id: id, version, pool_id: POOL_ID, title, text, saved_at: savedAt, demo: demo ? 1 : 0 };
      this.#database.run(query.insertInto('practices').values(row));
      this.restore(id);
      return { ok: true, practice: { id, version, title, savedAt, demo, text } };
    });
  }
}
