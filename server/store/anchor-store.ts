import { z } from 'zod';
import type { ClockAnchor } from '../clock.ts';
import { type Database, query } from './database.ts';

const anchorRow = z.object({ boot: z.string().nullable(), monotonic_ms: z.number(), wall_ms: z.number() });

/** What the pool's clock stands on, kept for a server that starts again while a practice runs. */
export class AnchorStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  anchor(): ClockAnchor | null {
    const asked = query.selectFrom('clock_anchor').select(['boot', 'monotonic_ms', 'wall_ms']);
    const row = this.#database.first(asked, anchorRow);
    return row ? { boot: row.boot, monotonicMs: row.monotonic_ms, wallMs: row.wall_ms } : null;
  }

  save(anchor: ClockAnchor): void {
    const row = { boot: anchor.boot, monotonic_ms: anchor.monotonicMs, wall_ms: anchor.wallMs };
    this.#database.run(
      query
        .insertInto('clock_anchor')
        .values({ id: 1, ...row })
        .onConflict((conflict) => conflict.column('id').doUpdateSet(row)),
    );
  }
}
