import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { setTimeout as sleep } from 'node:timers/promises';
import { describe, expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import type { LogEntry } from '../../server/log.ts';
import { lastGoodBackup } from '../../server/store/backup-folder.ts';
import type { BackupSource } from '../../server/store/backup-source.ts';
import { Backups } from '../../server/store/backups.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { swimmerIdSchema } from '../../shared-types/brand.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

function open(folder: string): Store {
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  onTestFinished(() => opened.store.close());
  return opened.store;
}

/** A store with something in it, and backups of it by a clock moved by hand. */
function backedUp(through: (source: BackupSource) => BackupSource = (source) => source) {
  const store = open(temporaryFolder());
  const folder = join(temporaryFolder(), 'backups');
  const notes: LogEntry[] = [];
  const faults: unknown[] = [];
  const hand = { now: Date.UTC(2027, 0, 15, 8, 0, 0), mayTake: true };
  const backups = new Backups({
    source: through(store.backupSource),
    folder,
    keep: 7,
    wallMs: () => hand.now,
    mayTake: () => hand.mayTake,
    note: (entry) => notes.push(entry),
    log: (error) => faults.push(error),
  });
  const write = (...names: string[]): void => {
    const swimmers = names.map((name) => ({ id: swimmerIdSchema.parse(randomId()), name, references: [] }));
    store.squad.replace({ swimmers }, false);
  };
  return {
    store,
    folder,
    backups,
    hand,
    notes,
    faults,
    write,
    names: () => (existsSync(folder) ? readdirSync(folder).sort() : []),
  };
}

describe('[FLT6] a backup', () => {
  test('is one file named after its instant in UTC, and holds what the database holds', async () => {
    const { backups, folder, names, write, notes } = backedUp();
    write('Ada Vint', 'Bo Tarn');
    const at = Date.UTC(2027, 0, 15, 8, 0, 0);
    const file = join(folder, 'farwall-20270115-080000.db');
    expect(await backups.take()).toEqual({ kind: 'taken', file, at });
    expect(names()).toEqual(['farwall-20270115-080000.db']);
    expect(backups.last).toEqual({ at, ok: true });
    expect(notes).toMatchObject([{ what: 'backup', file: 'farwall-20270115-080000.db' }]);
    const restored = temporaryFolder();
    copyFileSync(file, join(restored, 'farwall.db'));
    expect(
      open(restored)
        .squad.squad()
        .swimmers.map(({ name }) => name),
    ).toEqual(['Ada Vint', 'Bo Tarn']);
  });

  test('is made when something has changed since the last, not otherwise', async () => {
    const { backups, names, write, hand } = backedUp();
    await backups.takeIfChanged();
    expect(names()).toEqual([]);
    write('Ada Vint');
    await Promise.all([backups.takeIfChanged(), backups.takeIfChanged()]);
    expect(names()).toHaveLength(1);
    hand.now += 60_000;
    await backups.takeIfChanged();
    expect(names()).toHaveLength(1);
    write('Bo Tarn');
    await backups.takeIfChanged();
    expect(names()).toEqual(['farwall-20270115-080000.db', 'farwall-20270115-080100.db']);
  });

  test('is not begun while a practice is under way, and given up when one begins', async () => {
    const { backups, names, write, hand, faults } = backedUp();
    write('Ada Vint');
    hand.mayTake = false;
    await backups.takeIfChanged();
    expect(names()).toEqual([]);
    hand.mayTake = true;
    const taking = backups.take();
    hand.mayTake = false;
    expect(await taking).toEqual({ kind: 'given-up' });
    expect([names(), backups.last, faults]).toEqual([[], null, []]);
    hand.mayTake = true;
    await backups.takeIfChanged();
    expect(names()).toHaveLength(1);
  });

  test('that was written to while it was copied is begun anew', async () => {
    let copies = 0;
    const { backups, write, folder } = backedUp((source) => ({
      ...source,
      copyTo: async (file, each) => {
        await source.copyTo(file, each);
        copies += 1;
        if (copies === 1) write('Ada Vint', 'Bo Tarn');
      },
    }));
    write('Ada Vint');
    await backups.take();
    expect(copies).toBe(2);
    const copy = new DatabaseSync(join(folder, 'farwall-20270115-080000.db'), { readOnly: true });
    onTestFinished(() => copy.close());
    expect(copy.prepare('SELECT count(*) AS swimmers FROM swimmers').get()).toMatchObject({ swimmers: 2 });
  });

  test('waits for somebody who writes a lot', async () => {
    let copies = 0;
    const { backups, names, faults, write } = backedUp((source) => ({
      ...source,
      copyTo: async (file, each) => {
        copies += 1;
        await source.copyTo(file, each);
        await sleep(20);
      },
    }));
    const writing = setInterval(() => write('Ada Vint'), 5);
    setTimeout(() => clearInterval(writing), 700);
    expect(await backups.take()).toMatchObject({ kind: 'taken' });
    expect(copies).toBeGreaterThan(1);
    expect(names()).toHaveLength(1);
    expect(faults).toEqual([]);
  });

  test('that does not hold what the database holds, or is damaged on its way, is not kept', async () => {
    let spoil = (_file: string): void => {};
    const { backups, write, names, faults } = backedUp((source) => ({
      ...source,
      copyTo: async (file, each) => {
        await source.copyTo(file, each);
        spoil(file);
      },
    }));
    write('Ada Vint');
    spoil = (file) => {
      const copy = new DatabaseSync(file);
      copy.exec('DELETE FROM swimmers');
      copy.close();
    };
    expect(await backups.take()).toMatchObject({ kind: 'failed', why: expect.stringMatching(/does not hold what/) });
    spoil = (file) => writeFileSync(file, readFileSync(file).fill(0xab, 8192, 12_288));
    expect(await backups.take()).toMatchObject({ kind: 'failed', why: expect.stringMatching(/is not whole/) });
    expect(names()).toEqual([]);
    expect(faults).toHaveLength(2);
    expect(backups.last).toMatchObject({ ok: false });
  });

  test('is the eighth: the oldest goes; files of other names and the one just made stay', async () => {
    const { backups, folder, names, hand } = backedUp();
    mkdirSync(folder);
    const strangers = ['farwall-20200101-000000.db.old', 'farwall.db', 'letter.txt', 'xfarwall-20200101-000000.db'];
    for (const name of strangers) writeFileSync(join(folder, name), 'not ours');
    writeFileSync(join(folder, 'farwall-20270114-080000.db.part'), 'a copy that a kill has cut off');
    for (let made = 0; made < 9; made += 1) {
      await backups.take();
      hand.now += 1000;
    }
    const seven = Array.from({ length: 7 }, (_, place) => `farwall-20270115-08000${place + 2}.db`);
    expect(names()).toEqual([...seven, ...strangers].sort());
    // Somebody has set the machine's clock back by a day.
    hand.now -= 86_400_000;
    await backups.take();
    expect(names()).toEqual(['farwall-20270114-080009.db', ...seven.slice(1), ...strangers].sort());
  });

  test('after somebody was deleted for good takes the place of all before, those that cannot be read too', async () => {
    const { backups, folder, names, hand, store, write } = backedUp();
    write('Ada Vint', 'Bo Tarn');
    const erase = (name: string): void => {
      const found = store.squad.squad().swimmers.find((swimmer) => swimmer.name === name);
      if (found) store.erasure.erase(found.id, name, hand.now, () => []);
    };
    for (let made = 0; made < 3; made += 1) await backups.take();
    writeFileSync(join(folder, 'farwall-20270114-080000.db'), 'cut off');
    expect(names()).toHaveLength(4);
    erase('Ada Vint');
    hand.mayTake = false;
    expect(await backups.take()).toEqual({ kind: 'given-up' });
    expect(names()).toHaveLength(4);
    hand.mayTake = true;
    await backups.take();
    expect(names()).toHaveLength(1);
    await backups.take();
    expect(names()).toHaveLength(2);
    erase('Bo Tarn');
    await backups.take();
    expect(names()).toHaveLength(1);
  });

  test('within the same second as another takes the next name', async () => {
    const { backups, names } = backedUp();
    await Promise.all([backups.take(), backups.take()]);
    expect(names()).toEqual(['farwall-20270115-080000.db', 'farwall-20270115-080001.db']);
  });

  test('that cannot be made is logged and told, and the next one can be', async () => {
    const { backups, folder, faults, hand, write } = backedUp();
    write('Ada Vint');
    writeFileSync(folder, 'a file in the way');
    expect(await backups.take()).toMatchObject({ kind: 'failed' });
    expect(backups.last).toEqual({ at: hand.now, ok: false });
    expect(faults).toHaveLength(1);
  });

  test('made by an earlier server is known', async () => {
    const { backups, folder, store, hand } = backedUp();
    await backups.take();
    const nothing = (): void => {};
    const parts = { source: store.backupSource, folder, keep: 7, mayTake: () => true, note: nothing, log: nothing };
    expect(new Backups({ ...parts, wallMs: () => hand.now }).last).toEqual({ at: hand.now, ok: true });
  });

  test('asked for at the very end is made when there is time, and none afterwards', async () => {
    const { backups, names, write } = backedUp();
    write('Ada Vint');
    await backups.end(20_000);
    expect(names()).toHaveLength(1);
    expect(await backups.take()).toEqual({ kind: 'given-up' });
    expect(names()).toHaveLength(1);
  });
});

test('[FLT6] the last good backup is the newest that is whole and that this Farwall can read', async () => {
  const { backups, folder, hand } = backedUp();
  await backups.take();
  expect(lastGoodBackup(folder, 0)).toBe(null);
  const good = join(folder, 'farwall-20270115-080000.db');
  const newer = join(folder, 'farwall-20270116-080000.db');
  copyFileSync(good, newer);
  const changed = new DatabaseSync(newer);
  changed.exec('PRAGMA user_version = 99');
  changed.close();
  writeFileSync(join(folder, 'farwall-20270117-080000.db'), 'cut off');
  writeFileSync(join(folder, 'farwall-20270118-080000.db'), '');
  expect(lastGoodBackup(folder, 98)).toEqual({ file: good, at: hand.now });
});
