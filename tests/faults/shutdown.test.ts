import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { openStore } from '../../server/store/store.ts';
import { laneNumber, type RunId } from '../../shared-types/brand.ts';
import { answerSchema } from '../../shared-types/commands.ts';
import { healthSchema } from '../../shared-types/wire/desk.ts';
import { syncAnswerSchema } from '../../shared-types/wire/from-server.ts';
import { ask, putDemoOn, TestScreen } from '../fixtures/running-server.ts';
import { ServerProcess } from '../fixtures/server-process.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

const WALLS = Array.from({ length: 8 }, () => 'wall' as const);

const serverOn = (folder: string): ServerProcess => new ServerProcess(['--port', '0', '--data', folder]);

async function screensOn(url: string, roles: readonly ('wall' | 'deck')[]): Promise<TestScreen[]> {
  const screens = roles.map((role) => new TestScreen(url, role));
  await Promise.all(screens.map((screen) => screen.hello()));
  return screens;
}

const poolNow = async (screen: TestScreen): Promise<number> =>
  syncAnswerSchema.parse(await screen.ask('sync', { askedAt: 0 })).answeredAt;

/** How long the server takes to end after SIGTERM, ms. */
async function endingTime(server: ServerProcess): Promise<number> {
  const askedAt = performance.now();
  expect(await server.signal('SIGTERM')).toBe(0);
  return performance.now() - askedAt;
}

function acceptedOnDisk(folder: string, run: RunId): number[] {
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  const events = opened.store.runs.eventsOf(run);
  opened.store.close();
  return events.map(({ seq }) => seq);
}

const backupsIn = (folder: string): string[] => readdirSync(join(folder, 'backups'));

/** A backup is made in its own time after what it is for. */
const untilBackedUp = (url: string): Promise<void> =>
  expect
    .poll(async () => healthSchema.parse((await ask(url, 'GET', '/health')).body).lastBackup, { timeout: 20_000 })
    .toMatchObject({ ok: true });

describe('[FLT5] told to end', () => {
  test('while ten screens are there and decks press without pause, it ends within two seconds with all stored', async () => {
    const folder = temporaryFolder();
    const server = serverOn(folder);
    const url = await server.address();
    const run = await putDemoOn(url);
    const screens = await screensOn(url, [...WALLS, 'deck', 'deck']);
    const decks = screens.slice(8);
    const accepted: number[] = [];
    const pressing = decks.map(async (deck) => {
      while (deck.socket.connected) {
        const pressedAt = await poolNow(deck).catch(() => null);
        if (pressedAt === null) return;
        // A start is refused after the first, a shift is not: both are stored.
        const presses = [{ kind: 'start', when: 'now' } as const, shiftBy(5000), shiftBy(-5000)];
        const answers = presses.map((press) =>
          deck.ask('command', deck.command(press, run, pressedAt)).catch(() => null),
        );
        for (const answer of await Promise.all(answers)) {
          const said = answerSchema.safeParse(answer);
          if (said.success && said.data.ok) accepted.push(said.data.seq);
        }
      }
    });
    await expect.poll(() => accepted.length, { interval: 5, timeout: 20_000 }).toBeGreaterThan(20);
    expect(await endingTime(server)).toBeLessThan(2000);
    await Promise.all(pressing);
    const stored = acceptedOnDisk(folder, run.id);
    expect(stored).toEqual(stored.map((_, place) => place + 1));
    expect(stored).toEqual(expect.arrayContaining(accepted));
  });

  test('[FLT6] with nothing under way, it leaves a backup of what has changed since the last', async () => {
    const folder = temporaryFolder();
    const server = serverOn(folder);
    const url = await server.address();
    await putDemoOn(url);
    await untilBackedUp(url);
    const before = backupsIn(folder);
    expect((await ask(url, 'DELETE', '/api/runs/live')).status).toBe(200);
    expect(await endingTime(server)).toBeLessThan(2000);
    expect(backupsIn(folder).length).toBeGreaterThan(before.length);
    const again = serverOn(folder);
    await again.printed(/localhost/);
    await endingTime(again);
    // Nothing has changed, so nothing was made.
    expect(backupsIn(folder)).toHaveLength(before.length + 1);
  });
});

const shiftBy = (byMs: number) => ({ kind: 'shift', lane: laneNumber(1), byMs }) as const;

describe('[FLT6] backups by themselves', () => {
  test('are made when a practice is put on the wall, finished and taken off, not while it runs', async () => {
    const folder = temporaryFolder();
    const server = serverOn(folder);
    const url = await server.address();
    const run = await putDemoOn(url);
    await untilBackedUp(url);
    expect(backupsIn(folder)).toHaveLength(1);
    const [deck] = await screensOn(url, ['deck']);
    if (!deck) throw new Error('no deck');
    await deck.ask('command', deck.command({ kind: 'start', when: 'now' }, run, await poolNow(deck)));
    const refused = await ask(url, 'POST', '/api/backup');
    expect([refused.status, refused.body]).toMatchObject([409, { ok: false, code: 'still-running' }]);
    expect(backupsIn(folder)).toHaveLength(1);
    await deck.ask('command', deck.command({ kind: 'finish' }, { ...run, seq: 1 }, await poolNow(deck)));
    await expect
      .poll(() => backupsIn(folder).filter((name) => name.endsWith('.db')).length, { timeout: 20_000 })
      .toBe(2);
    await ask(url, 'DELETE', '/api/runs/live');
    await expect
      .poll(() => backupsIn(folder).filter((name) => name.endsWith('.db')).length, { timeout: 20_000 })
      .toBe(3);
    expect(server.stderr).not.toContain('"what":"fault"');
  });
});
