import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { closeSync, constants, openSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { z } from 'zod';
import { randomId } from '../../server/ids.ts';
import { laneNumber } from '../../shared-types/brand.ts';
import { healthSchema } from '../../shared-types/wire/desk.ts';
import { syncAnswerSchema } from '../../shared-types/wire/from-server.ts';
import { becomeOwner } from '../fixtures/paired.ts';
import { ask, putDemoOn, runServer, TestScreen, withRun } from '../fixtures/running-server.ts';
import { ServerProcess } from '../fixtures/server-process.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

const MAIN = resolve(import.meta.dirname, '../../server/main.ts');
/** More lines of log than any pipe holds. */
const MANY = 1000;

const poolNow = async (screen: TestScreen): Promise<number> =>
  syncAnswerSchema.parse(await screen.ask('sync', { askedAt: 0 })).answeredAt;

/** A deck comes, presses something good and something bad, and goes. */
async function aVisit(url: string): Promise<{ deck: TestScreen; accepted: unknown; refused: unknown }> {
  const run = await putDemoOn(url);
  const deck = new TestScreen(url, 'deck');
  await deck.hello();
  const accepted = deck.command({ kind: 'start', when: 'now' }, run, await poolNow(deck));
  expect(await deck.ask('command', accepted)).toEqual({ ok: true, seq: 1 });
  const press = { kind: 'shift', lane: laneNumber(9), byMs: 5000 } as const;
  const refused = deck.command(press, { ...run, seq: 1 }, (await poolNow(deck)) - 100);
  expect(await deck.ask('command', refused)).toMatchObject({ ok: false, code: 'unknown-lane' });
  deck.socket.disconnect();
  return { deck, accepted, refused };
}

const lineSchema = z.looseObject({ at: z.iso.datetime(), what: z.string() });
const linesOf = ({ stderr }: ServerProcess) =>
  stderr
    .split('\n')
    .filter((line) => line !== '')
    .filter((line) => !line.startsWith('The pages have not been built'))
    .map((line) => lineSchema.parse(JSON.parse(line)));

const idOf = (command: unknown): string => z.object({ id: z.string() }).parse(command).id;

describe('the log of a server', () => {
  test('has a line for each connection, command and disconnection, on standard error', async () => {
    const server = new ServerProcess(['--port', '0', '--data', temporaryFolder()]);
    const { deck, accepted, refused } = await aVisit(await server.address());
    await expect.poll(() => linesOf(server).map(({ what }) => what)).toContain('disconnected');
    const { device } = deck;
    const lines = linesOf(server).filter(({ what }) => what !== 'backup' && what !== 'paired');
    expect(lines).toMatchObject([
      { what: 'connected', role: 'deck', device },
      { what: 'command', kind: 'start', id: idOf(accepted), device, answer: 1, lateMs: expect.any(Number) },
      { what: 'command', kind: 'shift', id: idOf(refused), device, answer: 'unknown-lane', tookMs: expect.any(Number) },
      { what: 'disconnected', role: 'deck', device, reason: 'client namespace disconnect' },
    ]);
    expect(lines[2]?.lateMs).toBeGreaterThanOrEqual(100);
    expect(server.stdout).not.toContain('{');
  });

  test('has no names and nothing out of a file, not even when the server fails at it', async () => {
    const server = new ServerProcess(['--port', '0', '--data', temporaryFolder()]);
    const url = await server.address();
    const csv = 'swimmer,event,course,time\nZora Quillfeather,100 free,LCM,1:05.00\n';
    const good = await ask(url, 'PUT', '/api/squad', { body: { csv, fileName: 'zora-club.csv' } });
    expect(good.status).toBe(200);
    await ask(url, 'PUT', '/api/squad', { body: '{"csv": Zora Quillfeather' });
    const practice = { text: "# Zora's own\n8 x 50 free @ 1:00\n", baseVersion: 0 };
    const saved = await ask(url, 'PUT', `/api/practices/${randomId()}`, { body: practice });
    expect(saved.status).toBe(200);
    const deck = new TestScreen(url, 'deck');
    deck.socket.emit('command', { kind: 'Zora' });
    await deck.hello();
    await expect.poll(() => linesOf(server).map(({ what }) => what)).toContain('connected');
    expect(server.stderr).not.toMatch(/Quillfeather|zora/i);
  });

  test.each([
    ['--quiet', ['--quiet'], {}],
    ['FARWALL_LOG=quiet', [], { FARWALL_LOG: 'quiet' }],
  ])('has faults only with %s', async (_, flags, environment) => {
    const server = new ServerProcess(['--port', '0', '--data', temporaryFolder(), ...flags], environment);
    await aVisit(await server.address());
    expect(await server.signal('SIGTERM')).toBe(0);
    expect(linesOf(server)).toEqual([]);
  });

  test('that nobody reads any more holds nothing up, not the answers and not the end', async () => {
    // Standard error is a pipe that is never read, like the terminal in which somebody has pressed Ctrl-S.
    const folder = temporaryFolder();
    const pipe = join(folder, 'stuck');
    expect(spawnSync('mkfifo', [pipe]).status).toBe(0);
    const stuck = openSync(pipe, constants.O_RDWR);
    onTestFinished(() => closeSync(stuck));
    const server = spawn(process.execPath, [MAIN, '--no-build', '--port', '0', '--data', join(folder, 'data')], {
      stdio: ['ignore', 'pipe', stuck],
    });
    onTestFinished(() => void server.kill('SIGKILL'));
    if (!server.stdout) throw new Error('no standard output');
    const [printed] = await once(server.stdout, 'data');
    const port = /localhost:(\d+)/.exec(String(printed))?.[1];
    const url = `http://127.0.0.1:${port}`;
    await becomeOwner(url, /#key=(\w+)/.exec(String(printed))?.[1] ?? '');
    const run = await putDemoOn(url);
    const deck = new TestScreen(url, 'deck');
    await deck.hello();
    for (let sent = 0; sent < MANY; sent += 100) {
      const pressedAt = await poolNow(deck);
      const holds = Array.from({ length: 100 }, () => deck.command({ kind: 'hold' }, run, pressedAt));
      const answers = await Promise.all(holds.map((hold) => deck.ask('command', hold)));
      expect(answers[99]).toMatchObject({ ok: false, code: 'not-now' });
    }
    const ended = once(server, 'exit');
    const askedAt = performance.now();
    server.kill('SIGTERM');
    expect(await ended).toEqual([0, null]);
    expect(performance.now() - askedAt).toBeLessThan(2000);
  });
});

test('health tells the version, the database, the run, every screen and how long the server is up', async () => {
  const server = await runServer();
  const health = async () => healthSchema.parse((await server.ask('GET', '/health')).body);
  expect(await health()).toMatchObject({
    ok: true,
    database: 'ok',
    lastBackup: null,
    run: null,
    screens: [],
    uptimeMs: 0,
  });
  const run = await withRun(server);
  const [wall, deck] = [server.screen('wall'), server.screen('deck')];
  await Promise.all([wall.hello(), deck.hello()]);
  await wall.ask('status', { syncBoundMs: 4, width: 1920, height: 1080 });
  server.machine.pass(2500);
  const found = await health();
  expect(found.version).toMatch(/^\d+\.\d+\.\d+/);
  expect(found.databaseBytes).toBeGreaterThan(50_000);
  expect(found.run).toEqual({ id: run.id, state: 'ready', seq: 0, sheet: run.sheet });
  expect(found.uptimeMs).toBe(2500);
  expect(found.screens).toHaveLength(2);
  expect(found.screens).toContainEqual({ role: 'wall', syncBoundMs: 4, reportAgeMs: 2500 });
  expect(found.screens).toContainEqual({ role: 'deck', syncBoundMs: null, reportAgeMs: null });
  await expect.poll(async () => (await health()).lastBackup, { timeout: 20_000 }).toMatchObject({ ok: true });
});
