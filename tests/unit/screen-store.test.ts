import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { expect, onTestFinished, test } from 'vitest';
import { APPLICATION_ID } from '../../server/store/file-format.ts';
import { MIGRATIONS } from '../../server/store/migrations.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { deviceIdSchema, laneNumber } from '../../shared-types/brand.ts';
import type { WallSettings } from '../../shared-types/wire/walls.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

const FAR = deviceIdSchema.parse('f'.repeat(32));
const NEAR = deviceIdSchema.parse('e'.repeat(32));

const settings: WallSettings = {
  name: 'Far end',
  place: 'far',
  lanes: [laneNumber(4), laneNumber(5)],
  order: 'last-on-top',
  diagonalInches: 55,
  distanceM: null,
  sound: { on: true, offsetMs: -120 },
};

function open(folder = temporaryFolder()): Store {
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  onTestFinished(() => opened.store.close());
  return opened.store;
}

test('walls are kept by their device, in the order of their numbers, and set up anew in place', () => {
  const { screens } = open();
  screens.save({ device: FAR, number: 2, settings });
  screens.save({ device: NEAR, number: 1, settings: { ...settings, name: 'Blocks' } });
  screens.save({ device: FAR, number: 2, settings: { ...settings, lanes: null } });
  expect(screens.walls()).toEqual([
    { device: NEAR, number: 1, settings: { ...settings, name: 'Blocks' } },
    { device: FAR, number: 2, settings: { ...settings, lanes: null } },
  ]);
  screens.forget(NEAR);
  expect(screens.walls().map(({ device }) => device)).toEqual([FAR]);
});

test('two walls never have one number', () => {
  const { screens } = open();
  screens.save({ device: FAR, number: 1, settings });
  expect(() => screens.save({ device: NEAR, number: 1, settings })).toThrow('UNIQUE');
});

test('a database from before there were walls to set up knows none, and then keeps them', () => {
  const folder = temporaryFolder();
  const older = new DatabaseSync(join(folder, 'farwall.db'));
  for (const migration of MIGRATIONS.slice(0, 4)) older.exec(migration);
  older.exec(`PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = 4`);
  older.close();
  const { screens } = open(folder);
  expect(screens.walls()).toEqual([]);
  screens.save({ device: FAR, number: 1, settings });
  expect(screens.walls()).toEqual([{ device: FAR, number: 1, settings }]);
});
