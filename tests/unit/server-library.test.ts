import { setImmediate as afterOthers } from 'node:timers/promises';
import { describe, expect, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import type { PracticeId } from '../../shared-types/brand.ts';
import { practiceSummarySchema, storedPracticeSchema } from '../../shared-types/wire/desk.ts';
import { changedSchema, failureSchema } from '../../shared-types/wire/from-server.ts';
import { foundAnswerSchema, versionsAnswerSchema } from '../../shared-types/wire/library.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { best, swimmer } from '../fixtures/planning.ts';
import { type RunningServer, runServer } from '../fixtures/running-server.ts';

/** Wednesday 6 January 2027, 23:30 in Lisbon, where it is winter. */
const WEDNESDAY = Date.UTC(2027, 0, 6, 23, 30);
const HOUR_MS = 3_600_000;

const PACE = '# Pace\n\nMain: race pace\n10 x 100 free @ 1:40 at 200 pace -- tall hips\n';
const PULL = '# Pull\n\nLong: aerobic\n4 x 400 free pull @ 6:30 easy\n';
/** Of two pace groups, each its own. */
const SPLIT = '# Two groups\n\nMain\nA:\n  8 x 50 free max @ 2:00\nB:\n  4 x 50 kick @ 1:30\n';
const SLIPPED = '# Slipped\n\nMain\n4 x 50 free @ 1;00\n';

async function saved({ ask }: Pick<RunningServer, 'ask'>, text: string, id = randomId(), baseVersion = 0) {
  const reply = await ask('PUT', `/api/practices/${id}`, { body: { text, baseVersion } });
  expect(reply.status).toBe(200);
  return storedPracticeSchema.parse(reply.body).id;
}

interface Library {
  readonly server: RunningServer<HandMachineClock>;
  readonly pace: PracticeId;
  readonly pull: PracticeId;
}

/** The pull practice was saved an hour after the other, past midnight. */
async function library(): Promise<Library> {
  const machine = new HandMachineClock({ wallMs: WEDNESDAY });
  const server = await runServer({ machine });
  const squad = [
    swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]),
    swimmer('Bo Tarn', 2, 'B', [best('200 free', '2:20.00')]),
  ];
  server.farwall.store.squad.replace({ swimmers: squad }, false);
  const pace = await saved(server, PACE);
  machine.pass(HOUR_MS);
  return { server, pace, pull: await saved(server, PULL) };
}

async function found({ ask }: Pick<RunningServer, 'ask'>, query: string): Promise<string[]> {
  const reply = await ask('GET', `/api/practices/search?${query}`);
  expect(reply.status, JSON.stringify(reply.body)).toBe(200);
  return foundAnswerSchema.parse(reply.body).practices.map(({ title }) => title);
}

const titlesIn = async ({ ask }: Pick<RunningServer, 'ask'>): Promise<string[]> =>
  practiceSummarySchema
    .array()
    .parse((await ask('GET', '/api/practices')).body)
    .map(({ title }) => title);

describe('practices are found', () => {
  test.for([
    ['', ['Pull', 'Pace']],
    ['text=hips', ['Pace']],
    ['text=FREE%20easy', ['Pull']],
    ['text=free', ['Pull', 'Pace']],
    ['text=100%25', []],
    ['text=_ull', []],
    ['style=aerobic', ['Pull']],
    ['style=power', []],
    // 10 × 100 and 4 × 400.
    ['least=1001', ['Pull']],
    ['most=1000', ['Pace']],
    ['least=1000&most=1600', ['Pull', 'Pace']],
    // 23:30 and 0:30 in Lisbon.
    ['to=2027-01-06', ['Pace']],
    ['from=2027-01-07', ['Pull']],
    ['from=2027-01-06&to=2027-01-07&text=free&style=race%20pace', ['Pace']],
    ['from=2027-01-08', []],
  ] as const)('by %s: %j', async ([query, titles]) => {
    const { server } = await library();
    expect(await found(server, query)).toEqual(titles);
  });

  test('with what they come to, by all pace groups, and of the newest version only', async () => {
    const { server, pace } = await library();
    await saved(server, SPLIT);
    const reply = await server.ask('GET', '/api/practices/search?text=groups');
    expect(foundAnswerSchema.parse(reply.body).practices).toMatchObject([
      { metres: 400, styles: ['power', 'aerobic'] },
    ]);
    await saved(server, PULL.replace('# Pull', '# Pace no more'), pace, 1);
    expect(await found(server, 'style=race%20pace')).toEqual([]);
    expect(await found(server, 'text=hips')).toEqual([]);
    expect(await found(server, 'style=aerobic')).toEqual(['Pace no more', 'Pull', 'Two groups']);
  });

  test('also when they have errors, but then by their words only', async () => {
    const { server } = await library();
    await saved(server, SLIPPED);
    expect(await found(server, 'text=slipped')).toEqual(['Slipped']);
    expect(await found(server, 'text=slipped&least=1')).toEqual([]);
  });

  test('as many as are asked for, and it is said that there are others', async () => {
    const { server } = await library();
    const reply = await server.ask('GET', '/api/practices/search?limit=1');
    expect(foundAnswerSchema.parse(reply.body)).toMatchObject({ practices: [{ title: 'Pull' }], more: true });
  });

  test('or it is said in words what cannot be looked for', async () => {
    const { server } = await library();
    for (const [query, words] of [
      ['style=fast', /The server cannot read this/],
      ['from=soon', /not a date like 2027-01-15/],
      ['least=-1', /The server cannot read this/],
    ] as const) {
      const reply = await server.ask('GET', `/api/practices/search?${query}`);
      expect(reply.status).toBe(400);
      expect(failureSchema.parse(reply.body).message).toMatch(words);
    }
  });
});

describe('a practice that is deleted', () => {
  test('is out of the library and its search, and back as it was on undo, through a restart', async () => {
    const { server, pace } = await library();
    expect((await server.ask('DELETE', `/api/practices/${pace}`)).body).toEqual({ deleted: true });
    expect(await titlesIn(server)).toEqual(['Pull']);
    expect(await found(server, '')).toEqual(['Pull']);
    await server.farwall.close();
    const again = await runServer({ folder: server.folder });
    expect(await titlesIn(again)).toEqual(['Pull']);
    const back = await again.ask('POST', `/api/practices/${pace}/restore`);
    expect(storedPracticeSchema.parse(back.body)).toMatchObject({ id: pace, version: 1, text: PACE });
    expect(await titlesIn(again)).toEqual(['Pull', 'Pace']);
  });

  test('comes back when somebody else was still writing it', async () => {
    const { server, pace } = await library();
    await server.ask('DELETE', `/api/practices/${pace}`);
    await saved(server, `${PACE}\n4 x 50 free @ 1:00\n`, pace, 1);
    expect(await titlesIn(server)).toEqual(['Pace', 'Pull']);
  });

  test('has to have been there', async () => {
    const { server } = await library();
    for (const reply of [
      await server.ask('DELETE', `/api/practices/${randomId()}`),
      await server.ask('POST', `/api/practices/${randomId()}/restore`),
      await server.ask('GET', `/api/practices/${randomId()}/versions`),
    ]) {
      expect(reply.status).toBe(404);
    }
  });
});

test('every saved version of a practice can be asked for', async () => {
  const { server, pace } = await library();
  await saved(server, PULL, pace, 1);
  const versions = versionsAnswerSchema.parse((await server.ask('GET', `/api/practices/${pace}/versions`)).body);
  expect(versions.versions.map(({ version, title }) => [version, title])).toEqual([
    [2, 'Pull'],
    [1, 'Pace'],
  ]);
  const first = await server.ask('GET', `/api/practices/${pace}?version=1`);
  expect(storedPracticeSchema.parse(first.body)).toMatchObject({ version: 1, text: PACE });
  expect((await server.ask('GET', `/api/practices/${pace}?version=9`)).status).toBe(404);
});

test('desks are told what has been changed, decks and walls are not, and nothing of questions or refusals', async () => {
  const { server, pace } = await library();
  const [desk, deck] = [server.screen('desk'), server.screen('deck')];
  await Promise.all([desk.hello(), deck.hello()]);
  await server.ask('GET', '/api/practices');
  await server.ask('POST', '/api/preview', { body: { text: PACE } });
  await server.ask('DELETE', `/api/practices/${randomId()}`);
  await saved(server, PULL, pace, 1);
  await server.ask('PUT', '/api/pool', { body: (await server.ask('GET', '/api/pool')).body });
  while (desk.all('changed').length < 2) await afterOthers();
  expect(desk.all('changed').map((told) => changedSchema.parse(told).what)).toEqual(['practices', 'pool']);
  expect(deck.all('changed')).toEqual([]);
});
