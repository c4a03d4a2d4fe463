import { copyFileSync, mkdirSync, readdirSync, readFileSync, renameSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { MIGRATIONS } from '../../server/store/migrations.ts';
import { openDatabase } from '../../server/store/open-database.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import {
  instant,
  practiceIdSchema,
  type RunId,
  runIdSchema,
  sheetHashSchema,
  swimmerIdSchema,
} from '../../shared-types/brand.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

const BACKUP = 'farwall-20270115-080000.db';
const PAGE = 4096;
/** Bytes in SQLite's log before the first frame, and before each frame's page: https://sqlite.org/fileformat2.html */
const LOG_HEADER = 32;
const FRAME = 24 + PAGE;

function open(folder: string): Store {
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  return opened.store;
}

function addSwimmers(store: Store, ...names: string[]): void {
  const { swimmers } = store.squad.squad();
  const added = names.map((name) => ({ id: swimmerIdSchema.parse(randomId()), name, references: [] }));
  store.squad.replace({ swimmers: [...swimmers, ...added] }, false);
}

/** A data folder with a squad of 400 and, when asked for, a backup from before it had one. */
function dataFolder({ backup = true } = {}): string {
  const folder = temporaryFolder();
  open(folder).close();
  if (backup) {
    mkdirSync(join(folder, 'backups'));
    copyFileSync(join(folder, 'farwall.db'), join(folder, 'backups', BACKUP));
  }
  const store = open(folder);
  addSwimmers(store, ...Array.from({ length: 400 }, (_, place) => `Swimmer ${place}`));
  store.close();
  return folder;
}

/** A data folder as a kill leaves it, with ten transactions in the log that are not in the database yet. */
function killedFolder(): string {
  const folder = dataFolder();
  const store = open(folder);
  for (let place = 0; place < 10; place += 1) {
    store.practices.save({ ...draft(), text: `${place} x 100 free @ 1:30`, baseVersion: 0 });
  }
  const killed = temporaryFolder();
  for (const name of ['farwall.db', 'farwall.db-wal']) copyFileSync(join(folder, name), join(killed, name));
  mkdirSync(join(killed, 'backups'));
  copyFileSync(join(folder, 'backups', BACKUP), join(killed, 'backups', BACKUP));
  store.close();
  return killed;
}

const draft = () => ({ id: practiceIdSchema.parse(randomId()), title: 'Monday', demo: false, savedAt: 1 });

/** The database's own files, byte by byte. SQLite's `-shm` is only an index of the log, made anew by every opening. */
function bytesIn(folder: string): Record<string, string> {
  const names = readdirSync(folder).filter((name) => /^farwall\.db(-wal)?$/.test(name));
  return Object.fromEntries(names.map((name) => [name, readFileSync(join(folder, name)).toString('hex')]));
}

/** Why a folder cannot be opened; it must be as it was afterwards. */
function refusalOf(folder: string): string {
  const before = bytesIn(folder);
  const opened = openStore(folder);
  if (opened.ok) opened.store.close();
  expect(bytesIn(folder)).toEqual(before);
  return opened.ok ? 'opened' : opened.message;
}

const change = (file: string, spoil: (bytes: Buffer) => unknown): void => {
  const bytes = readFileSync(file);
  spoil(bytes);
  writeFileSync(file, bytes);
};

/** Ways a disk or somebody spoils a file. */
const DAMAGE: Record<string, (file: string) => void> = {
  'a header of something else': (file) => change(file, (bytes) => bytes.fill(0x20, 0, 100)),
  'a spoilt page in the middle': (file) =>
    change(file, (bytes) =>
      bytes.fill(0xab, Math.floor(bytes.length / PAGE / 2) * PAGE, Math.floor(bytes.length / PAGE / 2 + 1) * PAGE),
    ),
  'its second half missing': (file) => truncateSync(file, Math.floor(readFileSync(file).length / PAGE / 2) * PAGE),
  'its end cut off within a page': (file) => truncateSync(file, readFileSync(file).length - 1000),
  'only a few bytes': (file) => writeFileSync(file, 'SQLite format 3'),
};

describe('[FLT6] a database with', () => {
  test.each(Object.entries(DAMAGE))('%s is refused and left untouched; the last good backup is named', (_, spoil) => {
    const folder = dataFolder();
    const file = join(folder, 'farwall.db');
    spoil(file);
    expect(refusalOf(folder)).toBe(
      `The database "${file}" is damaged and was left as it is: put the last good backup in its place, ` +
        `"${join(folder, 'backups', BACKUP)}" of 2027-01-15 08:00 UTC (move "farwall.db" and, if they are there, ` +
        `"farwall.db-wal" and "farwall.db-shm" out of "${folder}", copy the backup there as "farwall.db" and start ` +
        'again), or name another folder with --data.',
    );
    // As it says: the backup is put in place.
    const away = temporaryFolder();
    for (const name of Object.keys(bytesIn(folder))) renameSync(join(folder, name), join(away, name));
    copyFileSync(join(folder, 'backups', BACKUP), file);
    expect(refusalOf(folder)).toBe('opened');
  });

  test('damage and no backup, or only damaged ones, is refused without naming one', () => {
    for (const backup of [false, true]) {
      const folder = dataFolder({ backup });
      if (backup) writeFileSync(join(folder, 'backups', BACKUP), 'cut off');
      change(join(folder, 'farwall.db'), (bytes) => bytes.fill(0, 0, 50));
      expect(refusalOf(folder)).toMatch(/ left as it is: put a good copy in its place, or name another folder/);
    }
  });
});

describe('[FLT6] a database with years of practices', () => {
  /** One practice that is over, with two megabytes of events, and one on the wall in this state. */
  function yearsOfPractices(state: 'running' | 'finished'): string {
    const folder = dataFolder();
    const store = open(folder);
    const saved = store.practices.save({ ...draft(), text: '8 x 50 free @ 1:00', baseVersion: 0 });
    if (!saved.ok) throw new Error('not saved');
    const run = (): RunId => {
      const id = runIdSchema.parse(randomId());
      const hash = sheetHashSchema.parse('ab'.repeat(32));
      const settings = store.pool.runSettings();
      const pinned = { shortLabels: {}, fullLabels: {}, settings };
      const practice = saved.practice.id;
      store.runs.putOnWall(
        { id, hash, practice, practiceVersion: 1, loadedAt: instant(1), rehearsed: false, pinned },
        '{}',
      );
      return id;
    };
    const [over, onWall] = [run(), run()];
    store.close();
    const raw = new DatabaseSync(join(folder, 'farwall.db'));
    const insert = raw.prepare('INSERT INTO events VALUES (?, ?, ?)');
    for (let seq = 1; seq <= 2000; seq += 1) insert.run(over, seq, 'x'.repeat(1000));
    insert.run(onWall, 1, JSON.stringify({ state }));
    raw.close();
    return folder;
  }

  const spoilHistory = (folder: string): void =>
    change(join(folder, 'farwall.db'), (bytes) => {
      const inside = bytes.indexOf('x'.repeat(900));
      bytes.fill(0xab, Math.floor(inside / PAGE) * PAGE, Math.floor(inside / PAGE) * PAGE + 8);
    });

  test('[FLT6] is looked at as a whole unless a practice is under way', () => {
    const folder = yearsOfPractices('finished');
    expect(refusalOf(folder)).toBe('opened');
    spoilHistory(folder);
    expect(refusalOf(folder)).toContain('is damaged and was left as it is');
  });

  test('[FLT6] under way, damage to what is long over keeps nobody waiting in the water; damage to the rest does', () => {
    const folder = yearsOfPractices('running');
    spoilHistory(folder);
    expect(refusalOf(folder)).toBe('opened');
    change(join(folder, 'farwall.db'), (bytes) => {
      const inside = bytes.indexOf('Swimmer 200');
      bytes.fill(0xab, Math.floor(inside / PAGE) * PAGE, Math.floor(inside / PAGE) * PAGE + 8);
    });
    expect(refusalOf(folder)).toContain('is damaged and was left as it is');
  });
});

describe("[FLT6] a database's log", () => {
  const logOf = (folder: string): string => join(folder, 'farwall.db-wal');
  const practicesIn = (folder: string): number => {
    const store = open(folder);
    const { length } = store.practices.list();
    store.close();
    return length;
  };

  test('as a kill leaves it is taken up', () => {
    expect(practicesIn(killedFolder())).toBe(10);
  });

  test('torn at its end, as by a loss of power, is taken up to the last whole transaction', () => {
    for (const cut of [1, 100, FRAME - 1]) {
      const folder = killedFolder();
      truncateSync(logOf(folder), readFileSync(logOf(folder)).length - cut);
      expect(practicesIn(folder)).toBe(9);
    }
    const folder = killedFolder();
    change(logOf(folder), (bytes) => bytes.fill(0xab, bytes.length - 2000));
    expect(practicesIn(folder)).toBe(9);
  });

  test('empty or never filled is no damage', () => {
    const folder = dataFolder();
    for (const log of [Buffer.alloc(0), Buffer.alloc(LOG_HEADER + FRAME)]) {
      writeFileSync(logOf(folder), log);
      expect(practicesIn(folder)).toBe(0);
    }
  });

  test.each([
    ['its header', 4, 12],
    ['the header of its first frame', LOG_HEADER, LOG_HEADER + 8],
    ['the page of its second frame', LOG_HEADER + FRAME + 100, LOG_HEADER + FRAME + 200],
    ['one bit', LOG_HEADER + 2 * FRAME + 1000, LOG_HEADER + 2 * FRAME + 1001],
  ])('with %s spoilt, and good transactions after, is refused and left untouched', (_, from, to) => {
    const folder = killedFolder();
    change(logOf(folder), (bytes) => {
      for (let at = from; at < to; at += 1) bytes[at] = (bytes[at] ?? 0) ^ 1;
    });
    expect(refusalOf(folder)).toMatch(
      `The database's log "${logOf(folder)}" is damaged and was left as it is: put the last good backup in its place, "`,
    );
  });

  test('used anew from its beginning, with older frames behind, is taken up', () => {
    const folder = dataFolder();
    const used = new DatabaseSync(join(folder, 'farwall.db'));
    onTestFinished(() => used.close());
    const insert =
      'INSERT INTO practices (practice_id, version, pool_id, title, text, demo, saved_at) ' +
      "VALUES (hex(randomblob(16)), 1, 'pool', 'old', 'text', 0, 1)";
    for (let place = 0; place < 10; place += 1) used.exec(insert);
    // A checkpoint lets the log's frames lie; what is written next begins at its start again.
    used.exec('PRAGMA wal_checkpoint(FULL)');
    const longBefore = readFileSync(logOf(folder)).length;
    used.exec(insert);
    expect(readFileSync(logOf(folder)).length).toBe(longBefore);
    const killed = temporaryFolder();
    for (const name of ['farwall.db', 'farwall.db-wal']) copyFileSync(join(folder, name), join(killed, name));
    const left = openDatabase(killed);
    if (!left.ok) throw new Error(left.message);
    onTestFinished(() => left.database.close());
    expect(left.database.prepare('SELECT count(*) AS n FROM practices').get()).toMatchObject({ n: 11 });
  });
});

describe('[FLT6] a database', () => {
  test('of a newer Farwall or of another program is left untouched, and the way back is named', () => {
    const folder = dataFolder();
    const changed = new DatabaseSync(join(folder, 'farwall.db'));
    changed.exec('PRAGMA user_version = 99');
    expect(refusalOf(folder)).toMatch(
      /: start the newer Farwall, put the last good backup in its place, ".*" of 2027-01-15 08:00 UTC \(.*\), or name/,
    );
    changed.exec('PRAGMA application_id = 17');
    expect(refusalOf(folder)).toMatch(
      /was not made by Farwall and was left as it is: put the last good backup in its place, /,
    );
    changed.close();
  });
});

describe('[FLT6] bringing a database to a newer format', () => {
  const newer = (last: string): string[] => [...MIGRATIONS, 'CREATE TABLE extra (one TEXT) STRICT', last];

  test('that fails half-way leaves it in the format it had, and says so', () => {
    const folder = dataFolder();
    const opened = openDatabase(folder, newer('CREATE TABLE swimmers (again TEXT)'));
    expect(opened.ok ? '' : opened.message).toMatch(
      /could not be brought to the format of this Farwall \(table swimmers already exists\) and was left in the one /,
    );
    expect(refusalOf(folder)).toBe('opened');
    const left = new DatabaseSync(join(folder, 'farwall.db'), { readOnly: true });
    expect(left.prepare("SELECT count(*) AS n FROM sqlite_schema WHERE name = 'extra'").get()).toMatchObject({ n: 0 });
    expect(left.prepare('PRAGMA user_version').get()).toEqual({ user_version: MIGRATIONS.length });
    left.close();
  });

  test('keeps it as it was among the backups first', () => {
    const folder = dataFolder({ backup: false });
    const opened = openDatabase(folder, newer('CREATE TABLE more (one TEXT) STRICT'));
    if (!opened.ok) throw new Error(opened.message);
    expect(opened.database.pragma('user_version')).toBe(MIGRATIONS.length + 2);
    opened.database.close();
    const [kept] = readdirSync(join(folder, 'backups'));
    expect(kept).toMatch(/^farwall-\d{8}-\d{6}\.db$/);
    const restored = temporaryFolder();
    copyFileSync(join(folder, 'backups', kept ?? ''), join(restored, 'farwall.db'));
    const store = open(restored);
    expect(store.squad.squad().swimmers).toHaveLength(400);
    store.close();
  });

  test('cut off by a kill is begun anew', () => {
    const folder = dataFolder();
    const cutOff = new DatabaseSync(join(folder, 'farwall.db'));
    onTestFinished(() => cutOff.close());
    // So little memory that half a transaction lies in the log already.
    cutOff.exec('PRAGMA cache_size = 2; PRAGMA cache_spill = 1; BEGIN IMMEDIATE; CREATE TABLE extra (one TEXT) STRICT');
    const insert = cutOff.prepare('INSERT INTO extra VALUES (?)');
    for (let row = 0; row < 1000; row += 1) insert.run('x'.repeat(500));
    const killed = temporaryFolder();
    for (const name of ['farwall.db', 'farwall.db-wal']) copyFileSync(join(folder, name), join(killed, name));
    expect(readFileSync(join(killed, 'farwall.db-wal')).length).toBeGreaterThan(10 * FRAME);
    const opened = openDatabase(killed, newer('CREATE TABLE more (one TEXT) STRICT'));
    if (!opened.ok) throw new Error(opened.message);
    onTestFinished(() => opened.database.close());
    expect(opened.database.prepare('SELECT count(*) AS n FROM extra').get()).toMatchObject({ n: 0 });
    expect(opened.database.prepare('SELECT count(*) AS n FROM swimmers').get()).toMatchObject({ n: 400 });
  });
});
