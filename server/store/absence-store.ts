import { z } from 'zod';
import { type SwimmerId, swimmerIdSchema } from '../../shared-types/brand.ts';
import { type Database, query } from './database.ts';
import { POOL_ID } from './pool-store.ts';

const rowSchema = z.object({ swimmer_id: swimmerIdSchema });

/** Who is away on a day. Days are YYYY-MM-DD. */
export class AbsenceStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  on(day: string): Set<SwimmerId> {
    const asked = query
      .selectFrom('absences')
      .select('swimmer_id')
      .where('pool_id', '=', POOL_ID)
      .where('day', '=', day);
    return new Set(this.#database.all(asked, rowSchema).map(({ swimmer_id }) => swimmer_id));
  }

  /** Also forgets the other days: nobody asks for them, and who was away when is nobody's business later. */
  set(day: string, swimmer: SwimmerId, isAway: boolean): void {
    const row = { pool_id: POOL_ID, day, swimmer_id: swimmer };
    this.#database.inTransaction(() => {
      this.#database.run(query.deleteFrom('absences').where('day', '!=', day));
      this.#database.run(query.deleteFrom('absences').where('swimmer_id', '=', swimmer));
      if (isAway) this.#database.run(query.insertInto('absences').values(row));
    });
  }
}
