import { z } from 'zod';
import { practiceIdSchema, runIdSchema, swimmerIdSchema } from '../../shared-types/brand.ts';
import { swimmerSchema } from '../../shared-types/squad.ts';
import { type Database, jsonColumn, query } from './database.ts';
import { POOL_ID } from './pool-store.ts';

export const removedSchema = z.object({
  /** As they were; none where the squad was no longer the demo's. */
  swimmers: z.array(swimmerSchema),
  /** Who was in the squad besides them, and stayed. */
  stayed: z.array(swimmerIdSchema),
  practices: z.array(practiceIdSchema),
  /** Where these stood in the week's plan, each by its place in the day. */
  planned: z.array(z.object({ day: z.string(), place: z.number(), practice: practiceIdSchema })),
  /** Those that have counted as rehearsed since. */
  runs: z.array(runIdSchema),
});
/** What was taken out with the demo. */
export type Removed = z.infer<typeof removedSchema>;

const rowSchema = z.object({ removed_at: z.number(), removed_json: jsonColumn(removedSchema) });

export interface RemovedDemo {
  /** On the pool's clock, ms since 1970. */
  readonly removedAt: number;
  readonly removed: Removed;
}

/** The demo that was removed, for as long as it can be brought back. */
export class DemoStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  /** Null: it was not removed, or is back. */
  removed(): RemovedDemo | null {
    const asked = query.selectFrom('removed_demo').select(['removed_at', 'removed_json']);
    const row = this.#database.first(asked.where('pool_id', '=', POOL_ID), rowSchema);
    return row ? { removedAt: row.removed_at, removed: row.removed_json } : null;
  }

  /** In the place of what was kept before. */
  keep({ removedAt, removed }: RemovedDemo): void {
    const row = { removed_at: removedAt, removed_json: JSON.stringify(removed) };
    this.#database.run(
      query
        .insertInto('removed_demo')
        .values({ pool_id: POOL_ID, ...row })
        .onConflict((conflict) => conflict.column('pool_id').doUpdateSet(row)),
    );
  }

  forget(): void {
    this.#database.run(query.deleteFrom('removed_demo').where('pool_id', '=', POOL_ID));
  }
}
