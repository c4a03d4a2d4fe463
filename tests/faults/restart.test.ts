import { expect, test } from 'vitest';
import { openStore } from '../../server/store/store.ts';
import { instant, type RunId } from '../../shared-types/brand.ts';
import { type Answer, answerSchema, type Command, commandSchema } from '../../shared-types/commands.ts';
import type { Run, RunEvent } from '../../shared-types/events.ts';
import { foldEvents, newRun } from '../../shared-types/fold.ts';
import { placeAt } from '../../shared-types/motion.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { demoAnswerSchema } from '../../shared-types/wire/desk.ts';
import { liveRunSchema, syncAnswerSchema } from '../../shared-types/wire/from-server.ts';
import { ask, type Press, TestScreen } from '../fixtures/running-server.ts';
import { ServerProcess } from '../fixtures/server-process.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

/** Kills in this test; the long run of many is a command of its own. */
const KILLS = 4;

interface Acknowledged {
  readonly command: Command;
  readonly answer: Answer;
}

const serverOn = (folder: string): ServerProcess => new ServerProcess(['--port', '0', '--data', folder]);

async function deckOn(url: string): Promise<{ deck: TestScreen; run: Run | null }> {
  const deck = new TestScreen(url, 'deck');
  const hello = await deck.hello();
  if (!hello.ok) throw new Error(hello.message);
  return { deck, run: hello.live.run };
}

const poolNow = async (deck: TestScreen): Promise<number> =>
  syncAnswerSchema.parse(await deck.ask('sync', { askedAt: 0 })).answeredAt;

/** The pool's clock, and ours before and after asking for it, ms. */
async function timedPoolNow(deck: TestScreen): Promise<{ askedAt: number; poolAt: number; answeredAt: number }> {
  const askedAt = performance.now();
  const poolAt = await poolNow(deck);
  return { askedAt, poolAt, answeredAt: performance.now() };
}

/** Puts the demo's first practice on the wall. */
async function putOnWall(url: string): Promise<Run> {
  const [practice] = demoAnswerSchema.parse((await ask(url, 'POST', '/api/demo')).body).practices;
  const body = { practice: practice?.id, version: 1, replace: false };
  const { run } = liveRunSchema.parse((await ask(url, 'POST', '/api/runs', { body })).body);
  if (!run) throw new Error('nothing is on the wall');
  return run;
}

/** Presses hold and resume by turns, several on their way at once, until the connection is lost. */
async function pressUntilLost(deck: TestScreen, run: Run, heard: (acknowledged: Acknowledged) => void): Promise<void> {
  const presses: Press[] = [{ kind: 'hold' }, { kind: 'resume', when: 'now' }];
  let first = run.state === 'held' ? 1 : 0;
  while (deck.socket.connected) {
    const pressedAt = await poolNow(deck).catch(() => null);
    if (pressedAt === null) return;
    const sent = [0, 1, 2, 3].flatMap((place) => presses[(first + place) % 2] ?? []);
    first = (first + sent.length) % 2;
    await Promise.all(
      sent.map(async (press) => {
        const command = commandSchema.parse(deck.command(press, run, pressedAt));
        const answer = answerSchema.safeParse(await deck.ask('command', command).catch(() => null));
        if (answer.success) heard({ command, answer: answer.data });
      }),
    );
  }
}

interface OnDisk {
  readonly events: RunEvent[];
  readonly run: Run;
  readonly sheet: Sheet;
}

/** What a server that is gone has left on disk. */
function onDisk(folder: string, id: RunId): OnDisk {
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  const { runs } = opened.store;
  const stored = runs.liveRun();
  const sheet = stored && runs.sheet(stored.hash);
  const events = runs.eventsOf(id);
  opened.store.close();
  if (!stored || !sheet) throw new Error('the run is gone');
  return { events, sheet, run: foldEvents(newRun(stored.id, stored.hash, sheet, stored.loadedAt), events) };
}

function expectEveryAcknowledgedEvent(events: readonly RunEvent[], acknowledged: readonly Acknowledged[]): void {
  expect(events.map(({ seq }) => seq)).toEqual(events.map((_, place) => place + 1));
  expect(new Set(events.map(({ command }) => command)).size).toBe(events.length);
  const done = acknowledged.flatMap(({ command, answer }) => (answer.ok ? [[answer.seq, command.id]] : []));
  expect(done.map(([seq]) => seq)).toEqual(
    done.map(([seq]) => seq).toSorted((one, other) => Number(one) - Number(other)),
  );
  expect(done.map(([seq]) => [seq, events[Number(seq) - 1]?.command])).toEqual(done);
}

test('[FLT1] killed at any moment and started again, every acknowledged event is there, once, in order', {
  timeout: 60_000,
}, async () => {
  const folder = temporaryFolder();
  let server = serverOn(folder);
  let url = await server.address();
  let run = await putOnWall(url);
  const acknowledged: Acknowledged[] = [];
  const starter = (await deckOn(url)).deck;
  const start = commandSchema.parse(starter.command({ kind: 'start', when: 'now' }, run, await poolNow(starter)));
  acknowledged.push({ command: start, answer: answerSchema.parse(await starter.ask('command', start)) });
  for (let kill = 1; kill <= KILLS; kill += 1) {
    const { deck, run: found } = await deckOn(url);
    if (!found) throw new Error('nothing is on the wall');
    const before = acknowledged.length;
    const pressing = pressUntilLost(deck, found, (heard) => acknowledged.push(heard));
    await expect.poll(() => acknowledged.length, { interval: 1, timeout: 10_000 }).toBeGreaterThan(before + 7 * kill);
    await server.signal('SIGKILL');
    await pressing;

    const left = onDisk(folder, run.id);
    expectEveryAcknowledgedEvent(left.events, acknowledged);
    server = serverOn(folder);
    url = await server.address();
    const again = await deckOn(url);
    expect(again.run).toEqual(left.run);
    // [CMD1] What was answered before is answered the same now.
    const last = acknowledged.at(-1);
    const repeated = { ...last?.command, device: again.deck.device };
    expect(await again.deck.ask('command', repeated)).toEqual(last?.answer);
    run = left.run;
  }
});

test('[FLT1] killed in the middle of a run, the server has every lane where it should be', async () => {
  const folder = temporaryFolder();
  const server = serverOn(folder);
  const url = await server.address();
  const loaded = await putOnWall(url);
  const { deck } = await deckOn(url);
  await deck.ask('command', deck.command({ kind: 'start', when: 'now' }, loaded, await poolNow(deck)));
  const before = await timedPoolNow(deck);
  await server.signal('SIGKILL');
  const { run, sheet } = onDisk(folder, loaded.id);

  const again = await deckOn(await serverOn(folder).address());
  const after = await timedPoolNow(again.deck);
  const now = after.poolAt;
  // The pool's clock has gone on as long as ours: no shorter, no longer than the asking leaves open.
  expect(now - before.poolAt).toBeGreaterThan(after.askedAt - before.answeredAt - 1);
  expect(now - before.poolAt).toBeLessThan(after.answeredAt - before.askedAt + 1);
  expect(again.run).toEqual(run);
  const [lane] = sheet.lanes;
  if (!lane || !again.run) throw new Error('no lane');
  const [motion] = run.motions;
  const place = placeAt(sheet, again.run.motions, lane, instant(now));
  expect(place.position).toBe(Math.max(0, now - (motion?.at ?? 0)));
});

test('[FLT5] told to end while screens are there, it ends within two seconds with everything stored', async () => {
  const folder = temporaryFolder();
  const server = serverOn(folder);
  const url = await server.address();
  const run = await putOnWall(url);
  const { deck } = await deckOn(url);
  const lost = new Promise((resolve) => deck.socket.on('disconnect', resolve));
  const start = deck.command({ kind: 'start', when: 'now' }, run, await poolNow(deck));
  expect(await deck.ask('command', start)).toEqual({ ok: true, seq: 1 });
  const askedAt = performance.now();
  expect(await server.signal('SIGTERM')).toBe(0);
  expect(performance.now() - askedAt).toBeLessThan(2000);
  // Not told to go: a page would take that for a reason to stay away.
  expect(await lost).toBe('transport close');
  expect(onDisk(folder, run.id).events.map(({ kind }) => kind)).toEqual(['start']);
});
