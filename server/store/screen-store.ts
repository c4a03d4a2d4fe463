import { z } from 'zod';
import { type DeviceId, deviceIdSchema } from '../../shared-types/brand.ts';
import { type WallSettings, wallSettingsSchema } from '../../shared-types/wire/walls.ts';
import { type Database, jsonColumn, query } from './database.ts';
import { POOL_ID } from './pool-store.ts';

const rowSchema = z.object({
  device_id: deviceIdSchema,
  number: z.number(),
  settings_json: jsonColumn(wallSettingsSchema),
});

/** A wall that has been set up. */
export interface StoredWall {
  readonly device: DeviceId;
  readonly number: number;
  readonly settings: WallSettings;
}

/** How the walls have been set up, by the device of each. */
export class ScreenStore {
  readonly #database: Database;

  constructor(database: Database) {
    this.#database = database;
  }

  /** By their numbers. */
  walls(): StoredWall[] {
    const asked = query.selectFrom('walls').select(['device_id', 'number', 'settings_json']);
    const rows = this.#database.all(asked.where('pool_id', '=', POOL_ID).orderBy('number'), rowSchema);
    return rows.map((row) => ({ device: row.device_id, number: row.number, settings: row.settings_json }));
  }

  /** @throws Error of SQLite's when another wall has this number: that is a bug */
  save({ device, number, settings }: StoredWall): void {
    const settings_json = JSON.stringify(settings);
    const row = { device_id: device, pool_id: POOL_ID, number, settings_json };
    this.#database.run(
      query
        .insertInto('walls')
        .values(row)
        .onConflict((conflict) => conflict.column('device_id').doUpdateSet({ number, settings_json })),
    );
  }

  forget(device: DeviceId): void {
    this.#database.run(query.deleteFrom('walls').where('device_id', '=', device));
  }
}
