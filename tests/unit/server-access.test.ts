import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Fastify from 'fastify';
import { io } from 'socket.io-client';
import { describe, expect, onTestFinished, test } from 'vitest';
import { demandRules, notAllowed } from '../../server/web/guard.ts';
import { ACCESSES, type Access, MESSAGES, mayUse, PAGES, ROUTES } from '../../shared-types/wire/access.ts';
import { ASKED } from '../../shared-types/wire/from-screen.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import { PROTOCOL, ROLES } from '../../shared-types/wire/protocol.ts';
import { pairAll, pairAs } from '../fixtures/pairing.ts';
import { type RunningServer, runServer, TestScreen, withRun } from '../fixtures/running-server.ts';
import { temporaryFolder } from '../fixtures/temporary-folder.ts';

type Who = Access | 'nobody';
const EVERYBODY: readonly Who[] = ['nobody', ...ACCESSES];
const accessOf = (who: Who): Access | null => (who === 'nobody' ? null : who);

const HEX = 'ab'.repeat(16);
const PARAMETERS: Readonly<Record<string, string>> = {
  ':id': HEX,
  ':device': HEX,
  ':swimmer': HEX,
  ':offer': HEX,
  ':hash': HEX + HEX,
  ':day': '2027-01-15',
  ':set': '0',
  '*': 'page.js',
};

/** The path of a route with something in each of its places. @throws Error for a place that is not known here */
const pathOf = (route: string): string =>
  route.replace(/:\w+|\*/g, (place) => {
    const filled = PARAMETERS[place];
    if (filled === undefined) throw new Error(`${route}: say in PARAMETERS what to put for ${place}`);
    return filled;
  });

/** Pages as small as they can be. */
async function smallPages(): Promise<string> {
  const folder = temporaryFolder();
  for (const page of ['', 'pair', ...ROLES]) {
    mkdirSync(join(folder, page), { recursive: true });
    writeFileSync(join(folder, page, 'index.html'), `<!doctype html><title>${page}</title>`);
  }
  mkdirSync(join(folder, 'assets'));
  writeFileSync(join(folder, 'assets/page.js'), '');
  return folder;
}

/** Asks as somebody. @returns why it was refused; null when this was not for who asked */
async function refusalOf(server: RunningServer, route: string, cookie: string): Promise<string | null> {
  const [method = '', path = ''] = route.split(' ');
  const body = method === 'GET' || method === 'DELETE' ? {} : { body: {} };
  const { status, body: told } = await server.ask(method, pathOf(path), { headers: { cookie }, ...body });
  const failed = failureSchema.safeParse(told);
  const code = failed.success ? failed.data.code : null;
  if (code === 'not-found') throw new Error(`${route} is in the list and is not a route`);
  if (code === 'not-paired') expect(status).toBe(401);
  if (code === 'not-allowed') expect(status).toBe(403);
  return code === 'not-paired' || code === 'not-allowed' ? code : null;
}

const expectedRefusal = (who: Who, may: boolean): string | null => {
  if (may) return null;
  return who === 'nobody' ? 'not-paired' : 'not-allowed';
};

describe('each route, asked by each', () => {
  test.for(Object.entries(ROUTES))('%s needs %s', async ([route, needed]) => {
    const server = await runServer({ pages: smallPages });
    const cookies = { ...(await pairAll(server)), nobody: '' };
    for (const who of EVERYBODY) {
      // Who is not paired is told so there: that is what it is asked for.
      const isOwnAnswer = route === 'GET /api/access' && who === 'nobody';
      const expected = isOwnAnswer ? 'not-paired' : expectedRefusal(who, mayUse(accessOf(who), needed));
      expect([who, await refusalOf(server, route, cookies[who])]).toEqual([who, expected]);
    }
  });

  test('is in the list: with a route that is not, a server does not start', () => {
    const app = Fastify();
    demandRules(app);
    expect(() => app.get('/api/squad', () => null)).not.toThrow();
    expect(() => app.get('/api/birthdays', () => null)).toThrow('no rule for GET /api/birthdays');
    expect(() => app.delete('/api/squad', () => null)).toThrow('no rule for DELETE /api/squad');
  });

  test('leaves to a device that is not paired nothing but how to become one, and whether the server is there', () => {
    const open = Object.keys(ROUTES).filter((route) => ROUTES[route] === 'anyone');
    expect(open.filter((route) => !/^GET \/(\w*|assets\/\*|favicon.ico)$/.test(route))).toEqual([
      'GET /api/access',
      'POST /api/devices',
    ]);
  });

  test('leaves to a screen the board alone', () => {
    const forScreens = Object.keys(ROUTES).filter((route) => ROUTES[route] === 'screen');
    expect(forScreens).toEqual(['GET /api/sheets/:hash', 'DELETE /api/access']);
  });
});

describe('what anyone is told', () => {
  test('of the server is that it is there, and nothing of the pool', async () => {
    const server = await runServer();
    await withRun(server);
    const { body } = await server.ask('GET', '/health', { headers: { cookie: '' } });
    expect(body).toEqual({ ok: true, database: 'ok' });
    const screen = await pairAs(server, 'screen');
    expect((await server.ask('GET', '/health', { headers: { cookie: screen } })).body).toEqual(body);
    expect((await server.ask('GET', '/health')).body).toMatchObject({ run: { state: 'ready' } });
  });

  test('who may not open a page is sent to be paired and then back to it', async () => {
    const server = await runServer({ pages: smallPages });
    const cookies = { ...(await pairAll(server)), nobody: '' };
    for (const role of ROLES) {
      for (const who of EVERYBODY) {
        const { status, headers } = await server.ask('GET', `/${role}`, { headers: { cookie: cookies[who] } });
        const may = mayUse(accessOf(who), PAGES[role]);
        expect([role, who, status]).toEqual([role, who, may ? 200 : 302]);
        if (!may) expect(headers.location).toBe(`/pair?to=/${role}`);
      }
    }
  });
});

describe('a sheet', () => {
  test('is given to a screen without what is for coaches, whatever it asks for', async () => {
    const server = await runServer();
    const { sheet } = await withRun(server);
    const screen = await pairAs(server, 'screen');
    const told = async (cookie: string | undefined, role: string) =>
      (
        await server.ask(
          'GET',
          `/api/sheets/${sheet}?role=${role}`,
          cookie === undefined ? {} : { headers: { cookie } },
        )
      ).bytes.toString();
    expect(await told(undefined, 'deck')).toContain('"basis"');
    expect(await told(screen, 'deck')).not.toContain('"basis"');
    expect(await told(screen, 'deck')).toBe(await told(undefined, 'wall'));
  });
});

/** Something to say under each name, well formed or not: who may not say it is refused before it is read. */
const SAID: Readonly<Record<(typeof ASKED)[number], unknown>> = {
  sync: { askedAt: 0 },
  hello: { protocols: [PROTOCOL], role: 'wall', device: HEX },
  status: {},
  command: {},
  mark: {},
};

describe('each message of a socket, sent by each', () => {
  const screenOf = (server: RunningServer, cookie: string) =>
    new TestScreen(server.url, 'wall', { origin: server.url, cookie });

  test('has a rule', () => {
    expect(Object.keys(MESSAGES).sort()).toEqual([...ASKED].sort());
    expect(Object.keys(PAGES).sort()).toEqual([...ROLES].sort());
  });

  test.for(ASKED)('%s', async (asked) => {
    const server = await runServer();
    const cookies = await pairAll(server);
    for (const who of ACCESSES) {
      const answer = failureSchema.safeParse(await screenOf(server, cookies[who]).ask(asked, SAID[asked]));
      const isRefused = answer.success && answer.data.message === notAllowed(MESSAGES[asked]).message;
      expect([who, isRefused]).toEqual([who, !mayUse(who, MESSAGES[asked])]);
    }
  });

  test('comes from a paired device, or its socket is not let in', async () => {
    const server = await runServer();
    const options = { transports: ['websocket'], forceNew: true, reconnection: false };
    const socket = io(server.url, { ...options, extraHeaders: { origin: server.url } });
    onTestFinished(() => void socket.disconnect());
    await new Promise((resolve) => socket.on('connect_error', resolve));
    expect(socket.connected).toBe(false);
    expect((await server.ask('GET', '/health')).body).toMatchObject({ screens: [] });
  });

  test.for(ROLES.flatMap((role) => ACCESSES.map((who) => [role, who] as const)))(
    'hello as a %s by a device that is paired as %s',
    async ([role, who]) => {
      const server = await runServer();
      const screen = new TestScreen(server.url, role, { origin: server.url, cookie: await pairAs(server, who) });
      const hello = await screen.hello();
      expect(hello.ok).toBe(mayUse(who, PAGES[role]));
    },
  );

  test('is never told to a screen but what the board shows', async () => {
    const server = await runServer();
    const run = await withRun(server);
    const screen = screenOf(server, await pairAs(server, 'screen'));
    expect(await screen.hello()).toMatchObject({ ok: true });
    const deck = server.screen('deck');
    await deck.hello();
    await deck.ask('command', deck.command({ kind: 'start', when: 'now' }, run, server.farwall.clock.now()));
    await server.ask('PUT', '/api/squad/absences', { body: { swimmer: HEX, isAway: true } });
    await expect.poll(() => screen.all('event').length).toBe(1);
    expect(screen.heard.map(({ event }) => event)).toEqual(['event']);
  });
});
