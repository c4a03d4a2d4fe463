import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import type { Later } from '../../server/running/history-keeper.ts';
import { monthsBefore, Retention, sweep } from '../../server/running/retention.ts';
import { RunKeeper } from '../../server/running/run-keeper.ts';
import { OF_RUNS } from '../../server/store/personal-tables.ts';
import { openStore } from '../../server/store/store.ts';
import { instant, type RunId } from '../../shared-types/brand.ts';
import { type KeepMonths, olderSchema } from '../../shared-types/wire/privacy.ts';
import { best, swimmer } from '../fixtures/planning.ts';
import { runServer } from '../fixtures/running-server.ts';
import { filesWith } from '../fixtures/stored-bytes.ts';
import { Season } from '../fixtures/swum-season.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

const DAY_MS = 86_400_000;
const NOON = Date.UTC(2027, 0, 15, 12);
const TEXT = 'Main: best average\n4 x 100 free @ 2:00\n';

/** Timers that are fired by hand, the one asked for last. */
function byHand() {
  const asked: { afterMs: number; work: () => void; isOff: boolean }[] = [];
  const later: Later = (afterMs, work) => {
    const timer = { afterMs, work, isOff: false };
    asked.push(timer);
    return () => {
      timer.isOff = true;
    };
  };
  return { later, asked, fire: () => asked.at(-1)?.work() };
}

function openPool() {
  const folder = temporaryFolder();
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  const { store } = opened;
  let isOpen = true;
  const close = (): void => {
    if (isOpen) store.close();
    isOpen = false;
  };
  onTestFinished(close);
  const clock = { now: NOON };
  const logged: unknown[] = [];
  const log = (error: unknown): void => void logged.push(error);
  const keeper = new RunKeeper({ store, now: () => instant(clock.now), newId: randomId, log });
  store.squad.replace({ swimmers: [swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')])] }, false);
  const pass = (byMs: number): void => {
    clock.now += byMs;
  };
  const season = new Season({ store, keeper }, { now: () => clock.now, pass });
  const parts = { store, keeper, now: () => instant(clock.now), log, note: () => {} };
  const keep = (keepMonths: KeepMonths): void => store.pool.savePrivacy({ names: 'first', keepMonths });
  return { folder, store, keeper, season, parts, keep, logged, close };
}

const runsIn = (store: ReturnType<typeof openPool>['store']): RunId[] =>
  store.runList.page(100, null).runs.map(({ id }) => id);

const swim = (season: Season, day: number, text = TEXT): RunId =>
  season.until(NOON + day * DAY_MS).swim(text, { timeOf: ({ rep }) => 60 + rep });

describe('what is older than what is kept', () => {
  test('goes when the server starts, and every day after that', () => {
    const { store, season, parts, keep, logged } = openPool();
    const [old, newer, last] = [swim(season, 0), swim(season, 100), swim(season, 190)];
    const { later, asked, fire } = byHand();
    keep(6);
    const retention = new Retention(parts, later);
    expect(runsIn(store)).toEqual([last, newer]);
    season.until(NOON + 300 * DAY_MS);
    fire();
    expect(runsIn(store)).toEqual([last]);
    expect(asked.map(({ afterMs }) => afterMs)).toEqual([DAY_MS, DAY_MS]);
    retention.end();
    expect(asked.at(-1)?.isOff).toBe(true);
    expect(store.runs.run(old)).toBeNull();
    expect(logged).toEqual([]);
  });

  test('leaves no row of its runs in any table, nor a sheet that none of the others has', async () => {
    const { folder, store, keeper, season, parts, keep, close } = openPool();
    const gone = swim(season, 0, `${TEXT}50 free @ 1:00\n`);
    const stays = swim(season, 300);
    await keeper.history.upToDate(null);
    const sheetOf = (run: RunId) => store.runs.run(run)?.hash;
    const [goneSheet, staysSheet] = [sheetOf(gone), sheetOf(stays)];
    keep(6);
    new Retention(parts, undefined);
    expect(goneSheet && store.runs.sheetText(goneSheet)).toBeNull();
    expect(staysSheet && store.runs.sheetText(staysSheet)).not.toBeNull();
    close();
    const raw = new DatabaseSync(join(folder, 'farwall.db'));
    const counts = OF_RUNS.map((table) => [
      table,
      raw.prepare(`SELECT count(*) AS rows FROM ${table} WHERE run_id <> ?`).get(stays)?.rows,
    ]);
    expect(counts).toEqual(OF_RUNS.map((table) => [table, 0]));
    raw.close();
  });

  test('stays while a practice is under way, and as long as it is the one on the wall', () => {
    const { store, season, parts, keep } = openPool();
    const old = swim(season, 0);
    const { run } = season.until(NOON + 300 * DAY_MS).begin(TEXT);
    const { later, asked, fire } = byHand();
    keep(6);
    new Retention(parts, later);
    expect(runsIn(store)).toEqual([run, old]);
    // It is looked again within the hour.
    expect(asked.at(-1)?.afterMs).toBe(3_600_000);
    season.finish();
    season.until(NOON + 900 * DAY_MS);
    fire();
    expect(runsIn(store)).toEqual([run]);
  });

  test('stays for ever unless the coach says otherwise', () => {
    const { store, season, parts } = openPool();
    const old = swim(season, 0);
    season.until(NOON + 9000 * DAY_MS);
    new Retention(parts, undefined);
    expect(runsIn(store)).toEqual([old]);
  });

  test('takes what undos have kept from before along', () => {
    const { store, season, parts, keep } = openPool();
    const squad = { swimmers: [swimmer('Bo Tarn', 1, 'A', [])] };
    store.squad.load(squad, { fileName: 'squad.csv', loadedAt: NOON });
    season.until(NOON + 300 * DAY_MS);
    keep(6);
    new Retention(parts, undefined);
    expect(store.squad.beforeLoad()).toBeNull();
    expect(store.squad.squad().swimmers.map(({ name }) => name)).toEqual(['Bo Tarn']);
  });

  test('is counted before anybody deletes it, and deleted at a press', async () => {
    const server = await runServer();
    const { farwall, machine } = server;
    farwall.store.squad.replace({ swimmers: [swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')])] }, false);
    const season = new Season(farwall, { now: farwall.clock.now, pass: (byMs) => machine.pass(byMs) });
    season.swim(TEXT, { timeOf: () => 61 });
    machine.pass(300 * DAY_MS);
    season.begin(TEXT);
    const ask = async (method: string, months = 6) => server.ask(method, `/api/squad/older?months=${months}`);
    expect(olderSchema.parse((await ask('GET')).body)).toMatchObject({ practices: 1, times: 4 });
    expect((await ask('DELETE')).status).toBe(409);
    season.finish();
    expect(olderSchema.parse((await ask('GET', 12)).body)).toMatchObject({ practices: 0, times: 0, oldest: null });
    expect(olderSchema.parse((await ask('DELETE')).body)).toMatchObject({ practices: 1 });
    expect(olderSchema.parse((await ask('GET')).body)).toMatchObject({ practices: 0 });
    expect((await ask('GET', 7)).status).toBe(400);
    expect(server.logged).toEqual([]);
  });
});

test('bytes of a deletion that a kill or a full disk has left are out of the file when the server starts again', () => {
  const { folder, store, parts } = openPool();
  const [ada] = store.squad.squad().swimmers;
  if (!ada) throw new Error('is in the squad');
  store.erasure.erase(ada.id, ada.name, NOON, () => []);
  expect(store.erasure.isUnswept()).toBe(true);
  new Retention(parts, undefined);
  expect(store.erasure.isUnswept()).toBe(false);
  expect(filesWith(folder, 'Vance')).toEqual([]);
});

test('where the file cannot be written anew just now, that is logged and left for later', () => {
  const { store, logged } = openPool();
  const log = (error: unknown): void => void logged.push(error);
  expect(store.inTransaction(() => sweep(store, log))).toBe(false);
  expect(logged).toHaveLength(1);
  expect(sweep(store, log)).toBe(true);
});

test.for([
  ['2027-08-31T10:00:00Z', 6, '2027-02-28T10:00:00.000Z'],
  ['2028-08-31T10:00:00Z', 6, '2028-02-29T10:00:00.000Z'],
  ['2027-01-15T00:00:00Z', 12, '2026-01-15T00:00:00.000Z'],
  ['2027-05-31T00:00:00Z', 24, '2025-05-31T00:00:00.000Z'],
] as const)('before %s, %i months, is %s', ([at, months, before]) => {
  expect(new Date(monthsBefore(Date.parse(at), months)).toISOString()).toBe(before);
});
