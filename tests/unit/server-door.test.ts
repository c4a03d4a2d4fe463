import { io } from 'socket.io-client';
import { describe, expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { runIdSchema } from '../../shared-types/brand.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import { MOST_MESSAGE_BYTES } from '../../shared-types/wire/protocol.ts';
import { headersFor } from '../fixtures/paired.ts';
import { runServer } from '../fixtures/running-server.ts';

const NO_RUN = { id: runIdSchema.parse(randomId()), seq: 0 };

/** Whether a websocket of a paired device with these headers is let in. */
function isLetIn(url: string, extraHeaders: Record<string, string>): Promise<boolean> {
  const { cookie = '' } = headersFor(url);
  const socket = io(url, {
    transports: ['websocket'],
    forceNew: true,
    reconnection: false,
    extraHeaders: { cookie, ...extraHeaders },
  });
  onTestFinished(() => void socket.disconnect());
  return new Promise((resolve) => {
    socket.on('connect', () => resolve(true));
    socket.on('connect_error', () => resolve(false));
  });
}

describe('a request', () => {
  test('that calls the server by a name that is not its own is refused', async () => {
    const server = await runServer({ allowedHosts: ['pool.test'] });
    const statusFor = async (host: string) =>
      (await server.ask('GET', '/api/squad', { headers: { host, origin: undefined } })).status;
    for (const host of ['localhost', '127.0.0.1:4050', '[::1]:80', 'Pool.test', 'pool.test:8080']) {
      expect([host, await statusFor(host)]).toEqual([host, 200]);
    }
    for (const host of [
      'evil.test',
      'pool.test.evil.test',
      '8.8.8.8',
      'localhost@evil.test',
      'a b',
      'x;script-src *',
    ]) {
      expect([host, await statusFor(host)]).toEqual([host, 403]);
    }
  });

  test('for a change, from a page that is from elsewhere or from no page, is refused and changes nothing', async () => {
    const server = await runServer();
    const { host } = new URL(server.url);
    const change = (origin: string | undefined, more: Record<string, string> = {}) =>
      server.ask('POST', '/api/demo', { headers: { origin, host, ...more } });
    const own = `http://${host}`;
    // The owner's cookie comes along with each: nothing but the page is wrong.
    for (const origin of ['http://evil.test', 'null', `${own}.evil.test`, 'http://127.0.0.1:1', undefined]) {
      const refused = await change(origin);
      expect([origin, refused.status]).toEqual([origin, 403]);
      expect(failureSchema.parse(refused.body).code).toBe('wrong-origin');
    }
    expect((await change(own, { 'sec-fetch-site': 'cross-site' })).status).toBe(403);
    expect((await server.ask('GET', '/api/practices')).body).toEqual([]);
    expect((await change(own, { 'sec-fetch-site': 'same-origin' })).status).toBe(200);
  });

  test('to read, by a script of a page from elsewhere, is refused', async () => {
    const server = await runServer();
    const asked = async (headers: Record<string, string | undefined>) =>
      (await server.ask('GET', '/api/squad', { headers })).status;
    expect(await asked({ origin: 'http://evil.test' })).toBe(403);
    expect(await asked({ origin: 'http://evil.test', 'sec-fetch-site': 'cross-site' })).toBe(403);
    // Browsers do not say where a page of our own that only reads is from.
    expect(await asked({ origin: undefined })).toBe(200);
  });

  test('[FLT8] that is not JSON, too large or for nothing there gets a failure in words', async () => {
    const server = await runServer();
    const codeOf = async (...args: Parameters<typeof server.ask>) => {
      const { status, body } = await server.ask(...args);
      return [status, failureSchema.parse(body).code];
    };
    expect(await codeOf('PUT', '/api/pool', { body: '{"course"' })).toEqual([400, 'bad-request']);
    expect(await codeOf('PUT', '/api/pool', { body: { course: 'SCM' } })).toEqual([400, 'bad-request']);
    expect(await codeOf('PUT', '/api/pool', { body: ' '.repeat(9_000_000) })).toEqual([413, 'too-large']);
    const headers = { 'content-type': 'text/plain' };
    expect(await codeOf('PUT', '/api/pool', { body: 'course', headers })).toEqual([415, 'wrong-kind']);
    expect(await codeOf('GET', '/nowhere')).toEqual([404, 'not-found']);
    expect(await codeOf('GET', '/api/practices/17')).toEqual([400, 'bad-request']);
    expect(await codeOf('GET', '/wall')).toEqual([503, 'pages-not-built']);
    expect(server.logged).toEqual([]);
  });

  test('is answered with a strict content security policy', async () => {
    const server = await runServer();
    const { headers } = await server.ask('GET', '/health', { headers: { host: 'localhost:4050', origin: undefined } });
    const policy = String(headers['content-security-policy']).split(';');
    expect(policy).toEqual([
      "default-src 'none'",
      "script-src 'self'",
      "style-src 'self'",
      "font-src 'self'",
      "img-src 'self'",
      "connect-src 'self' ws://localhost:4050",
      "form-action 'self'",
      "frame-ancestors 'none'",
      "base-uri 'none'",
    ]);
    expect(headers['strict-transport-security']).toBe(undefined);
  });
});

describe('a websocket', () => {
  test('is let in from our own pages, not from elsewhere nor from no page at all', async () => {
    const server = await runServer({ allowedHosts: ['pool.test'] });
    const { host } = new URL(server.url);
    expect(await isLetIn(server.url, {})).toBe(false);
    expect(await isLetIn(server.url, { origin: `http://${host}` })).toBe(true);
    expect(await isLetIn(server.url, { origin: 'http://evil.test' })).toBe(false);
    expect(await isLetIn(server.url, { host: 'evil.test', origin: 'http://evil.test' })).toBe(false);
    expect(await isLetIn(server.url, { host: 'pool.test', origin: 'http://pool.test' })).toBe(true);
  });

  test('[FLT8] that says what cannot be read gets a failure for an answer, and stays', async () => {
    const server = await runServer();
    const deck = server.screen('deck');
    await deck.hello();
    const bad: [string, unknown][] = [
      ['hello', null],
      ['hello', { protocols: [1], role: 'coach', device: deck.device }],
      ['sync', { askedAt: 'now' }],
      ['status', []],
      ['command', 'start'],
      ['command', { ...Object(deck.command({ kind: 'hold' }, NO_RUN, 0)), kind: 'explode' }],
      ['command', { ...Object(deck.command({ kind: 'hold' }, NO_RUN, 0)), basedOnSeq: -1 }],
      ['command', { ...Object(deck.command({ kind: 'hold' }, NO_RUN, 0)), id: '__proto__' }],
    ];
    for (const [event, payload] of bad) {
      expect([event, payload, failureSchema.parse(await deck.ask(event, payload)).code]).toEqual([
        event,
        payload,
        'bad-message',
      ]);
    }
    deck.socket.emit('command', { no: 'acknowledgement' });
    deck.socket.emit('command');
    deck.socket.emit('nothing of ours', 1);
    expect((await deck.hello()).ok).toBe(true);
    expect(server.logged).toEqual([]);
  });

  test('[FLT8] that sends too much is closed, the others stay', async () => {
    const server = await runServer();
    const [greedy, other] = [server.screen('deck'), server.screen('deck')];
    await Promise.all([greedy.hello(), other.hello()]);
    greedy.socket.emit('sync', { askedAt: 0, more: 'x'.repeat(MOST_MESSAGE_BYTES) });
    await expect.poll(() => greedy.socket.connected).toBe(false);
    expect((await other.hello()).ok).toBe(true);
    expect((await server.ask('GET', '/health')).body).toMatchObject({ ok: true, screens: [{ role: 'deck' }] });
  });
});
