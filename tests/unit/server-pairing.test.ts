import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { isSecretOf } from '../../server/web/secrets.ts';
import { CODE_FOR_MS, CODE_LENGTH, CODE_SIGNS, codeAsMeant, devicesSchema } from '../../shared-types/wire/pairing.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { pairAs, shownCode, tryCode } from '../fixtures/pairing.ts';
import { type RunningServer, runServer, TestScreen } from '../fixtures/running-server.ts';

const MINUTE_MS = 60 * 1000;

const claim = (server: RunningServer, code: string) =>
  server.ask('POST', '/api/devices', { body: { code, name: 'Tablet' }, headers: { cookie: '' } });

const devicesOf = async (server: RunningServer) =>
  devicesSchema.parse((await server.ask('GET', '/api/devices')).body).devices;

const statusWith = async (server: RunningServer, cookie: string) =>
  (await server.ask('GET', '/api/squad', { headers: { cookie } })).status;

describe('the key that the terminal shows', () => {
  test('makes one device an owner, and is worth nothing after that', async () => {
    const server = await runServer();
    // The fixture has become the owner by it.
    expect(await devicesOf(server)).toMatchObject([{ access: 'owner', name: 'Test' }]);
    const replayed = await claim(server, server.farwall.ownerKey);
    expect([replayed.status, replayed.body]).toMatchObject([403, { code: 'wrong-code' }]);
    expect(await devicesOf(server)).toHaveLength(1);
  });

  test('is another after a restart, and that of before is worth nothing', async () => {
    const server = await runServer();
    const { ownerKey } = server.farwall;
    await server.farwall.close();
    const again = await runServer({ folder: server.folder, machine: server.machine });
    expect(again.farwall.ownerKey).not.toBe(ownerKey);
    expect((await claim(again, ownerKey)).status).toBe(403);
    expect(await devicesOf(again)).toHaveLength(2);
  });

  test('is needed on the machine itself, too: coming from there is not enough', async () => {
    const server = await runServer();
    expect(new URL(server.url).hostname).toBe('127.0.0.1');
    expect(await statusWith(server, '')).toBe(401);
  });
});

describe('a code that the desk shows', () => {
  test('pairs one device as what it was shown for, whichever way it is typed', async () => {
    const server = await runServer();
    const code = await shownCode(server, 'coach');
    expect(code).toMatch(new RegExp(`^[${CODE_SIGNS}]{4}-[${CODE_SIGNS}]{4}$`));
    const typed = code.toLowerCase().replace('-', ' ').replaceAll('0', 'o').replaceAll('1', 'l');
    const paired = await claim(server, typed);
    expect(paired).toMatchObject({ status: 200, body: { access: 'coach', name: 'Tablet' } });
    expect((await claim(server, code)).status).toBe(403);
    expect(await devicesOf(server)).toMatchObject([{ access: 'owner' }, { access: 'coach', name: 'Tablet', pages: 0 }]);
  });

  test('counts for ten minutes, and only as long as it is the last one shown', async () => {
    const server = await runServer();
    const first = await shownCode(server, 'coach');
    const second = await shownCode(server, 'screen');
    expect((await claim(server, first)).status).toBe(403);
    server.machine.pass(CODE_FOR_MS - 1);
    expect((await claim(server, second)).body).toMatchObject({ access: 'screen' });
    const third = await shownCode(server, 'coach');
    server.machine.pass(CODE_FOR_MS);
    expect((await claim(server, third)).status).toBe(403);
    const fourth = await shownCode(server, 'coach');
    await server.ask('DELETE', '/api/pairing');
    expect((await claim(server, fourth)).status).toBe(403);
  });

  test('is made of signs that nobody takes for another, 5 bits each', () => {
    // Crockford's base 32: https://www.crockford.com/base32.html (from memory: no I, L, O, U; I and L read as 1, O as 0).
    expect(new Set(CODE_SIGNS).size).toBe(32);
    for (const sign of 'ILOU') expect(CODE_SIGNS).not.toContain(sign);
    expect(codeAsMeant('il0o-uabc')).toBe('1100UABC');
    expect(32 ** CODE_LENGTH).toBeGreaterThan(1e12);
  });

  test('makes one device of a device that is paired anew', async () => {
    const server = await runServer();
    const cookie = await pairAs(server, 'screen');
    const code = await shownCode(server, 'coach');
    const body = { code, name: 'Tablet' };
    expect((await server.ask('POST', '/api/devices', { body, headers: { cookie } })).status).toBe(200);
    expect((await devicesOf(server)).map(({ access }) => access)).toEqual(['owner', 'coach']);
    expect(await statusWith(server, cookie)).toBe(401);
  });

  test('that nobody may read is refused with what to mend', async () => {
    const server = await runServer();
    const bad = [{}, { code: 1, name: 'x' }, { code: 'ABCD-EFGH', name: ' ' }, { code: 'A', name: 'n'.repeat(41) }];
    for (const body of bad) {
      const answer = await server.ask('POST', '/api/devices', { body });
      expect([answer.status, answer.body]).toMatchObject([400, { code: 'bad-request' }]);
    }
  });
});

describe('guessing codes', () => {
  const GUESSES = 10_000;
  const AT_ONCE = 50;

  test('10,000 times from one address lets none in, and nobody else is locked out', { timeout: 120_000 }, async () => {
    const server = await runServer();
    const deck = await pairAs(server, 'coach');
    const code = await shownCode(server, 'coach');
    const statuses = new Map<number, number>();
    let guess = 0;
    const guessOn = async (): Promise<void> => {
      while (guess < GUESSES) {
        guess += 1;
        // One beside the right one, to begin with.
        const wrong = guess
          .toString(32)
          .toUpperCase()
          .padStart(CODE_LENGTH, code === '00000000' ? '1' : '0');
        const status = await tryCode(server.url, wrong);
        statuses.set(status, (statuses.get(status) ?? 0) + 1);
        if (guess % 1000 === 0) expect(await statusWith(server, deck)).toBe(200);
      }
    };
    await Promise.all(Array.from({ length: AT_ONCE }, guessOn));
    expect(Object.fromEntries(statuses)).toEqual({ 403: 10, 429: GUESSES - 10 });
    // The right one neither from there, nor does it help to start the server anew.
    expect(await tryCode(server.url, code)).toBe(429);
    expect(await tryCode(server.url, code, '127.0.0.2')).toBe(200);
    expect(await statusWith(server, deck)).toBe(200);
    expect(server.logged).toEqual([]);
  });

  test('from many addresses is stopped for all that are not paired, for five minutes, also by a new start', async () => {
    const machine = new HandMachineClock();
    const server = await runServer({ machine });
    const deck = await pairAs(server, 'coach');
    const addresses = ['127.0.0.3', '127.0.0.4', '127.0.0.5'];
    for (const address of addresses) {
      for (let wrong = 0; wrong < 10; wrong += 1) expect(await tryCode(server.url, 'ZZZZZZZZ', address)).toBe(403);
      expect(await tryCode(server.url, 'ZZZZZZZZ', address)).toBe(429);
    }
    expect(await tryCode(server.url, await shownCode(server, 'coach'), '127.0.0.6')).toBe(429);
    await server.farwall.close();
    machine.pass(MINUTE_MS);

    const again = await runServer({ folder: server.folder, machine, isPaired: false });
    expect(await tryCode(again.url, 'ZZZZZZZZ', '127.0.0.6')).toBe(429);
    expect((await again.ask('GET', '/api/squad', { headers: { cookie: deck } })).status).toBe(200);
    // Whoever types wrong codes does not keep out who reads the terminal.
    expect(await tryCode(again.url, again.farwall.ownerKey, '127.0.0.3')).toBe(200);
    expect(await tryCode(again.url, again.farwall.ownerKey, '127.0.0.6')).toBe(429);
    machine.pass(4 * MINUTE_MS);
    expect(await tryCode(again.url, again.farwall.ownerKey, '127.0.0.6')).toBe(403);
  });

  test('tells nothing by how long an answer takes: hashes of one length are compared whole', () => {
    expect(isSecretOf('right', 'not a hash'.padEnd(64, '0'))).toBe(false);
    expect(() => isSecretOf('right', 'short')).toThrow(RangeError);
  });
});

describe('a paired device', () => {
  test('has its secret in a cookie that scripts and other sites never get', async () => {
    const server = await runServer();
    const { headers } = await claim(server, await shownCode(server, 'coach'));
    const [cookie = ''] = [headers['set-cookie']].flat();
    // RFC 6265bis (from memory): HttpOnly hides it from scripts, SameSite=Strict from requests that other sites begin.
    expect(cookie).toMatch(/^farwall_[0-9a-z]{8}=[0-9a-f]{32}\.[\w-]{43}; /);
    expect(cookie.split('; ').slice(1).sort()).toEqual(['HttpOnly', 'Max-Age=34560000', 'Path=/', 'SameSite=Strict']);
  });

  test('has a secret that is nowhere on the disk of the server', async () => {
    const server = await runServer();
    const code = await shownCode(server, 'coach');
    const { headers } = await claim(server, code);
    const secret = /\.([\w-]{43});/.exec(String(headers['set-cookie']))?.[1] ?? '';
    expect(secret).toHaveLength(43);
    const files = readdirSync(server.folder, { recursive: true, withFileTypes: true }).filter((entry) =>
      entry.isFile(),
    );
    expect(files.length).toBeGreaterThan(1);
    for (const { name, parentPath } of files) {
      const bytes = readFileSync(join(parentPath, name));
      for (const hidden of [secret, code, code.replace('-', ''), server.farwall.ownerKey]) {
        expect([name, bytes.includes(hidden)]).toEqual([name, false]);
      }
    }
  });

  test('is nobody with another secret, another id, or half a cookie', async () => {
    const server = await runServer();
    const cookie = await pairAs(server, 'coach');
    expect(await statusWith(server, cookie)).toBe(200);
    const [name, value = ''] = cookie.split('=');
    const [id = '', secret = ''] = value.split('.');
    const forged = [
      `${id}.`,
      id,
      `${id}.${secret.slice(1)}`,
      `${id}.${secret}x`,
      `${'0'.repeat(32)}.${secret}`,
      '.',
      '',
    ];
    for (const each of [...forged, `${id}.${'é'.repeat(43)}`, '__proto__.x', `${id}.${'x'.repeat(5000)}`]) {
      expect([each, await statusWith(server, `${name}=${encodeURIComponent(each)}`)]).toEqual([each, 401]);
    }
    expect(server.logged).toEqual([]);
  });

  test('is cut off at once when its pairing ends, and no other is', async () => {
    const server = await runServer();
    const [lost, kept] = [await pairAs(server, 'coach', 'coach'), await pairAs(server, 'coach', 'coach')];
    const [lostDeck, keptDeck] = [lost, kept].map(
      (cookie) => new TestScreen(server.url, 'deck', { origin: server.url, cookie }),
    );
    await Promise.all([lostDeck?.hello(), keptDeck?.hello()]);
    const [, device] = await devicesOf(server);
    expect(device).toMatchObject({ name: 'coach', pages: 1 });
    const ended = await server.ask('DELETE', `/api/devices/${device?.id}`);
    expect(devicesSchema.parse(ended.body).devices.map(({ pages }) => pages)).toEqual([0, 1]);
    await expect.poll(() => lostDeck?.socket.connected).toBe(false);
    expect(await statusWith(server, lost)).toBe(401);
    expect([await statusWith(server, kept), keptDeck?.socket.connected]).toEqual([200, true]);
    const again = new TestScreen(server.url, 'deck', { origin: server.url, cookie: lost });
    await new Promise((resolve) => again.socket.on('connect_error', resolve));
    expect((await server.ask('DELETE', `/api/devices/${device?.id}`)).status).toBe(404);
  });

  test('can end its own pairing', async () => {
    const server = await runServer();
    const cookie = await pairAs(server, 'screen');
    const left = await server.ask('DELETE', '/api/access', { headers: { cookie } });
    expect(String(left.headers['set-cookie'])).toContain('Max-Age=0');
    expect(await devicesOf(server)).toHaveLength(1);
  });

  test('is known after a restart, and its cookie goes on when it opens a page', async () => {
    const server = await runServer();
    const cookie = await pairAs(server, 'coach');
    await server.farwall.close();
    const again = await runServer({ folder: server.folder, machine: server.machine });
    expect(await statusWith(again, cookie)).toBe(200);
  });

  test('is called so that an owner can tell it from the others', async () => {
    const server = await runServer();
    await pairAs(server, 'screen', 'Wall');
    const second = await pairAs(server, 'screen', 'Wall');
    await pairAs(server, 'screen', 'Wall');
    const names = async (): Promise<string[]> =>
      (await devicesOf(server)).flatMap(({ name, access }) => (access === 'screen' ? [name] : []));
    expect(await names()).toEqual(['Wall', 'Wall 2', 'Wall 3']);
    const code = await shownCode(server, 'screen');
    await server.ask('POST', '/api/devices', { body: { code, name: 'Wall 2' }, headers: { cookie: second } });
    expect((await names()).toSorted()).toEqual(['Wall', 'Wall 2', 'Wall 3']);
  });

  test('is one of 200 at most, and then others are told what to do', async () => {
    const server = await runServer();
    const { devices } = server.farwall.store;
    for (let nth = 1; nth < 200; nth += 1) {
      const id = nth.toString(16).padStart(32, '0');
      const [known] = devices.devices();
      if (known) devices.add({ ...known, id: devicesSchema.shape.devices.element.shape.id.parse(id) });
    }
    await server.farwall.close();
    const again = await runServer({ folder: server.folder, machine: server.machine, isPaired: false });
    const refused = await claim(again, again.farwall.ownerKey);
    expect([refused.status, refused.body]).toMatchObject([409, { code: 'too-many-devices' }]);
  });
});

describe('the desks', () => {
  test('are told when a device is paired, or no longer', async () => {
    const server = await runServer();
    const desk = server.screen('desk');
    await desk.hello();
    await pairAs(server, 'screen');
    await expect.poll(() => desk.all('changed')).toEqual([{ what: 'devices' }]);
    const [, device] = await devicesOf(server);
    await server.ask('DELETE', `/api/devices/${device?.id}`);
    await expect.poll(() => desk.all('changed').length).toBeGreaterThan(1);
  });
});
