import { z } from 'zod';
import { type RunId, type SwimmerId, swimmerIdSchema } from '../../shared-types/brand.ts';
import { type TakeOver, takeOverSchema } from '../results/take-over.ts';
import { type Database, jsonColumn, query } from './database.ts';

const rowSchema = z.object({
  set_key: z.string(),
  swimmer_id: swimmerIdSchema,
  offer: z.string(),
  take_over_json: jsonColumn(takeOverSchema),
});

/** Of which result of a run a reference was made. */
interface TakenFrom {
  /** What the set is told by in every version of the run's sheet. */
  readonly set: string;
  readonly swimmer: SwimmerId;
  /** What the result is told by among those of the swimmer's set. */
  readonly offer: string;
}

interface StoredTakeOver extends TakenFrom {
  readonly takeOver: TakeOver;
}

/** References that were taken over from results, with what they took the place of. */
export class TakeOverStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  of(run: RunId): StoredTakeOver[] {
    const asked = query.selectFrom('take_overs').select(['set_key', 'swimmer_id', 'offer', 'take_over_json']);
    const rows = this.#database.all(asked.where('run_id', '=', run), rowSchema);
    return rows.map((row) => ({
      set: row.set_key,
      swimmer: row.swimmer_id,
      offer: row.offer,
      takeOver: row.take_over_json,
    }));
  }

  /** In the place of one of the same result: what that made of the swimmer is gone. */
  save(run: RunId, { set, swimmer, offer, takeOver }: StoredTakeOver): void {
    const take_over_json = JSON.stringify(takeOver);
    this.#database.run(
      query
        .insertInto('take_overs')
        .values({ run_id: run, set_key: set, swimmer_id: swimmer, offer, take_over_json })
        .onConflict((conflict) =>
          conflict.columns(['run_id', 'set_key', 'swimmer_id', 'offer']).doUpdateSet({ take_over_json }),
        ),
    );
  }

  forget(run: RunId, { set, swimmer, offer }: TakenFrom): void {
    const found = query.deleteFrom('take_overs').where('run_id', '=', run).where('set_key', '=', set);
    this.#database.run(found.where('swimmer_id', '=', swimmer).where('offer', '=', offer));
  }
}
