import { describe, expect, test } from 'vitest';
import { planPractice } from '../../server/planning/plan.ts';
import { targetsOf } from '../../shared-types/sheet.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import { squadAnswerSchema } from '../../shared-types/wire/desk.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import type { ReferenceOffer } from '../../shared-types/wire/results.ts';
import { pool25, repsOf } from '../fixtures/planning.ts';
import { type RunningServer, runServer } from '../fixtures/running-server.ts';
import { SwumOnServer } from '../fixtures/swum-on-server.ts';

const SQUAD = `swimmer,lane,event,course,time,kind,date
Ada Vance,1,100 free,SCM,58.00,best,2026-06-01
,,100 free,SCM,59.10,test,2026-10-03
Cato Lind,2,100 free,SCM,1:02.00,best,
`;

const AVERAGE = 'Average: best average\n4 x 100 free @ 2:00 best average\n';

const REHEARSED = {
  practiceText: `# Fast

Blocks: stand-up
2 x 100 free from a dive max @ 4:00

${AVERAGE}
Trial
1 x 400 free max @ 8:00
`,
  squadCsv: SQUAD,
  pool: pool25,
};

const [BLOCKS, MEAN, TRIAL] = [0, 1, 2];
const [IN_BLOCKS, IN_MEAN, IN_TRIAL] = ['4.0.0', '7.0.0', '10.0.0'];

/** Ada's times of all three sets; nobody times Cato. */
async function swum(): Promise<SwumOnServer> {
  const practice = await SwumOnServer.after(60, REHEARSED);
  const take = (step: string, seconds: number) => practice.take({ swimmer: 'Ada Vance', step, seconds });
  await take(`${IN_BLOCKS}.1`, 58.43);
  await take(`${IN_BLOCKS}.2`, 60.2);
  for (const [place, seconds] of [64, 64.3, 64.6, 64.3].entries()) await take(`${IN_MEAN}.${place + 1}`, seconds);
  await take(`${IN_TRIAL}.1`, 275);
  return practice;
}

const offersOf = async (practice: SwumOnServer, set = BLOCKS): Promise<ReferenceOffer[]> =>
  (await practice.resultsOf('Ada Vance', set)).offers ?? [];

async function offerOf(practice: SwumOnServer, set = BLOCKS): Promise<ReferenceOffer> {
  const [offer, ...more] = await offersOf(practice, set);
  if (!offer || more.length > 0) throw new Error('not one offer');
  return offer;
}

const pathOf = (practice: SwumOnServer, { id }: Pick<ReferenceOffer, 'id'>, set = BLOCKS): string =>
  `/api/runs/${practice.run}/references/${set}/${practice.id('Ada Vance')}/${id}`;

async function takeOver(practice: SwumOnServer, set = BLOCKS): Promise<void> {
  const offer = await offerOf(practice, set);
  const { timeMs } = offer;
  const reply = await practice.server.ask('PUT', pathOf(practice, offer, set), { body: { timeMs } });
  expect(reply).toMatchObject({ status: 200, body: { isTaken: true } });
}

async function squadOf({ ask }: Pick<RunningServer, 'ask'>): Promise<Swimmer[]> {
  return squadAnswerSchema.parse((await ask('GET', '/api/squad')).body).swimmers;
}

async function adaOn(server: RunningServer): Promise<Swimmer> {
  const ada = (await squadOf(server)).find(({ name }) => name === 'Ada Vance');
  if (!ada) throw new Error('Ada is gone');
  return ada;
}

const testsOf = ({ references }: Swimmer): string[] =>
  references.filter(({ kind }) => kind === 'test').map(({ event, timeMs }) => `${event.distance} ${timeMs / 1000}`);

describe('results on offer as references', () => {
  test('say what they would be, how they were taken and what stands there now; the best is left out', async () => {
    const practice = await swum();
    expect(await offersOf(practice, BLOCKS)).toEqual([
      {
        id: 'test-100-free-swim',
        what: '100 free SCM test',
        time: '58.4',
        timeMs: 58_430,
        notes: ['by hand'],
        before: '59.10 of 3 Oct 2026',
        isTaken: false,
      },
    ]);
    expect(await offersOf(practice, MEAN)).toMatchObject([
      { id: 'mean', what: 'mean of 4 × 100 free, from a push, SCM, @ 2:00', time: '1:04.3', before: null },
    ]);
    expect(await offersOf(practice, TRIAL)).toMatchObject([
      { what: '400 free SCM test', notes: ['from a push', 'by hand'] },
    ]);
  });

  test('change nothing by themselves, and are told to desks only', async () => {
    const practice = await swum();
    const before = await squadOf(practice.server);
    await practice.results();
    expect(await squadOf(practice.server)).toEqual(before);
    const { body } = await practice.server.ask('GET', `/api/runs/${practice.run}/results?role=deck`);
    expect(JSON.stringify(body)).not.toContain('offers');
  });
});

describe('a result that a coach takes over', () => {
  test('is in the squad in the place of the test before, beside the best, and undo puts that back', async () => {
    const practice = await swum();
    const { server } = practice;
    const before = await adaOn(server);
    await takeOver(practice);
    const ada = await adaOn(server);
    expect(testsOf(ada)).toEqual(['100 58.43']);
    expect(ada.references).toContainEqual(before.references[0]);
    expect(ada.references.at(-1)).toMatchObject({ handTimed: true, start: 'dive', date: '2027-01-15' });
    const taken = await offerOf(practice);
    expect(taken).toMatchObject({ isTaken: true, before: '59.10 of 3 Oct 2026' });
    const undone = await server.ask('DELETE', pathOf(practice, taken));
    expect(undone).toMatchObject({ status: 200, body: { isTaken: false } });
    expect(await adaOn(server)).toEqual(before);
    expect(await offerOf(practice)).toMatchObject({ isTaken: false });
  });

  test('can be undone after a restart too', async () => {
    const practice = await swum();
    await takeOver(practice);
    const { server } = practice;
    await server.farwall.close();
    const again = await runServer({ folder: server.folder, machine: server.machine });
    await again.ask('DELETE', pathOf(practice, { id: 'test-100-free-swim' }));
    expect(testsOf(await adaOn(again))).toEqual(['100 59.1']);
  });

  test('twice is taken over once', async () => {
    const practice = await swum();
    await takeOver(practice);
    await takeOver(practice);
    expect(testsOf(await adaOn(practice.server))).toEqual(['100 58.43']);
  });

  test('stays in its place among those on offer', async () => {
    const text = '# Fast\n\nBlocks: stand-up\n4 x 50 IM order from a dive max @ 4:00\n';
    const practice = await SwumOnServer.after(30, { ...REHEARSED, practiceText: text });
    for (const rep of [1, 2, 3, 4]) {
      await practice.take({ swimmer: 'Ada Vance', step: `4.0.0.${rep}`, seconds: 30 + rep });
    }
    const ids = ['fly', 'back', 'breast', 'free'].map((stroke) => `test-50-${stroke}-swim`);
    const states = async () => (await offersOf(practice)).map(({ id, isTaken }) => [id, isTaken]);
    expect(await states()).toEqual(ids.map((id) => [id, false]));
    const [, , breast] = await offersOf(practice);
    if (!breast) throw new Error('nothing is on offer');
    await practice.server.ask('PUT', pathOf(practice, breast), { body: { timeMs: breast.timeMs } });
    expect(await states()).toEqual(ids.map((id) => [id, id === breast.id]));
  });

  test('as the mean of a best average is what the same set asks for the next time', async () => {
    const practice = await swum();
    const { server } = practice;
    await takeOver(practice, MEAN);
    const { sheet } = planPractice(AVERAGE, { swimmers: await squadOf(server) }, pool25);
    const [rep] = sheet ? repsOf(sheet, 1) : [];
    const [target] = sheet && rep ? targetsOf(sheet, rep) : [];
    expect(target).toMatchObject({ ms: 64_300, estimated: false });
    expect(target?.basis).toContain('on 15 Jan 2027');
    expect(target?.basis).toContain('by hand');
  });

  test('stays when the squad is loaded anew from its file', async () => {
    const practice = await swum();
    await takeOver(practice);
    await practice.server.ask('PUT', '/api/squad', { body: { csv: SQUAD, fileName: 'squad.csv' } });
    expect(testsOf(await adaOn(practice.server))).toEqual(['100 59.1', '100 58.43']);
    const taken = await offerOf(practice);
    expect(taken.isTaken).toBe(true);
    await practice.server.ask('DELETE', pathOf(practice, taken));
    expect(testsOf(await adaOn(practice.server))).toEqual(['100 59.1']);
  });
});

describe('what cannot be done to a reference', () => {
  const refusal = async (practice: SwumOnServer, method: 'PUT' | 'DELETE', path: string, timeMs = 58_430) => {
    const { status, body } = await practice.server.ask(method, path, method === 'PUT' ? { body: { timeMs } } : {});
    return [status, failureSchema.parse(body).message];
  };

  test('is told: another time by now, nothing to undo, no such result, no such practice', async () => {
    const practice = await swum();
    const path = pathOf(practice, { id: 'test-100-free-swim' });
    const before = await squadOf(practice.server);
    expect(await refusal(practice, 'PUT', path, 58_400)).toEqual([409, 'The time is another one by now: 58.4.']);
    expect(await refusal(practice, 'DELETE', path)).toEqual([
      409,
      'The squad has another time there by now, so there is nothing to put back.',
    ]);
    expect(await refusal(practice, 'PUT', pathOf(practice, { id: 'test-50-free-swim' }))).toEqual([
      409,
      'This result cannot be taken over any more.',
    ]);
    expect(await refusal(practice, 'PUT', path.replace(practice.run, '0'.repeat(32)))).toEqual([
      404,
      'The server has never had such a practice.',
    ]);
    expect(await squadOf(practice.server)).toEqual(before);
  });
});
