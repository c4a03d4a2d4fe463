import { expect, test } from 'vitest';
import { ROUTES } from '../../shared-types/wire/access.ts';
import { ASKED } from '../../shared-types/wire/from-screen.ts';
import { failureSchema } from '../../shared-types/wire/from-server.ts';
import { runServer } from '../fixtures/running-server.ts';
import { BODIES_SENT, MESSAGES_SENT } from '../fixtures/well-formed.ts';

/** What hostile messages are made from must itself be read, or they would all be refused for the same reason. */

const codeOf = (told: unknown): string | null => failureSchema.safeParse(told).data?.code ?? null;

test.for(Object.entries(BODIES_SENT))('%s is sent a body that is read', async ([route, body]) => {
  const server = await runServer();
  const [method = '', path = ''] = route.split(' ');
  const filled = path.replace(':day', '2027-01-15').replace(':set', '0').replace(/:\w+/g, 'ab'.repeat(16));
  expect(codeOf((await server.ask(method, filled, { body })).body)).not.toBe('bad-request');
});

test('every route that takes a body is sent one', () => {
  const without = ['POST /api/demo', 'POST /api/demo/restore', 'POST /api/backup', 'POST /api/practices/:id/restore'];
  const bodiless = [...without, 'POST /api/walls/:device/identify'];
  const taking = Object.keys(ROUTES).filter((route) => /^(PUT|POST) /.test(route) && !bodiless.includes(route));
  expect(Object.keys(BODIES_SENT).sort()).toEqual(taking.sort());
});

test('messages are read', async () => {
  const server = await runServer();
  const deck = server.screen('deck');
  for (const asked of [...ASKED].sort()) {
    for (const message of MESSAGES_SENT[asked]) {
      expect([asked, message, codeOf(await deck.ask(asked, message))]).not.toContain('bad-message');
    }
  }
});
