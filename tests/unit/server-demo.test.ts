import { describe, expect, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { swimmerIdSchema } from '../../shared-types/brand.ts';
import type { PracticeSummary } from '../../shared-types/wire/desk.ts';
import {
  demoRestoredSchema,
  demoStateSchema,
  practiceSummarySchema,
  squadAnswerSchema,
} from '../../shared-types/wire/desk.ts';
import { failureSchema, liveRunSchema } from '../../shared-types/wire/from-server.ts';
import { weekPlanSchema } from '../../shared-types/wire/plan.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServer, withDemo } from '../fixtures/running-server.ts';
import { Season } from '../fixtures/swum-season.ts';

/** Wednesday 6 January 2027, 18:00 in Lisbon, where it is winter. */
const WEDNESDAY = Date.UTC(2027, 0, 6, 18);
const HOUR_MS = 3_600_000;
const [TUESDAY, THE_DAY] = ['2027-01-05', '2027-01-06'];
const OWN = 'swimmer,lane,event,course,time\nAda Vint,1,200 free,SCM,2:10.0\n';

type Pool = RunningServer<HandMachineClock>;

async function pool(): Promise<{ server: Pool; practices: PracticeSummary[] }> {
  const server = await runServer({ machine: new HandMachineClock({ wallMs: WEDNESDAY }) });
  return { server, practices: await withDemo(server) };
}

const squadIn = async ({ ask }: Pool) => squadAnswerSchema.parse((await ask('GET', '/api/squad')).body);
const titlesIn = async ({ ask }: Pool) =>
  practiceSummarySchema
    .array()
    .parse((await ask('GET', '/api/practices')).body)
    .map(({ title }) => title);
const stateIn = async ({ ask }: Pool) => demoStateSchema.parse((await ask('GET', '/api/demo')).body);
const idsOn = ({ farwall }: Pool, day: string) => farwall.store.plan.on(day);

async function removed(server: Pool) {
  const { status, body } = await server.ask('DELETE', '/api/demo');
  expect(status, JSON.stringify(body)).toBe(200);
  return demoStateSchema.parse(body).removed;
}

async function back(server: Pool) {
  const { status, body } = await server.ask('POST', '/api/demo/restore');
  expect(status, JSON.stringify(body)).toBe(200);
  return demoRestoredSchema.parse(body);
}

async function plan({ ask }: Pool, day: string, practices: readonly PracticeSummary[]): Promise<void> {
  const body = { practices: practices.map(({ id }) => id), instead: [] };
  expect((await ask('PUT', `/api/plan/${day}`, { body })).status).toBe(200);
}

const change = ({ ask }: Pool, { id, version }: PracticeSummary) =>
  ask('PUT', `/api/practices/${id}`, { body: { text: '# Mine\n\n400 free easy\n', baseVersion: version } });

const put = ({ ask }: Pool, practice: PracticeSummary | undefined) =>
  ask('POST', '/api/runs', { body: { practice: practice?.id, version: 1, replace: false } });

const season = ({ farwall, machine }: Pool) =>
  new Season(farwall, { now: farwall.clock.now, pass: (byMs) => machine.pass(byMs) });

describe('the demo is removed', () => {
  test('but not who was added to its squad, beside whom it comes back', async () => {
    const { server } = await pool();
    const own = { id: swimmerIdSchema.parse(randomId()), name: 'Ada Vint', references: [] };
    await server.ask('PUT', `/api/squad/swimmers/${own.id}`, { body: { swimmer: own, instead: null } });
    expect(await removed(server)).toMatchObject({ swimmers: 24 });
    expect(await squadIn(server)).toEqual({ swimmers: [own], demo: false });
    expect(await back(server)).toMatchObject({ swimmers: 24 });
    const { swimmers, demo } = await squadIn(server);
    expect([swimmers.length, swimmers[0], demo]).toEqual([25, own, true]);
  });

  test('with its squad, its practices and what was planned of them, and all of it comes back where it was', async () => {
    const { server, practices } = await pool();
    const [first, second, third] = practices;
    if (!first || !second || !third) throw new Error('the demo has too few practices');
    await plan(server, TUESDAY, [first, second]);
    await plan(server, THE_DAY, [third]);
    const before = [await squadIn(server), await titlesIn(server), idsOn(server, TUESDAY), idsOn(server, THE_DAY)];
    expect(await stateIn(server)).toEqual({ removed: null });

    expect(await removed(server)).toEqual({ swimmers: 24, practices: 5, planned: 3, runs: 0, kept: 0 });
    expect([await squadIn(server), await titlesIn(server)]).toEqual([{ swimmers: [], demo: false }, []]);
    expect([idsOn(server, TUESDAY), idsOn(server, THE_DAY)]).toEqual([[], []]);

    expect(await back(server)).toEqual({ swimmers: 24, practices: 5 });
    const after = [await squadIn(server), await titlesIn(server), idsOn(server, TUESDAY), idsOn(server, THE_DAY)];
    expect(after).toEqual(before);
    expect(await stateIn(server)).toEqual({ removed: null });
    expect((await server.ask('POST', '/api/demo/restore')).status).toBe(409);
  });

  test('without what somebody has changed or deleted since', async () => {
    const { server, practices } = await pool();
    const [first, second, third] = practices;
    if (!first || !second || !third) throw new Error('the demo has too few practices');
    await plan(server, TUESDAY, [first, third]);
    await change(server, third);
    await server.ask('DELETE', `/api/practices/${second.id}`);
    expect(await removed(server)).toEqual({ swimmers: 24, practices: 3, planned: 1, runs: 0, kept: 1 });
    expect([await titlesIn(server), idsOn(server, TUESDAY)]).toEqual([['Mine'], [third.id]]);
    await back(server);
    expect(await titlesIn(server)).not.toContain(second.title);
    expect(idsOn(server, TUESDAY)).toEqual([first.id, third.id]);
  });

  test('and leaves a squad of the coach alone, as does bringing it back', async () => {
    const { server } = await pool();
    await server.ask('PUT', '/api/squad', { body: { csv: OWN, fileName: 'own.csv' } });
    const own = await squadIn(server);
    expect(await removed(server)).toMatchObject({ swimmers: 0, practices: 5 });
    expect(await squadIn(server)).toEqual(own);
    expect(await back(server)).toEqual({ swimmers: 0, practices: 5 });

    await server.ask('POST', '/api/squad/undo', {
      body: { loadedAt: server.farwall.store.squad.beforeLoad()?.loadedAt },
    });
    expect(await removed(server)).toMatchObject({ swimmers: 24 });
    await server.ask('PUT', '/api/squad', { body: { csv: OWN, fileName: 'own.csv' } });
    expect(await back(server)).toEqual({ swimmers: 0, practices: 5 });
    expect((await squadIn(server)).swimmers.map(({ name }) => name)).toEqual(['Ada Vint']);
  });

  test('but there must be something of it', async () => {
    const server = await runServer();
    const refused = await server.ask('DELETE', '/api/demo');
    expect([refused.status, failureSchema.parse(refused.body).code]).toEqual([409, 'no-demo']);
  });

  test('not while it is being swum, and once that is finished it goes off the wall', async () => {
    const { server, practices } = await pool();
    expect((await put(server, practices[0])).status).toBe(200);
    const season = new Season(server.farwall, { now: server.farwall.clock.now, pass: (by) => server.machine.pass(by) });
    for (const pressed of ['start', 'hold'] as const) {
      season.press(pressed);
      const refused = await server.ask('DELETE', '/api/demo');
      expect([refused.status, failureSchema.parse(refused.body)]).toMatchObject([
        409,
        { code: 'still-running', message: 'A practice of the demo is on the wall and under way.' },
      ]);
    }
    expect((await squadIn(server)).swimmers).toHaveLength(24);
    season.finish();
    await removed(server);
    expect(server.farwall.keeper.liveFor('desk')).toEqual({ run: null, labels: {} });
  });

  test('while the coach’s own practice is swum by the coach’s own squad', async () => {
    const { server } = await pool();
    await server.ask('PUT', '/api/squad', { body: { csv: OWN, fileName: 'own.csv' } });
    const { run } = season(server).begin('# Mine\n\n400 free easy\n');
    await removed(server);
    expect(liveRunSchema.parse(server.farwall.keeper.liveFor('desk')).run?.id).toBe(run);
  });

  test('and what its swimmers have swum stays, but counts as rehearsed until the demo is back', async () => {
    const { server } = await pool();
    const text = '# Demo set\n\nMain: race pace\n4 x 50 free @ 1:00 at 200 pace\n';
    const run = season(server).swim(text, { timeOf: () => 33 });
    const weekOf = async () => weekPlanSchema.parse((await server.ask('GET', '/api/plan')).body).swum.byStyle.length;
    const countsAsRehearsed = () => server.farwall.store.runs.run(run)?.rehearsed;
    expect([await weekOf(), countsAsRehearsed()]).toEqual([1, false]);
    expect(await removed(server)).toMatchObject({ runs: 1 });
    expect([await weekOf(), countsAsRehearsed()]).toEqual([0, true]);
    expect((await server.ask('GET', `/api/runs/${run}/results?role=desk`)).status).toBe(200);
    await back(server);
    expect([await weekOf(), countsAsRehearsed()]).toEqual([1, false]);
  });

  test('and begins as it was when it is asked for again, also on another day, when nobody is told of it any more', async () => {
    const { server, practices } = await pool();
    const before = await squadIn(server);
    await removed(server);
    server.machine.pass(5 * HOUR_MS + HOUR_MS - 1000);
    expect((await stateIn(server)).removed?.swimmers).toBe(24);
    server.machine.pass(2000);
    expect(await stateIn(server)).toEqual({ removed: null });
    expect((await withDemo(server)).map(({ id }) => id)).toEqual(practices.map(({ id }) => id));
    expect(await squadIn(server)).toEqual(before);
  });

  test('again after more of it has come back, and then everything can be brought back', async () => {
    const { server } = await pool();
    await server.ask('PUT', '/api/squad', { body: { csv: OWN, fileName: 'own.csv' } });
    expect(await removed(server)).toMatchObject({ swimmers: 0, practices: 5 });
    await server.ask('POST', '/api/squad/undo', {
      body: { loadedAt: server.farwall.store.squad.beforeLoad()?.loadedAt },
    });
    expect(await removed(server)).toMatchObject({ swimmers: 24, practices: 5 });
    expect(await back(server)).toEqual({ swimmers: 24, practices: 5 });
    expect(await titlesIn(server)).toHaveLength(5);
  });
});
