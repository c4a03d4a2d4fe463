import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { RESISTED_CAUTION } from '../../server/planning/compile/cautions.ts';
import { isKnown, none, type Power } from '../../shared-types/results.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import { pool25 } from '../fixtures/planning.ts';
import { runServer } from '../fixtures/running-server.ts';
import { SwumOnServer } from '../fixtures/swum-on-server.ts';

const REHEARSED = {
  practiceText: `# Strength

Raw: power
3 x 25 free max with pulley 10 kg @ 2:00

Long: power
2 x 25 free max with cord @ 2:00

Free: power
2 x 25 free max @ 2:00
`,
  squadCsv: 'swimmer,lane,event,course,time\nAda Vance,1,100 free,SCM,58.00\nCato Lind,2,100 free,SCM,1:02.00\n',
  pool: { ...pool25, rig: { ratio: 10, stackHeightM: 2.5, timedDistance: 20 } },
};

const [PULLEY, CORD, NOTHING] = [0, 1, 2];
const step = (rep: number): string => `4.0.0.${rep}`;

/** Ada's three pulley reps: 20 m in 10, 11 and 12.5 s. */
async function swum(): Promise<SwumOnServer> {
  const practice = await SwumOnServer.after(30, REHEARSED);
  await practice.take({ swimmer: 'Ada Vance', step: step(1), distance: 20, seconds: 10 });
  await practice.take({ swimmer: 'Ada Vance', step: step(2), distance: 20, seconds: 11 });
  await practice.take({ swimmer: 'Ada Vance', step: step(3), distance: 20, seconds: 12.5 });
  return practice;
}

async function powerOf(practice: SwumOnServer, set = PULLEY): Promise<Power> {
  const { power } = await practice.resultsOf('Ada Vance', set);
  if (!isKnown(power)) throw new Error(power.none);
  return power;
}

describe('what a swimmer pulled against', () => {
  test('makes the power: 12 kg, 10:1, 20 m in 10 s is 23.5 W (computed from P = m·g·(d/r)/t)', async () => {
    const practice = await swum();
    // As the practice says, 10 kg: 19.6133 W, computed.
    expect((await powerOf(practice)).reps[0]).toMatchObject({ loadKg: 10 });
    expect((await powerOf(practice)).bestWatts).toBeCloseTo(19.6133, 4);
    const reply = await practice.putLoads('Ada Vance', [{ step: step(1), load: { kg: 12 } }]);
    expect(reply).toMatchObject({ status: 200, body: { loads: [{ step: step(1), load: { kg: 12 } }] } });
    const power = await powerOf(practice);
    expect(power.reps[0]).toMatchObject({ loadKg: 12, ms: 10_000 });
    expect(power.reps[0]?.watts).toBeCloseTo(23.53596, 5);
    expect(power.reps[1]).toMatchObject({ loadKg: 10 });
    // The last: 10 · 9.80665 · 2 / 12.5 = 15.69064 W, a third less than the best.
    expect(power.dropPercent).toBeCloseTo(100 / 3, 9);
    expect((await practice.resultsOf('Ada Vance')).lead.line).toBe('10 to 12 kg, best 10.0, 23.5 W, drop 33.3 %');
  });

  test('may be the force of the rope, on a cord too: P = F·d/t', async () => {
    const practice = await swum();
    await practice.putLoads('Ada Vance', [{ step: step(1), load: { newtons: 60 } }]);
    expect((await powerOf(practice)).reps[0]).toMatchObject({
      loadKg: none('the force of the rope instead'),
      ropeN: 60,
      watts: 120,
    });
    await practice.take({ swimmer: 'Ada Vance', step: '7.0.0.1', seconds: 20 });
    expect((await practice.resultsOf('Ada Vance', CORD)).power).toEqual(none('no pulley'));
    await practice.putLoads('Ada Vance', [{ step: '7.0.0.1', load: { newtons: 80 } }], CORD);
    // The whole rep: 80 N over 25 m in 20 s.
    expect((await powerOf(practice, CORD)).bestWatts).toBe(100);
  });

  test('is one swimmer’s alone, in the place of what was written before, and stays through a restart', async () => {
    const practice = await swum();
    await practice.putLoads('Ada Vance', [{ step: step(1), load: { kg: 12 } }]);
    await practice.putLoads('Cato Lind', [{ step: step(1), load: { kg: 8 } }]);
    await practice.putLoads('Ada Vance', [{ step: step(2), load: { kg: 14 } }]);
    const { server } = practice;
    await server.farwall.close();
    const again = await runServer({ folder: server.folder, machine: server.machine });
    const stored = again.farwall.store.loads.of(practice.run);
    const loadsOf = (name: string) => stored.find(({ swimmer }) => swimmer === practice.id(name))?.loads;
    expect(stored).toHaveLength(2);
    expect(loadsOf('Ada Vance')).toEqual([{ step: step(2), load: { kg: 14 } }]);
    expect(loadsOf('Cato Lind')).toEqual([{ step: step(1), load: { kg: 8 } }]);
  });

  test('of nothing is as the practice says again', async () => {
    const practice = await swum();
    await practice.putLoads('Ada Vance', [{ step: step(1), load: { kg: 12 } }]);
    expect((await practice.resultsOf('Ada Vance')).loads).toHaveLength(1);
    await practice.putLoads('Ada Vance', []);
    expect(await practice.resultsOf('Ada Vance')).not.toHaveProperty('loads');
    expect((await powerOf(practice)).reps[0]).toMatchObject({ loadKg: 10 });
  });

  test('is asked for where something is pulled, with the pulley that is known, and the caution for it once', async () => {
    const { sets } = await (await swum()).results();
    expect(sets.map(({ pulled }) => pulled)).toEqual([
      {
        against: 'pulley',
        saidKg: 10,
        rig: { ratio: 10, stackHeightM: 2.5, timedDistance: 20 },
        caution: RESISTED_CAUTION,
      },
      { against: 'other' },
      undefined,
    ]);
  });

  test('stands in the CSV with the power of each rep', async () => {
    const practice = await swum();
    await practice.putLoads('Ada Vance', [{ step: step(1), load: { kg: 12 } }]);
    const csv = (await practice.server.ask('GET', `/api/runs/${practice.run}/results.csv?role=desk`)).bytes.toString();
    const rows = z.array(z.record(z.string(), z.string())).parse(Papa.parse(csv, { header: true }).data);
    const reps = rows.filter(({ record, swimmer, set }) => record === 'rep' && swimmer === 'Ada Vance' && set === '1');
    expect(reps.map(({ load_kg, rope_n, watts }) => [load_kg, rope_n, watts])).toEqual([
      ['12', '', '23.536'],
      ['10', '', '17.83'],
      ['10', '', '15.691'],
    ]);
  });
});

describe('the pulley of a run', () => {
  test('is the one the pool had when it was put on the wall, though the pool has another one now', async () => {
    const practice = await swum();
    await practice.server.ask('PUT', '/api/pool', { body: { ...REHEARSED.pool, rig: { ratio: 5 } } });
    expect((await powerOf(practice)).bestWatts).toBeCloseTo(19.6133, 4);
  });

  test('may be written down after the practice, where nothing was known of it', async () => {
    const practice = await SwumOnServer.after(30, { ...REHEARSED, pool: pool25 });
    await practice.take({ swimmer: 'Ada Vance', step: step(1), seconds: 12.5 });
    expect((await powerOf(practice)).bestWatts).toEqual(none('pulley ratio not known'));
    await practice.server.ask('PUT', '/api/pool', { body: { ...pool25, rig: { ratio: 10, timedDistance: 20 } } });
    // What was timed stays what was timed: all 25 m of it.
    expect((await powerOf(practice)).bestWatts).toBeCloseTo(19.6133, 4);
  });
});

describe('loads that cannot be kept', () => {
  test.for([
    [
      PULLEY,
      [{ step: step(1), load: { kg: 0 } }],
      400,
      'Write a stack’s mass of 0.5 to 200 kg, or a rope’s force of 1 to 1000 N.',
    ],
    [
      PULLEY,
      [{ step: step(1), load: { kg: 12, newtons: 60 } }],
      400,
      'Write a stack’s mass of 0.5 to 200 kg, or a rope’s force of 1 to 1000 N.',
    ],
    [
      PULLEY,
      [{ step: '9.0.0.1', load: { kg: 12 } }],
      422,
      'Look at the results again: the practice may have been changed.',
    ],
    [PULLEY, [1, 1].map((rep) => ({ step: step(rep), load: { kg: 12 } })), 422, 'Write one for each.'],
    [CORD, [{ step: '7.0.0.1', load: { kg: 12 } }], 422, 'Write the force of the rope in newtons, like 60 N.'],
    [NOTHING, [{ step: '10.0.0.1', load: { newtons: 60 } }], 422, undefined],
    [9, [], 404, undefined],
  ] as const)('set %i, %j: %i, %s', async ([set, loads, status, fix]) => {
    const practice = await SwumOnServer.after(30, REHEARSED);
    const reply = await practice.putLoads('Ada Vance', loads, set);
    expect(reply.status).toBe(status);
    expect(failureSchema.parse(reply.body).fix).toBe(fix);
    expect(practice.server.farwall.store.loads.of(practice.run)).toEqual([]);
  });

  test('because there is no such practice, or because nobody of that id swims it, are told so', async () => {
    const practice = await SwumOnServer.after(30, REHEARSED);
    const nobody = '0'.repeat(32);
    const asked = async (path: string): Promise<string> => {
      const { body } = await practice.server.ask('PUT', path, { body: { loads: [] } });
      return failureSchema.parse(body).message;
    };
    expect(await asked(`/api/runs/${nobody}/loads/0/${practice.id('Ada Vance')}`)).toBe(
      'The server has never had such a practice.',
    );
    expect(await asked(`/api/runs/${practice.run}/loads/0/${nobody}`)).toBe(
      'This swimmer has no place in such a set of the practice.',
    );
  });
});
