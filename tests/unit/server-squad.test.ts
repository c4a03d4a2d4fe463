import { describe, expect, test } from 'vitest';
import { squadAnswerSchema } from '../../shared-types/wire/desk.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import { squadBeforeSchema, squadPreviewSchema } from '../../shared-types/wire/squad.ts';
import { type RunningServer, runServer, withDemo, withRun } from '../fixtures/running-server.ts';
import { filesWith } from '../fixtures/stored-bytes.ts';

const CSV = 'swimmer,lane,event,course,time\nAda Vint,1,200 free,SCM,2:10.0\nBo Tarn,2,200 free,SCM,2:20.0\n';
const MESSY =
  '\uFEFFswimmer;lane;event;course;time\r\nAda Vint;1;200 free;SCM;2:09,50\r\nAda Vint;1;200 free;SCM;2:09,50\r\nCy Orr;99;200 free;SCM;2:30\r\n';

const failureOf = (body: unknown) => failureSchema.loose().parse(body);

async function look(server: RunningServer, csv: string) {
  const asked = await server.ask('POST', '/api/preview/squad', { body: { csv, fileName: 'squad.csv' } });
  return squadPreviewSchema.parse(asked.body);
}

const load = (server: RunningServer, csv: string, more: object = {}) =>
  server.ask('PUT', '/api/squad', { body: { csv, fileName: 'squad.csv', ...more } });

const squadNow = async (server: RunningServer) => squadAnswerSchema.parse((await server.ask('GET', '/api/squad')).body);

const beforeNow = async (server: RunningServer) =>
  squadBeforeSchema.parse((await server.ask('GET', '/api/squad/before')).body).before;

const undo = (server: RunningServer, loadedAt: number) => server.ask('POST', '/api/squad/undo', { body: { loadedAt } });

describe('looking at a squad file', () => {
  test('says what would change, and changes nothing', async () => {
    const server = await runServer();
    await load(server, CSV);
    const before = await squadNow(server);
    expect(await look(server, MESSY)).toMatchObject({
      goodRows: 2,
      badRows: 1,
      repeatedLines: [3],
      canBeLoaded: true,
      problems: [{ line: 4, column: 2, message: '"99" is not a lane (1 to 12)' }],
      swimmers: [
        { name: 'Ada Vint', kind: 'changed', line: 2, changes: [{ was: '2:10.00', becomes: '2:09.50', line: 2 }] },
        { name: 'Bo Tarn', kind: 'removed', line: null },
      ],
    });
    expect(await squadNow(server)).toEqual(before);
  });

  test('says which columns hold birth dates: they are not loaded, and are nowhere afterwards', async () => {
    const server = await runServer();
    const csv = CSV.replace('swimmer,', 'born,swimmer,').replace('Ada', '2013-09-17,Ada').replace('Bo', '2012,Bo');
    expect(await look(server, csv)).toMatchObject({ leftOut: ['born'], badRows: 0, canBeLoaded: true });
    await load(server, csv);
    expect((await squadNow(server)).swimmers).toHaveLength(2);
    expect(filesWith(server.folder, '2013-09-17')).toEqual([]);
  });

  test('says that nothing can be loaded where the rows cannot be told apart, or there are none', async () => {
    const server = await runServer();
    expect(await look(server, 'name,time\nAda,2:00\n')).toMatchObject({ canBeLoaded: false, swimmers: [] });
    expect(await look(server, `${CSV}"Cy,3,200 free,SCM,2:00\n`)).toMatchObject({ canBeLoaded: false, swimmers: [] });
    expect(await look(server, 'swimmer,event,course,time\n')).toMatchObject({ canBeLoaded: false, goodRows: 0 });
  });

  test('says when they would be more swimmers than a squad holds, and so does loading it', async () => {
    const server = await runServer();
    const rows = Array.from({ length: 501 }, (_, place) => `Swimmer ${place},200 free,SCM,2:10.0`);
    const csv = ['swimmer,event,course,time', ...rows].join('\n');
    const [problem] = (await look(server, csv)).problems;
    expect(problem?.message).toBe('These would be 501 swimmers, and a squad holds 500.');
    const refused = await load(server, csv);
    expect([refused.status, failureOf(refused.body).message]).toEqual([422, problem?.message]);
  });
});

describe('loading a squad file', () => {
  test('leaves bad rows out when told to, exactly as it was shown', async () => {
    const server = await runServer();
    await load(server, CSV);
    expect((await load(server, MESSY)).status).toBe(422);
    expect((await load(server, MESSY, { leaveOutBadRows: true })).status).toBe(200);
    expect((await squadNow(server)).swimmers.map(({ name, references }) => [name, references.length])).toEqual([
      ['Ada Vint', 1],
    ]);
    expect((await look(server, MESSY)).swimmers.map(({ kind }) => kind)).toEqual(['unchanged']);
  });

  test('does not leave out what cannot be told apart', async () => {
    const server = await runServer();
    await load(server, CSV);
    const before = await squadNow(server);
    const refused = await load(server, `${CSV}"Cy,3,200 free,SCM,2:00\n`, { leaveOutBadRows: true });
    expect([refused.status, failureOf(refused.body).code]).toEqual([422, 'squad-has-errors']);
    expect(await squadNow(server)).toEqual(before);
  });
});

describe('the squad before', () => {
  test('is put back by an undo, with its ids and that it was the demo, also after a restart', async () => {
    const first = await runServer();
    await withDemo(first);
    const demo = await squadNow(first);
    await load(first, CSV);
    expect(await beforeNow(first)).toMatchObject({ fileName: 'squad.csv', swimmers: 24 });
    await first.farwall.close();

    const server = await runServer({ folder: first.folder });
    const before = await beforeNow(server);
    const undone = await undo(server, before?.loadedAt ?? 0);
    expect([undone.status, squadAnswerSchema.parse(undone.body)]).toEqual([200, demo]);
    expect(await squadNow(server)).toEqual(demo);
    expect(await beforeNow(server)).toBe(null);
    expect(failureOf((await undo(server, before?.loadedAt ?? 0)).body).code).toBe('nothing-to-undo');
  });

  test('is not lost to a file that changes nothing', async () => {
    const server = await runServer();
    await withDemo(server);
    await load(server, CSV);
    const before = await beforeNow(server);
    server.machine.pass(60_000);
    await load(server, CSV);
    expect(await beforeNow(server)).toEqual(before);
  });

  test('is not put back by a desk that has not seen what another loaded since', async () => {
    const server = await runServer();
    await load(server, CSV);
    const seen = await beforeNow(server);
    server.machine.pass(60_000);
    await load(server, MESSY, { leaveOutBadRows: true });
    const now = await squadNow(server);
    const refused = await undo(server, seen?.loadedAt ?? 0);
    expect([refused.status, failureOf(refused.body).code]).toEqual([409, 'loaded-in-between']);
    expect(await squadNow(server)).toEqual(now);
  });

  test('leaves a practice on the wall as it is', async () => {
    const server = await runServer();
    const run = await withRun(server);
    await load(server, CSV);
    await undo(server, (await beforeNow(server))?.loadedAt ?? 0);
    expect(server.farwall.keeper.run).toMatchObject({ id: run.id, sheet: run.sheet });
  });
});

test('the squad is a file that loads again to the same, named after the day', async () => {
  const server = await runServer();
  await withDemo(server);
  const { headers, bytes } = await server.ask('GET', '/api/squad.csv');
  expect(headers['content-type']).toBe('text/csv; charset=utf-8');
  expect(headers['content-disposition']).toBe('attachment; filename="squad-2027-01-15.csv"');
  const csv = bytes.toString();
  const preview = await look(server, csv);
  expect([preview.problems, new Set(preview.swimmers.map(({ kind }) => kind))]).toEqual([[], new Set(['unchanged'])]);
  const { swimmers } = await squadNow(server);
  expect(squadAnswerSchema.parse((await load(server, csv)).body).swimmers).toEqual(swimmers);
});
