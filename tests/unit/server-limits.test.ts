import { connect } from 'node:net';
import { DatabaseSync } from 'node:sqlite';
import { io, type Socket } from 'socket.io-client';
import { describe, expect, onTestFinished, test } from 'vitest';
import { z } from 'zod';
import { databaseFileOf } from '../../server/store/open-database.ts';
import { LIMITS, type Limits } from '../../server/web/limits.ts';
import { runIdSchema } from '../../shared-types/brand.ts';
import { practiceSummarySchema } from '../../shared-types/wire/desk.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import { headersFor } from '../fixtures/paired.ts';
import { pairAs } from '../fixtures/pairing.ts';
import { type RunningServer, runServer, withDemo, withRun } from '../fixtures/running-server.ts';

/** A server that takes less than usual, so that a test soon has too much. */
const strict = (limits: Partial<Limits>) => runServer({ limits: { ...LIMITS, ...limits } });

const codeOf = (body: unknown): string | null => failureSchema.safeParse(body).data?.code ?? null;

/** Opens a socket. @returns null when it is not let in */
function socketOn({ url }: RunningServer, extraHeaders = headersFor(url)): Promise<Socket | null> {
  const socket = io(url, { transports: ['websocket'], forceNew: true, reconnection: false, extraHeaders });
  onTestFinished(() => void socket.disconnect());
  return new Promise((resolve) => {
    socket.on('connect', () => resolve(socket));
    socket.on('connect_error', () => resolve(null));
  });
}

/** Asks over and over at once. @returns how long all took, ms */
async function manySyncs(socket: Socket, count: number): Promise<number> {
  const from = performance.now();
  const asks = Array.from({ length: count }, () => socket.timeout(20_000).emitWithAck('sync', { askedAt: 0 }));
  const answers = await Promise.all(asks);
  for (const answer of answers) expect(codeOf(answer)).toBeNull();
  return performance.now() - from;
}

describe('messages of a socket that come too fast', () => {
  test('are all answered, in order, no faster than they may come; those of others do not wait', async () => {
    const server = await strict({ messagesOfSocket: 50 });
    const [fast, other] = [await socketOn(server), await socketOn(server)];
    if (!fast || !other) throw new Error('not let in');
    const order: number[] = [];
    const flood = Promise.all(
      Array.from({ length: 200 }, async (_, nth) => {
        await fast.timeout(20_000).emitWithAck('sync', { askedAt: nth });
        order.push(nth);
      }),
    );
    const from = performance.now();
    expect(await manySyncs(other, 20)).toBeLessThan(1000);
    await flood;
    // 50 at once and 50 in each second after that: the last ones in the fourth.
    expect(performance.now() - from).toBeGreaterThan(2000);
    expect(order).toEqual(order.toSorted((a, b) => a - b));
    expect(server.logged).toEqual([]);
  });

  test('of one address count together', async () => {
    const server = await strict({ messagesOfAddress: 50 });
    const sockets = await Promise.all([socketOn(server), socketOn(server), socketOn(server)]);
    const took = await Promise.all(sockets.map((socket) => (socket ? manySyncs(socket, 40) : 0)));
    expect(Math.max(...took)).toBeGreaterThan(1000);
  });

  test('and do not heed that they are held back cost their sender the connection, and no other', async () => {
    const server = await strict({ messagesOfSocket: 10, messagesWaiting: 100 });
    const [wild, other] = [await socketOn(server), await socketOn(server)];
    if (!wild || !other) throw new Error('not let in');
    for (let sent = 0; sent < 5000; sent += 1) wild.emit('sync', { askedAt: sent });
    await expect.poll(() => wild.connected, { timeout: 10_000 }).toBe(false);
    await manySyncs(other, 5);
  });
});

describe('sockets and connections', () => {
  test('of an address are so many at a time, and one more when one is gone', async () => {
    const server = await strict({ socketsOfAddress: 3 });
    const sockets = [await socketOn(server), await socketOn(server), await socketOn(server)];
    expect(sockets.every((socket) => socket !== null)).toBe(true);
    expect(await socketOn(server)).toBeNull();
    sockets[0]?.disconnect();
    await expect.poll(() => socketOn(server).then((socket) => socket !== null)).toBe(true);
  });

  test('beyond the most of an address are dropped before anything is read', async () => {
    const server = await strict({ connectionsOfAddress: 8 });
    const { port } = new URL(server.url);
    const opened = Array.from({ length: 20 }, () =>
      connect({ host: '127.0.0.1', port: Number(port), localAddress: '127.0.0.7' }),
    );
    onTestFinished(() => {
      for (const socket of opened) socket.destroy();
    });
    for (const socket of opened) socket.on('error', () => {});
    await expect.poll(() => opened.filter(({ closed }) => closed).length).toBe(12);
    expect((await server.ask('GET', '/health')).status).toBe(200);
  });
});

describe('requests that come too fast', () => {
  test('of a paired device wait, and are answered', async () => {
    const server = await strict({ requestsOfDevice: 20 });
    await withDemo(server);
    const from = performance.now();
    const asked = await Promise.all(Array.from({ length: 40 }, () => server.ask('GET', '/api/pool')));
    expect(asked.map(({ status }) => status)).toEqual(asked.map(() => 200));
    expect(performance.now() - from).toBeGreaterThan(1500);
  });

  test('and too many that wait are refused, with when to come again; no other device waits', async () => {
    const server = await strict({ requestsOfDevice: 20, requestsWaiting: 5 });
    const other = await pairAs(server, 'coach');
    const asked = await Promise.all(Array.from({ length: 60 }, () => server.ask('GET', '/api/pool')));
    const refused = asked.filter(({ status }) => status === 429);
    expect(refused.length).toBeGreaterThan(20);
    expect(codeOf(refused[0]?.body)).toBe('too-fast');
    expect(refused[0]?.headers['retry-after']).toBe('3');
    const from = performance.now();
    expect((await server.ask('GET', '/api/pool', { headers: { cookie: other } })).status).toBe(200);
    expect(performance.now() - from).toBeLessThan(1000);
  });

  test('of an address that is not paired are refused at once, and paired devices there are not', async () => {
    const server = await strict({ requestsOfStranger: 11 });
    // One of them was how the owner was paired.
    const strangers = await Promise.all(
      Array.from({ length: 30 }, () => server.ask('GET', '/health', { headers: { cookie: '' } })),
    );
    expect(strangers.filter(({ status }) => status === 429)).toHaveLength(20);
    expect((await server.ask('GET', '/api/pool')).status).toBe(200);
  });
});

describe('a body', () => {
  test('is no larger than its route needs', async () => {
    const server = await runServer();
    const sized = async (method: string, path: string, bytes: number) =>
      (await server.ask(method, path, { body: `{"x":"${'x'.repeat(bytes)}"}` })).status;
    expect(await sized('PUT', '/api/pool', 60_000)).toBe(400);
    expect(await sized('PUT', '/api/pool', 70_000)).toBe(413);
    expect(await sized('POST', '/api/preview', 1_000_000)).toBe(400);
    expect(await sized('POST', '/api/preview', 2_200_000)).toBe(413);
    expect(await sized('PUT', '/api/squad', 7_000_000)).toBe(400);
  });

  test('of who may not is not even read', async () => {
    const server = await runServer();
    const body = ' '.repeat(9_000_000);
    const refused = await server.ask('PUT', '/api/squad', { body, headers: { cookie: '' } }).catch(() => null);
    // The server may close the connection before it has been sent whole.
    expect(refused?.status ?? 401).toBe(401);
  });
});

/** Fills a table of a server that is down, and starts it again. */
async function filled(server: RunningServer, sql: string): Promise<RunningServer> {
  await server.farwall.close();
  const sqlite = new DatabaseSync(databaseFileOf(server.folder));
  sqlite.exec(sql);
  sqlite.close();
  return runServer({ folder: server.folder });
}

/** Rows 1 to n. */
const rows = (n: number): string =>
  `WITH RECURSIVE row(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM row WHERE n < ${n})`;

describe('the number of things', () => {
  test('presses of a practice: 100,000 are stored, and then it says what to do', async () => {
    const before = await runServer();
    const run = await withRun(before);
    const sql = `${rows(100_000)} INSERT INTO commands SELECT printf('%032x', n), '${run.id}', '{"ok":true,"seq":0}' FROM row`;
    const server = await filled(before, sql);
    const deck = server.screen('deck');
    await deck.hello();
    const press = deck.command({ kind: 'start', when: 'now' }, run, server.farwall.clock.now());
    expect(await deck.ask('command', press)).toMatchObject({ ok: false, message: expect.stringContaining('No more') });
  });

  test('presses for a practice that is not there leave nothing behind', async () => {
    const server = await runServer();
    const run = await withRun(server);
    const deck = server.screen('deck');
    await deck.hello();
    const press = deck.command({ kind: 'hold' }, { ...run, id: runIdSchema.parse('ab'.repeat(16)) }, 0);
    expect(await deck.ask('command', press)).toMatchObject({ ok: false, code: 'no-run' });
    await server.farwall.close();
    const sqlite = new DatabaseSync(databaseFileOf(server.folder));
    onTestFinished(() => sqlite.close());
    expect(sqlite.prepare('SELECT count(*) AS stored FROM commands').get()).toEqual({ stored: 0 });
  });

  test('practices: 15,000 are kept, and each 2,000 versions', async () => {
    const before = await runServer();
    const [practice] = await withDemo(before);
    const columns = 'practice_id, version, pool_id, title, text, demo, saved_at';
    const sql = `${rows(2000)} INSERT OR IGNORE INTO practices (${columns})
      SELECT practice_id, n, pool_id, title, text, 0, saved_at FROM row, practices WHERE practice_id = '${practice?.id}' AND version = 1;
      ${rows(15_000)} INSERT INTO practices (${columns})
      SELECT printf('%032x', n), 1, pool_id, title, text, 0, saved_at FROM row, practices WHERE practice_id = '${practice?.id}' AND version = 1`;
    const server = await filled(before, sql);
    const text = '4 x 50 free @ 1:00';
    const another = { body: { text, baseVersion: 0 } };
    const fresh = await server.ask('PUT', `/api/practices/${'ab'.repeat(16)}`, another);
    expect([fresh.status, codeOf(fresh.body)]).toEqual([422, 'library-is-full']);
    const again = await server.ask('PUT', `/api/practices/${practice?.id}`, { body: { text, baseVersion: 2000 } });
    expect([again.status, codeOf(again.body)]).toEqual([422, 'too-many-versions']);
  });

  test('practices planned: 30,000', async () => {
    const before = await runServer();
    const [practice] = await withDemo(before);
    const sql = `${rows(30_000)} INSERT INTO planned_practices SELECT pool_id, date('2100-01-01', '+' || n || ' days'), 0, '${practice?.id}' FROM row, pools`;
    const server = await filled(before, sql);
    const planned = (practices: unknown[], day: string, instead: unknown[] = []) =>
      server.ask('PUT', `/api/plan/${day}`, { body: { practices, instead } });
    const refused = await planned([practice?.id], '2027-01-15');
    expect([refused.status, codeOf(refused.body)]).toEqual([422, 'plan-is-full']);
    const copied = await server.ask('POST', '/api/plan/copy', { body: { from: '2100-02-01', to: '2027-02-01' } });
    expect(codeOf(copied.body)).toBe('plan-is-full');
    // What is there can still be taken off.
    expect((await planned([], '2100-01-02', [practice?.id])).status).toBe(200);
  });

  test('walls that are remembered: 50', async () => {
    const before = await runServer();
    const settings = { name: 'Far end', place: 'far', lanes: null, order: 'first-on-top', diagonalInches: null };
    const body = { ...settings, distanceM: null, sound: { on: false, offsetMs: 0 } };
    const sql = `${rows(50)} INSERT INTO walls SELECT printf('%032x', n), pool_id, n, '${JSON.stringify(body)}' FROM row, pools`;
    const server = await filled(before, sql);
    const wall = server.screen('wall');
    await wall.hello();
    const refused = await server.ask('PUT', `/api/walls/${wall.device}`, { body });
    expect([refused.status, codeOf(refused.body)]).toEqual([409, 'too-many-devices']);
    expect((await server.ask('PUT', `/api/walls/${'0'.repeat(31)}1`, { body })).status).toBe(200);
  });

  test('practices put on the wall: 300 within a day', async () => {
    const before = await runServer();
    const run = await withRun(before);
    const at = before.farwall.clock.now();
    const columns =
      'run_id, pool_id, sheet_hash, practice_id, practice_version, loaded_at, live, rehearsed, pinned_json';
    const sql = `${rows(300)} INSERT INTO runs (${columns})
      SELECT printf('%032x', n), pool_id, sheet_hash, practice_id, practice_version, ${at}, 0, 0, pinned_json FROM row, runs WHERE run_id = '${run.id}'`;
    const server = await filled(before, sql);
    const [practice] = z.array(practiceSummarySchema).parse((await server.ask('GET', '/api/practices')).body);
    const body = { practice: practice?.id, version: 1, replace: true };
    const refused = await server.ask('POST', '/api/runs', { body });
    expect([refused.status, codeOf(refused.body)]).toEqual([429, 'too-fast']);
  });

  test('rows of a squad’s file, and times of a swimmer, are told with the line and the cure', async () => {
    const server = await runServer();
    const file = (times: number) =>
      [
        'swimmer,event,course,time',
        ...Array.from({ length: times }, (_, nth) => `Ada Vance,200 free,SCM,${200 + nth / 100}`),
      ].join('\n');
    const loaded = async (csv: string) =>
      (await server.ask('PUT', '/api/squad', { body: { csv, fileName: 'squad.csv' } })).body;
    expect(await loaded(file(1001))).toMatchObject({
      code: 'squad-has-errors',
      problems: [{ line: 1002, message: 'Ada Vance has more than 1000 times', fix: 'leave out the oldest' }],
    });
    expect(await loaded(file(1000))).toMatchObject({ swimmers: [{ name: 'Ada Vance' }] });
    expect(await loaded(file(10_001))).toMatchObject({
      problems: [{ line: 10_002, message: 'the file has 10001 rows, and a squad 10000 at most' }],
    });
  });
});
