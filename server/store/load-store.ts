import { z } from 'zod';
import { type RunId, type SwimmerId, swimmerIdSchema } from '../../shared-types/brand.ts';
import { type RepLoad, repLoadsSchema } from '../../shared-types/loads.ts';
import { type Database, jsonColumn, query } from './database.ts';

const rowSchema = z.object({
  set_key: z.string(),
  swimmer_id: swimmerIdSchema,
  loads_json: jsonColumn(repLoadsSchema),
});

/** The loads of a swimmer in a set. */
interface StoredLoads {
  /** What the set is told by in every version of the run's sheet. */
  readonly set: string;
  readonly swimmer: SwimmerId;
  readonly loads: readonly RepLoad[];
}

/** The loads that were written down for resisted work. */
export class LoadStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  of(run: RunId): StoredLoads[] {
    const asked = query.selectFrom('loads').select(['set_key', 'swimmer_id', 'loads_json']).where('run_id', '=', run);
    const rows = this.#database.all(asked, rowSchema);
    return rows.map(({ set_key: set, swimmer_id: swimmer, loads_json: loads }) => ({ set, swimmer, loads }));
  }

  /** In the place of those that the swimmer had in the set. */
  replace(run: RunId, { set, swimmer, loads }: StoredLoads): void {
    const loads_json = JSON.stringify(loads);
    this.#database.run(
      query
        .insertInto('loads')
        .values({ run_id: run, set_key: set, swimmer_id: swimmer, loads_json })
        .onConflict((conflict) => conflict.columns(['run_id', 'set_key', 'swimmer_id']).doUpdateSet({ loads_json })),
    );
  }
}
