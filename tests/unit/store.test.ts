import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { APPLICATION_ID } from '../../server/store/file-format.ts';
import { MIGRATIONS } from '../../server/store/migrations.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { practiceIdSchema, sheetHashSchema, swimmerIdSchema } from '../../shared-types/brand.ts';
import type { Squad } from '../../shared-types/squad.ts';
import { runServer, withRun } from '../fixtures/running-server.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

function open(folder: string): Store {
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  return opened.store;
}

/** A store that the test need not close. */
function openForTest(folder = temporaryFolder()): Store {
  const store = open(folder);
  onTestFinished(() => store.close());
  return store;
}

const refusalOf = (folder: string): string => {
  const opened = openStore(folder);
  if (opened.ok) opened.store.close();
  return opened.ok ? 'opened' : opened.message;
};

const squadOf = (...names: string[]): Squad => ({
  swimmers: names.map((name) => ({ id: swimmerIdSchema.parse(randomId()), name, references: [] })),
});

describe('the database file', () => {
  test('[FLT1] is write-ahead logged and fully synchronous after a write', () => {
    const store = openForTest();
    store.squad.replace(squadOf('Ada Vint'), false);
    expect(() => store.assertDurable()).not.toThrow();
  });

  test('keeps what was written when opened again', () => {
    const folder = temporaryFolder();
    const first = open(folder);
    first.squad.replace(squadOf('Ada Vint', 'Bo Tarn'), true);
    first.close();
    const squad = openForTest(folder).squad.squad();
    expect(squad.swimmers.map(({ name }) => name)).toEqual(['Ada Vint', 'Bo Tarn']);
    expect(squad.demo).toBe(true);
  });

  test('[FLT6] of a newer Farwall is refused in words and left untouched', () => {
    const folder = temporaryFolder();
    open(folder).close();
    const file = join(folder, 'farwall.db');
    const newer = new DatabaseSync(file);
    newer.exec('PRAGMA user_version = 99');
    newer.close();
    const before = readFileSync(file);
    expect(refusalOf(folder)).toBe(
      `The database "${file}" was made by a newer Farwall (format 99, this one knows ${MIGRATIONS.length}) and was left as it is: ` +
        'start the newer Farwall, or name another folder with --data.',
    );
    expect(readFileSync(file).equals(before)).toBe(true);
  });

  test('[FLT6] that is damaged is refused in words and left untouched', () => {
    const folder = temporaryFolder();
    const file = join(folder, 'farwall.db');
    const store = open(folder);
    store.squad.replace(squadOf(...Array.from({ length: 400 }, (_, place) => `Swimmer ${place}`)), false);
    store.close();
    const damaged = readFileSync(file);
    damaged.fill(0xab, 8192, 20_000);
    writeFileSync(file, damaged);
    expect(refusalOf(folder)).toBe(
      `The database "${file}" is damaged and was left as it is: put a good copy in its place, or name another folder with --data.`,
    );
    expect(readFileSync(file).equals(damaged)).toBe(true);
  });

  test('[FLT6] that is no database at all is refused in words and left untouched', () => {
    const folder = temporaryFolder();
    const file = join(folder, 'farwall.db');
    const letter = Buffer.from('Dear coach, '.repeat(1000));
    writeFileSync(file, letter);
    expect(refusalOf(folder)).toMatch(/ is damaged and was left as it is: /);
    expect(readFileSync(file).equals(letter)).toBe(true);
  });

  test('of another program is refused in words and left untouched', () => {
    const folder = temporaryFolder();
    const file = join(folder, 'farwall.db');
    const foreign = new DatabaseSync(file);
    foreign.exec('CREATE TABLE recipes (name TEXT)');
    foreign.close();
    const before = readFileSync(file);
    expect(refusalOf(folder)).toMatch(/ was not made by Farwall and was left as it is: /);
    expect(readFileSync(file).equals(before)).toBe(true);
  });

  test('in a folder with a file in its way is refused in words', () => {
    const file = join(temporaryFolder(), 'in-the-way');
    writeFileSync(file, 'a file');
    for (const folder of [file, join(file, 'data')]) {
      expect(refusalOf(folder)).toBe(
        `The data folder "${folder}" cannot be used, a file is in its way: name another folder with --data.`,
      );
    }
    expect(readFileSync(file, 'utf8')).toBe('a file');
  });
});

test('a transaction that fails half-way leaves nothing behind', () => {
  const store = openForTest();
  expect(() =>
    store.inTransaction(() => {
      store.squad.replace(squadOf('Ada Vint'), false);
      throw new Error('half-way');
    }),
  ).toThrow('half-way');
  expect(store.squad.squad().swimmers).toEqual([]);
  store.squad.replace(squadOf('Bo Tarn'), false);
  expect(store.squad.squad().swimmers).toHaveLength(1);
});

describe('the squad', () => {
  test('replaced as a whole, keeps the ids of swimmers who are still there', () => {
    const store = openForTest();
    const [ada] = store.squad.replace(squadOf('Ada Vint', 'Bo Tarn'), true).swimmers;
    const squad = store.squad.replace(squadOf('Cy Orr', 'Ada Vint'), false);
    expect(squad).toEqual(store.squad.squad());
    expect(squad.demo).toBe(false);
    expect(squad.swimmers.map(({ name }) => name)).toEqual(['Cy Orr', 'Ada Vint']);
    expect(squad.swimmers[1]?.id).toBe(ada?.id);
  });

  test('may have two swimmers of one name', () => {
    const store = openForTest();
    const before = store.squad.replace(squadOf('Ada Vint', 'Ada Vint'), false).swimmers.map(({ id }) => id);
    const after = store.squad.replace(squadOf('Ada Vint', 'Ada Vint', 'Ada Vint'), false).swimmers;
    expect(after.map(({ id }) => id).slice(0, 2)).toEqual(before);
    expect(new Set(after.map(({ id }) => id)).size).toBe(3);
  });
});

describe('a practice', () => {
  const id = practiceIdSchema.parse(randomId());
  const draft = { id, title: 'Monday', demo: false, savedAt: 1 };

  test('is saved as the version after the one it was made from', () => {
    const { practices } = openForTest();
    expect(practices.save({ ...draft, text: 'one', baseVersion: 0 })).toMatchObject({ practice: { version: 1 } });
    expect(practices.save({ ...draft, text: 'two', baseVersion: 1 })).toMatchObject({ practice: { version: 2 } });
    expect(practices.practice(id)?.text).toBe('two');
    expect(practices.practice(id, 1)?.text).toBe('one');
    expect(practices.list()).toMatchObject([{ id, version: 2 }]);
  });

  test('saved by somebody else in between is not overwritten', () => {
    const { practices } = openForTest();
    practices.save({ ...draft, text: 'one', baseVersion: 0 });
    practices.save({ ...draft, text: 'theirs', baseVersion: 1 });
    const saved = practices.save({ ...draft, text: 'mine', baseVersion: 1 });
    expect(saved).toMatchObject({ ok: false, current: { version: 2, text: 'theirs' } });
    expect(practices.practice(id)?.text).toBe('theirs');
  });

  test('saved twice with the same text, as after a lost answer, is one version', () => {
    const { practices } = openForTest();
    practices.save({ ...draft, text: 'one', baseVersion: 0 });
    const again = practices.save({ ...draft, text: 'one', baseVersion: 0, savedAt: 2 });
    expect(again).toMatchObject({ ok: true, practice: { version: 1, savedAt: 1 } });
  });
});

describe('sheets', () => {
  const HASH = sheetHashSchema.parse('ab'.repeat(32));

  test('of a database from before they were compressed are read as they are', () => {
    const folder = temporaryFolder();
    const older = new DatabaseSync(join(folder, 'farwall.db'));
    for (const migration of MIGRATIONS.slice(0, 2)) older.exec(migration);
    older.exec(`PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = 2`);
    older.prepare('INSERT INTO sheets VALUES (?, ?)').run(HASH, '{"title":"Café lengths"}');
    older.close();
    expect(openForTest(folder).runs.sheetText(HASH)).toBe('{"title":"Café lengths"}');
  });

  test('are stored compressed and read letter for letter', async () => {
    const server = await runServer();
    const run = await withRun(server);
    const text = server.farwall.store.runs.sheetText(run.sheet);
    expect(text && createHash('sha256').update(text).digest('hex')).toBe(run.sheet);
    await server.farwall.close();
    const database = new DatabaseSync(join(server.folder, 'farwall.db'), { readOnly: true });
    const row = database.prepare('SELECT length(sheet_json) AS plain, length(sheet_gzip) AS packed FROM sheets').get();
    database.close();
    expect(row?.plain).toBe(0);
    expect(Number(row?.packed)).toBeLessThan((text?.length ?? 0) / 5);
  });
});
