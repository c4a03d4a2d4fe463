import { describe, expect, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { swimmerIdSchema } from '../../shared-types/brand.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import { squadAnswerSchema } from '../../shared-types/wire/desk.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import { swimmerAnswerSchema } from '../../shared-types/wire/swimmer.ts';
import type { HandMachineClock } from '../fixtures/machine-clock.ts';
import { best, swimmer } from '../fixtures/planning.ts';
import { type RunningServer, runServer } from '../fixtures/running-server.ts';
import { Season } from '../fixtures/swum-season.ts';

const [ADA, BO] = [
  swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00'), best('400 free', '4:10.00')]),
  swimmer('Bo Tarn', 2, 'B', [best('200 free', '2:20.00')]),
];

const pathOf = ({ id }: Pick<Swimmer, 'id'>): string => `/api/squad/swimmers/${id}`;

async function withTwo(): Promise<{ server: RunningServer<HandMachineClock>; ada: Swimmer; bo: Swimmer }> {
  const server = await runServer();
  const [ada, bo] = server.farwall.store.squad.replace({ swimmers: [ADA, BO] }, false).swimmers;
  if (!ada || !bo) throw new Error('both were stored');
  return { server, ada, bo };
}

const save = (server: RunningServer, swimmer: Swimmer, instead: Swimmer | null) =>
  server.ask('PUT', pathOf(swimmer), { body: { swimmer, instead } });

const look = async (server: RunningServer, swimmer: Swimmer, query = '') =>
  swimmerAnswerSchema.parse((await server.ask('GET', `${pathOf(swimmer)}${query}`)).body);

const codeOf = (body: unknown) => failureSchema.loose().parse(body).code;

describe('one swimmer', () => {
  test('is told with the threshold of each stroke that the times allow', async () => {
    const { server, ada, bo } = await withTwo();
    // Critical speed of two trials is the slope between them: 200 m in 130 s (Wakayoshi et al. 1992), so 65 s per 100.
    const { swimmer: told, thresholds, sets } = await look(server, ada);
    expect(told).toEqual(ada);
    expect(thresholds).toMatchObject([{ what: 'free', per100Ms: 65_000, estimate: 'critical speed of 200 and 400' }]);
    expect(sets).toEqual([]);
    expect((await look(server, bo)).thresholds).toEqual([]);
  });

  test('is changed, but for the place, which is kept where it was moved meanwhile', async () => {
    const { server, ada } = await withTwo();
    server.farwall.store.squad.save({ ...ada, order: 3 });
    const reply = await save(server, { ...ada, name: 'Ada Vance-Orr', short: 'Addy' }, ada);
    const [stored] = squadAnswerSchema.parse(reply.body).swimmers;
    expect(stored).toEqual({ ...ada, name: 'Ada Vance-Orr', short: 'Addy', order: 3 });
  });

  test('is not changed over what somebody else has changed', async () => {
    const { server, ada } = await withTwo();
    await save(server, { ...ada, short: 'Addy' }, ada);
    const reply = await save(server, { ...ada, short: 'Vance' }, ada);
    expect([reply.status, codeOf(reply.body)]).toEqual([409, 'saved-in-between']);
    expect((await look(server, ada)).swimmer.short).toBe('Addy');
  });

  test('does not get the name of another, however it is spelt', async () => {
    const { server, ada } = await withTwo();
    const reply = await save(server, { ...ada, name: ' bo  TARN' }, ada);
    expect([reply.status, codeOf(reply.body)]).toEqual([409, 'name-is-taken']);
  });

  test('is added behind the others, taken out, and put back as before', async () => {
    const { server, ada, bo } = await withTwo();
    const cy: Swimmer = { id: swimmerIdSchema.parse(randomId()), name: 'Cy Reno', references: [] };
    const names = (body: unknown) => squadAnswerSchema.parse(body).swimmers.map(({ name }) => name);
    expect(names((await save(server, cy, null)).body)).toEqual(['Ada Vance', 'Bo Tarn', 'Cy Reno']);
    expect(names((await server.ask('DELETE', pathOf(ada))).body)).toEqual(['Bo Tarn', 'Cy Reno']);
    expect((await server.ask('DELETE', pathOf(ada))).status).toBe(404);
    expect((await server.ask('GET', pathOf(ada))).status).toBe(404);
    expect((await save(server, { ...ada, short: 'A' }, ada)).status).toBe(404);
    const back = squadAnswerSchema.parse((await save(server, ada, null)).body).swimmers;
    expect(back.map(({ id }) => id)).toEqual([bo.id, cy.id, ada.id]);
    expect(back[2]).toEqual(ada);
  });

  test('in a squad that is full there is no room for', async () => {
    const { server } = await withTwo();
    const many = Array.from({ length: 500 }, (_, place) => swimmer(`Swimmer ${place}`, 1, 'A', []));
    server.farwall.store.squad.replace({ swimmers: many }, false);
    const reply = await save(server, { id: swimmerIdSchema.parse(randomId()), name: 'Cy Reno', references: [] }, null);
    expect([reply.status, codeOf(reply.body)]).toEqual([422, 'squad-is-full']);
  });

  test('is told with the sets swum, the last first, a page at a time', async () => {
    const { server, ada } = await withTwo();
    const { farwall, machine } = server;
    const season = new Season(farwall, { now: farwall.clock.now, pass: (byMs) => machine.pass(byMs) });
    const week = (number: number) => `# Week ${number}\n\nMain: best average\n2 x 100 free @ 3:00\n`;
    for (const number of [0, 1, 2]) season.swim(week(number), { timeOf: () => 61 + number / 10 });
    season.swim(week(3), { timeOf: () => 61.3, rehearsed: true });
    const all = await look(server, ada);
    expect(all.sets.map(({ title, meanMs }) => [title, meanMs])).toEqual([
      ['Week 2', 61_200],
      ['Week 1', 61_100],
      ['Week 0', 61_000],
    ]);
    expect(all.more).toBe(false);
    const page = await look(server, ada, '?limit=2');
    expect([page.sets.length, page.more]).toEqual([2, true]);
  });
});
