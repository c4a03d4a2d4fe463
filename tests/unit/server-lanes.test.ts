import { describe, expect, test } from 'vitest';
import { laneNumber } from '../../shared-types/brand.ts';
import { DEFAULT_POOL } from '../../shared-types/pool.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import { placeOf } from '../../shared-types/swimmer-place.ts';
import { previewSchema, squadAnswerSchema } from '../../shared-types/wire/desk.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import { lanesProposalSchema, type SwimmerPlace } from '../../shared-types/wire/lanes.ts';
import { type RunningServer, runServer, withDemo } from '../fixtures/running-server.ts';

const HEADER = 'swimmer,lane,order,group,event,course,time';
const CSV = [
  HEADER,
  'Ada Vint,2,1,A,200 free,SCM,2:10.0',
  'Bo Tarn,1,1,B,200 free,SCM,2:20.0',
  'Cy Orr,1,2,B,200 free,SCM,2:11.0',
  'Dot Vale,2,2,A,50 fly,SCM,33.0',
].join('\n');

const failureOf = (body: unknown) => failureSchema.loose().parse(body);

async function withSquad(csv = CSV) {
  const server = await runServer();
  await server.ask('PUT', '/api/squad', { body: { csv, fileName: 'squad.csv' } });
  return server;
}

const squadNow = async ({ ask }: RunningServer): Promise<Swimmer[]> =>
  squadAnswerSchema.parse((await ask('GET', '/api/squad')).body).swimmers;

async function named(server: RunningServer, name: string): Promise<Swimmer> {
  const swimmer = (await squadNow(server)).find((one) => one.name === name);
  if (!swimmer) throw new Error(`no ${name}`);
  return swimmer;
}

const FREE_200 = { distance: 200, stroke: 'free', activity: 'swim' };
const propose = (server: RunningServer, more: object = {}) =>
  server.ask('POST', '/api/preview/lanes', { body: { event: FREE_200, course: 'SCM', capacity: 2, ...more } });

const change = (server: RunningServer, places: readonly SwimmerPlace[], instead: readonly SwimmerPlace[]) =>
  server.ask('PUT', '/api/squad/lanes', { body: { places, instead } });

/** Moves one swimmer from where they are. */
async function move(server: RunningServer, name: string, to: Partial<SwimmerPlace>) {
  const now = placeOf(await named(server, name));
  return change(server, [{ ...now, ...to }], [now]);
}

describe('lanes that are proposed', () => {
  test('have means, spread and reasons, and change nothing', async () => {
    const server = await withSquad();
    await server.ask('PUT', '/api/pool', { body: { ...DEFAULT_POOL, lanes: 2 } });
    const before = await squadNow(server);
    const proposal = lanesProposalSchema.parse((await propose(server)).body);
    expect(
      proposal.lanes.map(({ lane, meanMs, spreadMs, swimmers }) => [
        lane,
        meanMs,
        spreadMs,
        swimmers.map(({ name }) => name),
      ]),
    ).toEqual([
      [1, 130_500, 1000, ['Ada Vint', 'Cy Orr']],
      [2, 140_000, 0, ['Bo Tarn', 'Dot Vale']],
    ]);
    expect(proposal.lanes[0]?.swimmers[0]).toMatchObject({
      basis: '200 free 2:10.00 SCM (best)',
      estimate: null,
      laneNow: 2,
    });
    expect(proposal.without).toEqual([{ name: 'Dot Vale', missing: 'no 200 free time (SCM)', laneNow: 2 }]);
    // 2 · (0.5 s)², by hand.
    expect(proposal.sumOfSquares).toBe(500_000);
    expect(await squadNow(server)).toEqual(before);
  });

  test('are refused with the reason and the cure', async () => {
    const server = await withSquad();
    await server.ask('PUT', '/api/pool', { body: { ...DEFAULT_POOL, lanes: 1 } });
    const full = await propose(server);
    expect([full.status, failureOf(full.body)]).toMatchObject([
      422,
      { code: 'no-lanes', fix: expect.stringContaining('lanes') },
    ]);
    const none = await propose(server, { event: { ...FREE_200, stroke: 'breast' } });
    expect(failureOf(none.body).message).toBe('Nobody has a 200 breast time (SCM).');
  });
});

describe('lanes that are changed', () => {
  test('are kept, and nothing else of the swimmer is touched', async () => {
    const server = await withSquad();
    const before = await named(server, 'Ada Vint');
    expect((await move(server, 'Ada Vint', { lane: laneNumber(3), order: 1 })).status).toBe(200);
    expect(await named(server, 'Ada Vint')).toEqual({ ...before, lane: 3, order: 1 });
    await move(server, 'Ada Vint', { lane: null, order: null });
    const { lane: _, order: _order, ...without } = before;
    expect(await named(server, 'Ada Vint')).toEqual(without);
  });

  test('are those of the next sheet', async () => {
    const server = await runServer();
    await withDemo(server);
    const [first] = await squadNow(server);
    if (!first) throw new Error('the demo has nobody');
    await move(server, first.name, { lane: null, order: null });
    const preview = await server.ask('POST', '/api/preview', { body: { text: '8 x 50 free @ 1:30\n' } });
    const lane = previewSchema.parse(preview.body).sheet?.lanes.find((one) => one.lane === first.lane);
    expect(lane?.swimmers).not.toContain(first.id);
    expect(lane?.swimmers).toHaveLength(3);
  });

  test('cannot be lanes that the pool does not have, or that are full', async () => {
    const server = await withSquad();
    const beyond = await move(server, 'Ada Vint', { lane: laneNumber(7) });
    expect([beyond.status, failureOf(beyond.body)]).toMatchObject([
      422,
      { message: 'There is no lane 7: the pool has 6 lanes.', fix: 'Take lane 1 to 6, or give the pool more lanes.' },
    ]);
    const rows = Array.from(
      { length: 13 },
      (_, place) => `Swimmer ${place},${place < 12 ? 1 : 2},,A,200 free,SCM,2:10.0`,
    );
    const full = await withSquad([HEADER, ...rows].join('\n'));
    expect(failureOf((await move(full, 'Swimmer 12', { lane: laneNumber(1), order: 13 })).body).message).toBe(
      'Lane 1 would have 13 swimmers; a lane takes 12.',
    );
    expect((await named(full, 'Swimmer 12')).lane).toBe(2);
  });

  test('who is in a lane beyond the pool can still be moved out of it', async () => {
    const server = await withSquad(`${HEADER}\nAda Vint,9,1,A,200 free,SCM,2:10.0`);
    expect((await move(server, 'Ada Vint', { lane: laneNumber(6) })).status).toBe(200);
  });

  test('are refused when somebody moved the swimmer in between, all of them or none', async () => {
    const server = await withSquad();
    const [ada, bo] = [placeOf(await named(server, 'Ada Vint')), placeOf(await named(server, 'Bo Tarn'))];
    await move(server, 'Bo Tarn', { lane: laneNumber(5) });
    const before = await squadNow(server);
    const to = laneNumber(4);
    const refused = await change(
      server,
      [
        { ...ada, lane: to },
        { ...bo, lane: to },
      ],
      [ada, bo],
    );
    expect([refused.status, failureOf(refused.body).code]).toEqual([409, 'saved-in-between']);
    expect(await squadNow(server)).toEqual(before);
    expect((await change(server, [ada, ada], [ada])).status).toBe(400);
  });
});
