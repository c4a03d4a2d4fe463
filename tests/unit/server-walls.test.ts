import { describe, expect, test } from 'vitest';
import { failureSchema, helloAnswerSchema } from '../../shared-types/wire/from-server.ts';
import { PROTOCOL } from '../../shared-types/wire/protocol.ts';
import { type WallInfo, type WallSettings, wallInfosSchema } from '../../shared-types/wire/walls.ts';
import { type RunningServer, runServer, type TestScreen } from '../fixtures/running-server.ts';

const SETTINGS: WallSettings = {
  name: 'Far end',
  place: 'far',
  lanes: null,
  order: 'last-on-top',
  diagonalInches: 55,
  distanceM: 8,
  sound: { on: false, offsetMs: 0 },
};

async function wallOn(server: RunningServer): Promise<TestScreen> {
  const wall = server.screen('wall');
  await wall.hello();
  return wall;
}

const pathOf = ({ device }: Pick<TestScreen, 'device'>): string => `/api/walls/${device}`;
const setUp = (server: RunningServer, wall: Pick<TestScreen, 'device'>, change: object = {}) =>
  server.ask('PUT', pathOf(wall), { body: { ...SETTINGS, ...change } });

/** What a screen that says hello is told of itself. */
async function toldOf(screen: TestScreen) {
  const answer = await screen.hello();
  return answer.ok ? answer.wall : undefined;
}

const wallsOn = (desk: TestScreen): WallInfo[] => wallInfosSchema.parse(desk.all('walls').at(-1) ?? []);

/** What a page of the same device would send after another start of its browser. */
const helloOf = ({ device }: TestScreen) => ({ protocols: [PROTOCOL], role: 'wall', device });

describe('a wall', () => {
  test('that nobody has set up gets the lowest number that is free', async () => {
    const server = await runServer();
    const [first, second] = [server.screen('wall'), server.screen('wall')];
    expect(await toldOf(first)).toEqual({ number: 1, settings: null });
    expect(await toldOf(second)).toEqual({ number: 2, settings: null });
    expect(await toldOf(second)).toEqual({ number: 2, settings: null });
    const desk = server.screen('desk');
    await desk.hello();
    first.socket.disconnect();
    await expect.poll(() => wallsOn(desk).map(({ number }) => number)).toEqual([2]);
    expect(await toldOf(server.screen('wall'))).toEqual({ number: 1, settings: null });
    expect(server.farwall.store.screens.walls()).toEqual([]);
  });

  test('is told of itself alone, at once and in the answer to its next hello', async () => {
    const server = await runServer();
    const [near, far] = [await wallOn(server), await wallOn(server)];
    expect((await setUp(server, far)).status).toBe(200);
    await setUp(server, near, { name: 'Blocks', place: 'near' });
    await expect.poll(() => far.all('wall')).toEqual([{ number: 2, settings: SETTINGS }]);
    await expect
      .poll(() => near.all('wall'))
      .toEqual([{ number: 1, settings: { ...SETTINGS, name: 'Blocks', place: 'near' } }]);
    expect(await toldOf(far)).toEqual({ number: 2, settings: SETTINGS });
    expect([await toldOf(server.screen('deck')), await toldOf(server.screen('desk'))]).toEqual([undefined, undefined]);
    expect(far.all('walls')).toEqual([]);
  });

  test('that has been set up keeps number and settings while it is away, and over a restart of the server', async () => {
    const server = await runServer();
    const [, far] = [await wallOn(server), await wallOn(server)];
    await setUp(server, far);
    await server.farwall.close();
    const again = await runServer({ folder: server.folder, machine: server.machine });
    const desk = again.screen('desk');
    await desk.hello();
    await expect.poll(() => wallsOn(desk)).toMatchObject([{ number: 2, connected: false, since: null }]);
    expect(await toldOf(again.screen('wall'))).toEqual({ number: 1, settings: null });
    const back = again.screen('wall');
    const answer = helloAnswerSchema.parse(await back.ask('hello', helloOf(far)));
    expect(answer).toMatchObject({ ok: true, wall: { number: 2, settings: SETTINGS } });
  });

  test('that has come back while its old connection lingers is one wall, and is told', async () => {
    const server = await runServer();
    const [far, desk] = [await wallOn(server), server.screen('desk')];
    await desk.hello();
    const back = server.screen('wall');
    await back.ask('hello', helloOf(far));
    far.socket.disconnect();
    await expect
      .poll(() => server.ask('GET', '/health').then(({ body }) => body))
      .toMatchObject({
        screens: [{ role: 'desk' }, { role: 'wall' }],
      });
    await setUp(server, far);
    await expect.poll(() => back.all('wall')).toEqual([{ number: 1, settings: SETTINGS }]);
    await expect.poll(() => wallsOn(desk)).toMatchObject([{ number: 1, connected: true }]);
  });

  test('says its name and number when the desk wants to know, and no other does', async () => {
    const server = await runServer();
    const [near, far] = [await wallOn(server), await wallOn(server)];
    expect((await server.ask('POST', `${pathOf(far)}/identify`)).status).toBe(200);
    await expect.poll(() => far.all('identify')).toEqual([{ forMs: 8000 }]);
    expect(near.all('identify')).toEqual([]);
  });
});

describe('the desk', () => {
  test('is told of every wall since when it is there or gone, its clock and from how far it can be read', async () => {
    const server = await runServer();
    const desk = server.screen('desk');
    await desk.hello();
    const far = await wallOn(server);
    const cameAt = server.farwall.clock.now();
    await setUp(server, far);
    server.machine.pass(60_000);
    await far.ask('status', { syncBoundMs: 3, width: 1920, height: 1080, readableToM: 7.5, seenFromM: 12 });
    const wall = { device: far.device, number: 1, settings: SETTINGS };
    await expect
      .poll(() => wallsOn(desk))
      .toEqual([{ ...wall, connected: true, since: cameAt, syncBoundMs: 3, readableToM: 7.5, seenFromM: 12 }]);
    far.socket.disconnect();
    await expect
      .poll(() => wallsOn(desk))
      .toEqual([
        { ...wall, connected: false, since: cameAt + 60_000, syncBoundMs: null, readableToM: null, seenFromM: null },
      ]);
  });

  test('forgets a wall that is gone; one that is there keeps its number', async () => {
    const server = await runServer();
    const [near, far] = [await wallOn(server), await wallOn(server)];
    await setUp(server, near);
    await setUp(server, far);
    far.socket.disconnect();
    const desk = server.screen('desk');
    await desk.hello();
    await expect.poll(() => wallsOn(desk)).toMatchObject([{ connected: true }, { connected: false }]);
    expect(wallInfosSchema.parse((await server.ask('DELETE', pathOf(far))).body)).toMatchObject([{ number: 1 }]);
    await server.ask('DELETE', pathOf(near));
    await expect.poll(() => near.all('wall').at(-1)).toEqual({ number: 1, settings: null });
    expect(server.farwall.store.screens.walls()).toEqual([]);
    const { status, body } = await server.ask('DELETE', pathOf(far));
    expect([status, failureSchema.parse(body).code]).toEqual([404, 'no-such-wall']);
  });

  test.for([
    ['name', { name: '  ' }, 'Write a name of 1 to 30 characters.'],
    ['name', { name: 'x'.repeat(31) }, 'Write a name of 1 to 30 characters.'],
    ['place', { place: 'middle' }, 'Choose the near or the far wall.'],
    ['lanes', { lanes: [] }, 'Name lanes from 1 to 12, each once, or all.'],
    ['lanes', { lanes: [4, 4] }, 'Name lanes from 1 to 12, each once, or all.'],
    ['lanes.1', { lanes: [4, 13] }, 'Name lanes from 1 to 12, each once, or all.'],
    ['order', { order: 'up' }, 'Choose lane 1 at the top or at the bottom.'],
    ['diagonalInches', { diagonalInches: 5 }, 'Write 10 to 500 inches, or nothing.'],
    ['distanceM', { distanceM: 'far' }, 'Write 1 to 100 metres, or nothing.'],
    ['sound.offsetMs', { sound: { on: true, offsetMs: 0.5 } }, 'Write an offset of −2000 to 2000 whole milliseconds.'],
  ] as const)('is refused %s with the place and the cure: %j', async ([place, change, fix]) => {
    const server = await runServer();
    const far = await wallOn(server);
    const { status, body } = await setUp(server, far, change);
    expect([status, failureSchema.parse(body)]).toMatchObject([400, { code: 'bad-request', place, fix }]);
    expect(server.farwall.store.screens.walls()).toEqual([]);
    expect(far.all('wall')).toEqual([]);
  });

  test('cannot set up or identify a wall that there is not', async () => {
    const server = await runServer();
    const nobody = { device: server.screen('wall').device };
    const set = await setUp(server, nobody);
    expect([set.status, failureSchema.parse(set.body).code]).toEqual([404, 'no-such-wall']);
    const told = await server.ask('POST', `${pathOf(nobody)}/identify`);
    expect([told.status, failureSchema.parse(told.body).code]).toEqual([409, 'not-connected']);
    expect((await server.ask('PUT', '/api/walls/me', { body: SETTINGS })).status).toBe(400);
  });
});
