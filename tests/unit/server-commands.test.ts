import { expect, test } from 'vitest';
import { openStore } from '../../server/store/store.ts';
import { type Answer, answerSchema } from '../../shared-types/commands.ts';
import { runEventSchema } from '../../shared-types/events.ts';
import { failureSchema, liveRunSchema, screensSchema } from '../../shared-types/wire/from-server.ts';
import { PROTOCOL } from '../../shared-types/wire/protocol.ts';
import { runServer, type TestScreen, withRun } from '../fixtures/running-server.ts';

const answerOf = async (screen: TestScreen, command: unknown): Promise<Answer> =>
  answerSchema.parse(await screen.ask('command', command));

test('a screen that says hello gets the protocol, the run on the wall and how to read the clock', async () => {
  const server = await runServer();
  const run = await withRun(server);
  const hello = await server.screen('wall').hello();
  expect(hello).toMatchObject({
    ok: true,
    protocol: PROTOCOL,
    live: { run },
    settings: { timezone: 'Europe/Lisbon', trimMs: 0, gridMs: 5000, leadInMs: 3000 },
  });
});

test('a page newer or older than the server is told so in words', async () => {
  const server = await runServer();
  expect(await server.screen('wall').hello([PROTOCOL + 1, PROTOCOL + 2])).toMatchObject({
    ok: false,
    code: 'page-too-new',
    message: 'This page is newer than the server.',
  });
  expect(await server.screen('wall').hello([PROTOCOL - 1])).toMatchObject({
    ok: false,
    code: 'page-too-old',
    fix: 'Reload the page.',
  });
  expect(await server.screen('wall').hello([PROTOCOL, PROTOCOL + 1])).toMatchObject({ ok: true, protocol: PROTOCOL });
});

test("[SYN1] a sync is answered with the instants of the pool's clock", async () => {
  const server = await runServer();
  const screen = server.screen('wall');
  server.machine.pass(1234);
  const now = server.farwall.clock.now();
  expect(await screen.ask('sync', { askedAt: 17 })).toEqual({ receivedAt: now, answeredAt: now });
});

test('[CMD1] a command sent ten times acts once, gets one answer, and everybody hears of it once', async () => {
  const server = await runServer();
  const run = await withRun(server);
  const [wall, deck] = [server.screen('wall'), server.screen('deck')];
  await Promise.all([wall.hello(), deck.hello()]);
  const start = deck.command({ kind: 'start', when: 'grid' }, run, server.farwall.clock.now());
  const answers = await Promise.all(Array.from({ length: 10 }, () => answerOf(deck, start)));
  expect(new Set(answers.map((answer) => JSON.stringify(answer)))).toEqual(new Set([JSON.stringify(answers[0])]));
  expect(answers[0]).toEqual({ ok: true, seq: 1 });
  expect(server.farwall.store.runs.eventsOf(run.id)).toHaveLength(1);
  for (const screen of [wall, deck]) {
    await expect.poll(() => screen.all('event')).toHaveLength(1);
    expect(runEventSchema.parse(screen.all('event')[0])).toMatchObject({ seq: 1, kind: 'start', state: 'running' });
  }
});

test('[CMD1] refusals are stored too: what was refused once stays refused, after a restart as well', async () => {
  const server = await runServer();
  const run = await withRun(server);
  const deck = server.screen('deck');
  await deck.hello();
  const now = server.farwall.clock.now();
  const hold = deck.command({ kind: 'hold' }, run, now);
  const refused = await answerOf(deck, hold);
  expect(refused).toMatchObject({ ok: false, code: 'not-now' });
  expect(await answerOf(deck, deck.command({ kind: 'start', when: 'now' }, run, now))).toEqual({ ok: true, seq: 1 });
  expect(await answerOf(deck, hold)).toEqual(refused);

  await server.farwall.close();
  const again = await runServer({ folder: server.folder, machine: server.machine });
  const other = again.screen('deck');
  await other.hello();
  expect(await answerOf(other, { ...Object(hold), device: other.device })).toEqual(refused);
  expect(again.farwall.keeper.run).toMatchObject({ id: run.id, seq: 1, state: 'running' });
});

test('a command for a practice that is no longer on the wall is refused', async () => {
  const server = await runServer();
  const run = await withRun(server);
  const deck = server.screen('deck');
  await deck.hello();
  await server.ask('DELETE', '/api/runs/live');
  const start = deck.command({ kind: 'start', when: 'now' }, run, server.farwall.clock.now());
  expect(await answerOf(deck, start)).toMatchObject({ ok: false, code: 'no-run' });
});

test('a wall cannot command, nor can anybody who has not said hello', async () => {
  const server = await runServer();
  const run = await withRun(server);
  const [wall, stranger] = [server.screen('wall'), server.screen('deck')];
  await wall.hello();
  for (const screen of [wall, stranger]) {
    const start = screen.command({ kind: 'start', when: 'now' }, run, server.farwall.clock.now());
    expect(failureSchema.parse(await screen.ask('command', start)).code).toBe('not-allowed');
  }
  expect(server.farwall.keeper.run?.state).toBe('ready');
});

test('a command in the name of another device is refused', async () => {
  const server = await runServer();
  const run = await withRun(server);
  const [deck, other] = [server.screen('deck'), server.screen('deck')];
  await deck.hello();
  const start = other.command({ kind: 'start', when: 'now' }, run, server.farwall.clock.now());
  expect(await deck.ask('command', start)).toMatchObject({ ok: false, code: 'bad-message', place: 'device' });
});

test('decks and desks hear who is connected, walls do not', async () => {
  const server = await runServer();
  const [wall, deck] = [server.screen('wall'), server.screen('deck')];
  await deck.hello();
  await wall.hello();
  const status = { syncBoundMs: 4, width: 1920, height: 1080 };
  expect(await wall.ask('status', status)).toEqual({ ok: true });
  const last = () => screensSchema.parse(deck.all('screens').at(-1) ?? []);
  await expect.poll(last).toContainEqual({ device: wall.device, role: 'wall', ...status });
  wall.socket.disconnect();
  await expect
    .poll(last)
    .toEqual([{ device: deck.device, role: 'deck', syncBoundMs: null, width: null, height: null }]);
  expect(wall.all('screens')).toEqual([]);
});

test('names are short on the wall, in full on the desk', async () => {
  const server = await runServer();
  await withRun(server);
  const [wall, desk] = await Promise.all([server.screen('wall').hello(), server.screen('desk').hello()]);
  const labelsOf = (hello: typeof wall) => (hello.ok ? Object.values(hello.live.labels) : []);
  expect(labelsOf(wall).length).toBeGreaterThan(0);
  expect(labelsOf(wall).filter((label) => /\s\p{L}{4}/u.test(label))).toEqual([]);
  expect(labelsOf(desk).every((label) => label.includes(' '))).toBe(true);
});

test('another practice on the wall is told to everybody', async () => {
  const server = await runServer();
  const deck = server.screen('deck');
  expect(await deck.hello()).toMatchObject({ ok: true, live: { run: null } });
  const run = await withRun(server);
  await expect.poll(() => deck.all('run')).toHaveLength(1);
  expect(liveRunSchema.parse(deck.all('run')[0]).run).toEqual(run);
});

test("a machine's clock set while a practice runs moves nobody, not even when the server starts again", async () => {
  const server = await runServer();
  const run = await withRun(server);
  const deck = server.screen('deck');
  await deck.hello();
  await answerOf(deck, deck.command({ kind: 'start', when: 'now' }, run, server.farwall.clock.now()));
  const before = server.farwall.clock.now();
  server.machine.step(3_600_000);
  await server.farwall.close();
  server.machine.pass(1500);
  const again = await runServer({ folder: server.folder, machine: server.machine });
  expect(again.farwall.clock.now()).toBe(before + 1500);
});

test('with no practice under way a server that starts takes the time from the machine', async () => {
  const server = await runServer();
  await withRun(server);
  server.machine.step(3_600_000);
  await server.farwall.close();
  const again = await runServer({ folder: server.folder, machine: server.machine });
  expect(again.farwall.clock.now()).toBe(server.machine.wallMs());
});

test('a second server on the same folder is refused in words', async () => {
  const server = await runServer();
  const second = openStore(server.folder);
  expect(second.ok ? 'opened' : second.message).toMatch(/^The database ".*" is in use, perhaps by another Farwall/);
});
