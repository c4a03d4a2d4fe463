import { z } from 'zod';
import { DEFAULT_POOL, type Pool, poolSchema } from '../../shared-types/pool.ts';
import { type Privacy, privacySchema, USUAL_PRIVACY } from '../../shared-types/wire/privacy.ts';
import { type Database, jsonColumn, query } from './database.ts';

export const runSettingsSchema = z.object({
  /** Lanes set off on multiples of this on the pool's clock, ms. */
  gridMs: z.number(),
  /** At least this long after the press, ms. */
  leadInMs: z.number(),
  /** How far the hall's own clock is ahead of the server's, ms. */
  trimMs: z.number(),
});
/** How a practice is run in this pool. */
export type RunSettings = z.infer<typeof runSettingsSchema>;

/** [CMD2] The next :05 that leaves 3 s. */
const DEFAULT_RUN_SETTINGS: RunSettings = { gridMs: 5000, leadInMs: 3000, trimMs: 0 };

const settingsSchema = z.object({
  pool: poolSchema,
  running: runSettingsSchema,
  privacy: privacySchema.default(USUAL_PRIVACY),
});

/** One server serves one pool for now; every table says which. */
export const POOL_ID = 'pool';

/** The pool and how practices are run in it. */
export class PoolStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
    const settings_json = JSON.stringify({ pool: DEFAULT_POOL, running: DEFAULT_RUN_SETTINGS });
    database.run(
      query
        .insertInto('pools')
        .values({ pool_id: POOL_ID, settings_json })
        .onConflict((conflict) => conflict.doNothing()),
    );
  }

  pool(): Pool {
    return this.#settings().pool;
  }

  runSettings(): RunSettings {
    return this.#settings().running;
  }

  privacy(): Privacy {
    return this.#settings().privacy;
  }

  savePool(pool: Pool): void {
    this.#save({ ...this.#settings(), pool });
  }

  savePrivacy(privacy: Privacy): void {
    this.#save({ ...this.#settings(), privacy });
  }

  #save(settings: z.infer<typeof settingsSchema>): void {
    const settings_json = JSON.stringify(settings);
    this.#database.run(query.updateTable('pools').set({ settings_json }).where('pool_id', '=', POOL_ID));
  }

  #settings(): z.infer<typeof settingsSchema> {
    const row = z.object({ settings_json: jsonColumn(settingsSchema) });
    const asked = query.selectFrom('pools').select('settings_json').where('pool_id', '=', POOL_ID);
    const found = this.#database.first(asked, row);
    if (!found) throw new Error('the pool has no settings');
    return found.settings_json;
  }
}
