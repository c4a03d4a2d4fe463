import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { poolClock } from '../../server/clock.ts';
import { randomId } from '../../server/ids.ts';
import { RunKeeper } from '../../server/running/run-keeper.ts';
import { Backups } from '../../server/store/backups.ts';
import { openDatabase } from '../../server/store/open-database.ts';
import { storeOn } from '../../server/store/store.ts';
import { Devices } from '../../server/web/devices.ts';
import { LIMITS } from '../../server/web/limits.ts';
import { OpenPages } from '../../server/web/open-pages.ts';
import { Pairing } from '../../server/web/pairing.ts';
import { Screens } from '../../server/web/screens.ts';
import { Walls } from '../../server/web/walls.ts';
import { webServer } from '../../server/web/web-server.ts';
import { answerSchema } from '../../shared-types/commands.ts';
import { healthSchema } from '../../shared-types/wire/desk.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { becomeOwner } from '../fixtures/paired.ts';
import { ask, type Press, putDemoOn, TestScreen } from '../fixtures/running-server.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

/** A real server on a disk whose room can be taken away and given back: SQLite's own limit of pages. */
async function serverOnSmallDisk() {
  const folder = temporaryFolder();
  const opened = openDatabase(folder);
  if (!opened.ok) throw new Error(opened.message);
  const { database } = opened;
  const store = storeOn(database);
  const machine = new HandMachineClock();
  const clock = poolClock(machine, null);
  const logged: unknown[] = [];
  const log = (error: unknown): void => void logged.push(error);
  const nothing = (): void => {};
  const keeper = new RunKeeper({ store, now: clock.now, newId: randomId, log });
  const backups = new Backups({
    source: store.backupSource,
    folder: join(folder, 'backups'),
    keep: 7,
    wallMs: () => machine.wallMs(),
    mayTake: () => true,
    note: nothing,
    log,
  });
  const screens = new Screens();
  const pairing = new Pairing(store.devices, clock.now);
  const app = await webServer({
    store,
    keeper,
    backups,
    clock,
    startedAt: clock.now(),
    screens,
    walls: new Walls(store.screens, screens, clock.now),
    devices: new Devices({ store: store.devices, now: clock.now, newId: randomId, isSecure: false }),
    pairing,
    pages: new OpenPages(),
    addresses: () => ({ here: '', elsewhere: [] }),
    secure: null,
    local: null,
    limits: LIMITS,
    newId: randomId,
    timezone: 'UTC',
    allowedHosts: [],
    pagesFolder: null,
    log,
    note: nothing,
  });
  await app.listen({ host: '127.0.0.1', port: 0 });
  onTestFinished(async () => {
    await app.close();
    await backups.end(0);
    store.close();
  });
  const address = app.server.address();
  const url = `http://127.0.0.1:${typeof address === 'object' && address ? address.port : 0}`;
  await becomeOwner(url, pairing.ownerKey);
  const allowPages = (pages: unknown): void => database.exec(`PRAGMA max_page_count = ${pages}`);
  return {
    url,
    folder,
    logged,
    keeper,
    now: clock.now,
    fill: () => allowPages(database.pragma('page_count')),
    makeRoom: () => allowPages(1_000_000),
    health: async () => healthSchema.parse((await ask(url, 'GET', '/health')).body),
  };
}

test('[FLT7] on a full disk presses are refused in words, the practice goes on, and with room again they work', async () => {
  const server = await serverOnSmallDisk();
  await putDemoOn(server.url);
  const [deck, wall] = [new TestScreen(server.url, 'deck'), new TestScreen(server.url, 'wall')];
  await Promise.all([deck.hello(), wall.hello()]);
  const pressOf = (press: Press): unknown => {
    if (!server.keeper.run) throw new Error('nothing is on the wall');
    return deck.command(press, server.keeper.run, server.now());
  };
  const answerTo = async (command: unknown) => answerSchema.parse(await deck.ask('command', command));
  expect(await answerTo(pressOf({ kind: 'start', when: 'now' }))).toEqual({ ok: true, seq: 1 });
  expect(await server.health()).toMatchObject({ database: 'ok' });
  server.fill();
  let last = pressOf({ kind: 'hold' });
  let answer = await answerTo(last);
  // What is left of the last page takes a few more.
  for (let tries = 0; answer.ok && tries < 1000; tries += 1) {
    last = pressOf(server.keeper.run?.state === 'held' ? { kind: 'resume', when: 'now' } : { kind: 'hold' });
    answer = await answerTo(last);
  }
  expect(answer).toMatchObject({ code: 'not-stored', message: expect.stringContaining('so it did not happen') });
  expect(server.logged).toHaveLength(1);
  const run = server.keeper.run;
  expect(await server.health()).toMatchObject({ ok: true, database: 'read-only', run: { seq: run?.seq } });
  // The run is told from memory, to those there and to those who come, as if nobody had pressed.
  await expect.poll(() => wall.all('event').length).toBe(run?.seq);
  expect(await new TestScreen(server.url, 'wall').hello()).toMatchObject({ ok: true, live: { run } });
  const draft = { text: '8 x 50 free @ 1:00\n'.repeat(400), baseVersion: 0 };
  const unsaved = await ask(server.url, 'PUT', `/api/practices/${randomId()}`, { body: draft });
  expect([unsaved.status, unsaved.body]).toMatchObject([507, { ok: false, code: 'not-stored' }]);

  server.makeRoom();
  expect(await answerTo(last)).toEqual({ ok: true, seq: (run?.seq ?? 0) + 1 });
  expect(await server.health()).toMatchObject({ database: 'ok' });
  await expect.poll(() => wall.all('event').length).toBe((run?.seq ?? 0) + 1);
});

test('[FLT7] a backup that cannot be written is told and logged, and stops nothing', async () => {
  const server = await serverOnSmallDisk();
  const loaded = await putDemoOn(server.url);
  writeFileSync(join(server.folder, 'backups'), 'a file in the way');
  const { status, body } = await ask(server.url, 'POST', '/api/backup');
  expect([status, body]).toMatchObject([507, { ok: false, code: 'not-stored' }]);
  expect(await server.health()).toMatchObject({ ok: true, database: 'ok', lastBackup: { ok: false } });
  expect(server.logged).toHaveLength(1);
  const deck = new TestScreen(server.url, 'deck');
  await deck.hello();
  const start = deck.command({ kind: 'start', when: 'now' }, loaded, server.now());
  expect(await deck.ask('command', start)).toEqual({ ok: true, seq: 1 });
});
