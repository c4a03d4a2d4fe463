import { createHash } from 'node:crypto';
import { gunzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { randomId } from '../../server/ids.ts';
import { DEFAULT_POOL } from '../../shared-types/pool.ts';
import { type Sheet, sheetSchema } from '../../shared-types/sheet.ts';
import { previewSchema, squadAnswerSchema, storedPracticeSchema } from '../../shared-types/wire/desk.ts';
import { failureSchema, liveRunSchema } from '../../shared-types/wire/from-server.ts';
import { type RunningServer, runServer, withDemo, withRun } from '../fixtures/running-server.ts';

const CSV = 'swimmer,lane,event,course,time\nAda Vint,1,200 free,SCM,2:10.0\nBo Tarn,2,200 free,SCM,2:20.0\n';

const failureOf = (body: unknown) => failureSchema.loose().parse(body);

describe('the demo', () => {
  test('brings an invented squad and a practice for each style, each fit for the wall', async () => {
    const server = await runServer();
    const practices = await withDemo(server);
    expect(practices).toHaveLength(5);
    expect(new Set(practices.map(({ title }) => title)).size).toBe(5);
    expect(practices[0]?.title).toMatch(/race pace/i);
    const squad = squadAnswerSchema.parse((await server.ask('GET', '/api/squad')).body);
    expect([squad.swimmers.length, squad.demo]).toEqual([24, true]);
    for (const { id, version } of practices) {
      const put = await server.ask('POST', '/api/runs', { body: { practice: id, version, replace: false } });
      expect([put.status, put.body]).toEqual([200, liveRunSchema.parse(put.body)]);
    }
  });

  test('is for an empty start only', async () => {
    const server = await runServer();
    await withDemo(server);
    const again = await server.ask('POST', '/api/demo');
    expect([again.status, failureOf(again.body).code]).toEqual([409, 'not-empty']);
    expect((await server.ask('GET', '/api/practices')).body).toHaveLength(5);
  });
});

describe('the pool', () => {
  test('is a short course of six lanes until the coach says otherwise', async () => {
    const server = await runServer();
    expect((await server.ask('GET', '/api/pool')).body).toEqual(DEFAULT_POOL);
    const pool = { ...DEFAULT_POOL, course: 'LCM', lanes: 8 };
    expect((await server.ask('PUT', '/api/pool', { body: pool })).body).toEqual(pool);
    expect((await server.ask('GET', '/api/pool')).body).toEqual(pool);
  });
});

describe('a squad file', () => {
  test('replaces the squad as a whole', async () => {
    const server = await runServer();
    await withDemo(server);
    const { status, body } = await server.ask('PUT', '/api/squad', { body: { csv: CSV, fileName: 'squad.csv' } });
    const squad = squadAnswerSchema.parse(body);
    expect([status, squad.demo, squad.swimmers.map(({ name }) => name)]).toEqual([200, false, ['Ada Vint', 'Bo Tarn']]);
    expect((await server.ask('GET', '/api/squad')).body).toEqual(squad);
  });

  test('with a row that cannot be read changes nothing and says where', async () => {
    const server = await runServer();
    const load = (csv: string) => server.ask('PUT', '/api/squad', { body: { csv, fileName: 'squad.csv' } });
    const before = (await load(CSV)).body;
    const { status, body } = await load(`${CSV}Cy Orr,3,200 free,SCM,two minutes\n`);
    expect(status).toBe(422);
    expect(failureOf(body)).toMatchObject({ code: 'squad-has-errors', problems: [{ line: 4, column: 5 }] });
    expect((await server.ask('GET', '/api/squad')).body).toEqual(before);
  });
});

describe('a practice', () => {
  const path = `/api/practices/${randomId()}`;
  const save = (server: RunningServer, text: string, baseVersion: number) =>
    server.ask('PUT', path, { body: { text, baseVersion } });

  test('is previewed with its messages, its sheet and the names in full', async () => {
    const server = await runServer();
    await withDemo(server);
    const look = async (text: string) =>
      previewSchema.parse((await server.ask('POST', '/api/preview', { body: { text } })).body);
    const good = await look('8 x 50 free @ 1:30\n');
    expect(good.sheet?.lanes.length).toBeGreaterThan(0);
    expect(Object.values(good.labels)).toHaveLength(24);
    const bad = await look('8 x 50 free @ 1;30\n');
    expect(bad.sheet).toBe(null);
    expect(bad.messages).toMatchObject([{ severity: 'error', line: 1 }]);
    const lacking = await look('8 x 50 breast @ 1:30 at 200 pace\n');
    for (const { text } of [...lacking.messages, ...(lacking.sheet?.messages ?? [])]) {
      expect(text).not.toContain('{');
      expect(text).toContain('Ines Valdoro');
    }
  });

  test('saved while somebody else saved it is a conflict that shows what they wrote', async () => {
    const server = await runServer();
    const first = await save(server, '# Monday\n400 free easy\n', 0);
    expect(storedPracticeSchema.parse(first.body)).toMatchObject({ version: 1, title: 'Monday', demo: false });
    await save(server, '# Monday, theirs\n', 1);
    const refused = await save(server, '# Monday, mine\n', 1);
    expect(refused.status).toBe(409);
    expect(failureOf(refused.body)).toMatchObject({
      code: 'saved-in-between',
      current: { version: 2, text: '# Monday, theirs\n' },
    });
    expect((await server.ask('GET', path)).body).toMatchObject({ version: 2, title: 'Monday, theirs' });
  });

  test('with errors can be saved, but does not go on the wall', async () => {
    const server = await runServer();
    const stored = storedPracticeSchema.parse((await save(server, '8 x 50 free @ 1;30\n', 0)).body);
    const body = { practice: stored.id, version: 1, replace: false };
    const refused = await server.ask('POST', '/api/runs', { body });
    expect(refused.status).toBe(422);
    expect(failureOf(refused.body)).toMatchObject({
      code: 'practice-has-errors',
      place: expect.stringMatching(/^line 1/),
    });
    expect((await server.ask('GET', '/health')).body).toMatchObject({ run: null });
  });

  test('that nobody saved is not found', async () => {
    const server = await runServer();
    expect((await server.ask('GET', path)).status).toBe(404);
    expect((await save(server, '# Monday\n', 3)).status).toBe(404);
  });
});

describe('the wall', () => {
  async function running(server: RunningServer) {
    const run = await withRun(server);
    const deck = server.screen('deck');
    await deck.hello();
    await deck.ask('command', deck.command({ kind: 'start', when: 'now' }, run, server.farwall.clock.now()));
    const practices = z.array(z.object({ id: z.string() })).parse((await server.ask('GET', '/api/practices')).body);
    return { run, other: { practice: practices[1]?.id, version: 1 } };
  }

  test('keeps a running practice until the coach says that another is to take its place', async () => {
    const server = await runServer();
    const { run, other } = await running(server);
    const refused = await server.ask('POST', '/api/runs', { body: { ...other, replace: false } });
    expect([refused.status, failureOf(refused.body).code]).toEqual([409, 'still-running']);
    expect(server.farwall.keeper.run?.id).toBe(run.id);
    const replaced = await server.ask('POST', '/api/runs', { body: { ...other, replace: true } });
    const live = liveRunSchema.parse(replaced.body);
    expect(live.run).toMatchObject({ state: 'ready', seq: 0 });
    expect(live.run?.id).not.toBe(run.id);
    expect(server.farwall.store.runs.eventsOf(run.id).map(({ kind }) => kind)).toEqual(['start', 'finish']);
  });

  test('lets a practice go that has not begun or is finished, not one that is running', async () => {
    const server = await runServer();
    const { run } = await running(server);
    const refused = await server.ask('DELETE', '/api/runs/live');
    expect([refused.status, failureOf(refused.body).code]).toEqual([409, 'still-running']);
    const deck = server.screen('deck');
    await deck.hello();
    await deck.ask('command', deck.command({ kind: 'finish' }, { ...run, seq: 1 }, server.farwall.clock.now()));
    const taken = await server.ask('DELETE', '/api/runs/live');
    expect([taken.status, taken.body]).toEqual([200, { run: null, labels: {} }]);
    expect((await server.ask('DELETE', '/api/runs/live')).status).toBe(200);
  });

  test('[RUN5] keeps showing what it was given when squad, pool and practice change', async () => {
    const server = await runServer();
    const { run } = await running(server);
    const before = server.farwall.keeper.liveFor('wall');
    await server.ask('PUT', '/api/squad', { body: { csv: CSV, fileName: 'squad.csv' } });
    await server.ask('PUT', '/api/pool', { body: { ...DEFAULT_POOL, lanes: 2 } });
    // Only that there are two more who could join.
    const after = { ...before, labels: expect.objectContaining(before.labels) };
    expect(server.farwall.keeper.liveFor('wall')).toEqual(after);
    await server.farwall.close();
    const again = await runServer({ folder: server.folder, machine: server.machine });
    expect(again.farwall.keeper.liveFor('wall')).toEqual(after);
    expect(again.farwall.keeper.run?.id).toBe(run.id);
  });
});

describe('a sheet', () => {
  const sheetAt = async (server: RunningServer, hash: string, query: string) => {
    const answer = await server.ask('GET', `/api/sheets/${hash}${query}`);
    return { ...answer, sheet: sheetSchema.parse(answer.body) };
  };
  const bases = (sheet: Sheet) => sheet.targets.flatMap(({ basis }) => basis ?? []);

  test('is named by the hash of its canonical JSON and kept by screens for ever', async () => {
    const server = await runServer();
    const run = await withRun(server);
    const { headers, bytes } = await sheetAt(server, run.sheet, '?role=deck');
    expect(createHash('sha256').update(bytes).digest('hex')).toBe(run.sheet);
    expect(headers['cache-control']).toBe('private, max-age=31536000, immutable');
  });

  test('tells coaches where its numbers come from, not walls', async () => {
    const server = await runServer();
    const run = await withRun(server);
    const deck = await sheetAt(server, run.sheet, '?role=deck');
    expect(bases(deck.sheet).length).toBeGreaterThan(0);
    for (const query of ['?role=wall', '']) {
      const { sheet } = await sheetAt(server, run.sheet, query);
      expect([bases(sheet), sheet.messages]).toEqual([[], []]);
      expect(sheet.lanes).toEqual(deck.sheet.lanes);
    }
  });

  test('names nobody', async () => {
    const server = await runServer();
    const run = await withRun(server);
    const text = (await sheetAt(server, run.sheet, '?role=desk')).bytes.toString();
    const squad = server.farwall.store.squad.squad();
    for (const { name } of squad.swimmers) expect(text).not.toContain(name);
  });

  test('travels compressed to a browser that asks for it', async () => {
    const server = await runServer();
    const run = await withRun(server);
    const path = `/api/sheets/${run.sheet}?role=deck`;
    const plain = await server.ask('GET', path);
    const small = await server.ask('GET', path, { headers: { 'accept-encoding': 'gzip, br' } });
    expect(small.headers['content-encoding']).toBe('gzip');
    expect(small.headers.vary).toMatch(/accept-encoding/i);
    expect(gunzipSync(small.bytes).equals(plain.bytes)).toBe(true);
    expect(small.bytes.length).toBeLessThan(plain.bytes.length / 3);
  });

  test('that is not stored, or not named by a hash, is a failure in words', async () => {
    const server = await runServer();
    expect((await server.ask('GET', `/api/sheets/${'0'.repeat(64)}`)).status).toBe(404);
    expect((await server.ask('GET', '/api/sheets/latest')).status).toBe(400);
    expect((await server.ask('GET', `/api/sheets/${'0'.repeat(64)}?role=coach`)).status).toBe(400);
  });
});
