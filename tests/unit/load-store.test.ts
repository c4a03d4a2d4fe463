import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { expect, onTestFinished, test } from 'vitest';
import { APPLICATION_ID } from '../../server/store/file-format.ts';
import { MIGRATIONS } from '../../server/store/migrations.ts';
import { openStore } from '../../server/store/store.ts';
import { runIdSchema } from '../../shared-types/brand.ts';
import { DEFAULT_POOL } from '../../shared-types/pool.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

const RUN = '1'.repeat(32);

test('a database from before there were loads, references from results and a tolerance is read, and has none', () => {
  const folder = temporaryFolder();
  const older = new DatabaseSync(join(folder, 'farwall.db'));
  for (const migration of MIGRATIONS.slice(0, 5)) older.exec(migration);
  older.exec(`PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = 5`);
  const { toleranceMsPer50: _, ...pool } = DEFAULT_POOL;
  const settings = JSON.stringify({ pool, running: { gridMs: 5000, leadInMs: 3000, trimMs: 0 } });
  older.prepare("INSERT INTO pools (pool_id, settings_json) VALUES ('pool', ?)").run(settings);
  older.close();
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  const { store } = opened;
  onTestFinished(() => store.close());
  expect(store.pool.pool()).toEqual(pool);
  expect(store.loads.of(runIdSchema.parse(RUN))).toEqual([]);
  expect(store.takeOvers.of(runIdSchema.parse(RUN))).toEqual([]);
});
