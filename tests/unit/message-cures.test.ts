import { describe, expect, test } from 'vitest';
import { curedText, cureLabel } from '../../client/desk/message-cures.ts';
import { planPractice } from '../../server/planning/plan.ts';
import type { Message } from '../../shared-types/message.ts';
import { squadAnswerSchema } from '../../shared-types/wire/desk.ts';
import { best, pool25, swimmer } from '../fixtures/planning.ts';
import { runServer } from '../fixtures/running-server.ts';

const [ADA, BO, CY] = [
  swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]),
  swimmer('Bo Tarn', 1, 'A', [best('200 free', '2:20.00')]),
  swimmer('Cy Reno', 1, 'A', [best('200 free', '2:02.00')]),
];

const messagesOf = (text: string, swimmers = [ADA, BO, CY]): Message[] => [
  ...planPractice(text, { swimmers }, pool25).messages,
];
const curable = (text: string, swimmers = [ADA, BO, CY]): Message[] =>
  messagesOf(text, swimmers).filter(({ cure }) => cure !== undefined);

/** Presses every cure that is written in the text, one after the other. */
function cured(text: string): string {
  let now = text;
  for (let press = 0; press < 10; press += 1) {
    const next = curable(now)
      .map((message) => curedText(now, message))
      .find((one) => one !== null && one !== now);
    if (next === undefined || next === null) return now;
    now = next;
  }
  throw new Error('the cures never end');
}

describe('slips are mended at a press', () => {
  test.for([
    ['4 x 50 fre @ 1:00', '4 x 50 free @ 1:00'],
    ['4 x 50 free kcik @ 1:00', '4 x 50 free kick @ 1:00'],
    ['4 x 50 free @ 1;00', '4 x 50 free @ 1:00'],
    ['4 x 50 free @ 90', '4 x 50 free @ 1:30'],
    ['4 x 50 free 1:00', '4 x 50 free @ 1:00'],
    ['4 50 free @ 1:00', '4 x 50 free @ 1:00'],
    ['4 x 1,500 free @ 25:00', '4 x 1500 free @ 25:00'],
    ['4 x 50 free @ 200 pace @ 1:00', '4 x 50 free at 200 pace @ 1:00'],
    ['4 x 50 freee @ 1;00 -- fast', '4 x 50 free @ 1:00 -- fast'],
  ] as const)('“%s” becomes “%s”', ([slipped, meant]) => {
    const text = cured(`# Mon\n\nMain\n${slipped}\nwait\n`);
    expect(text).toBe(`# Mon\n\nMain\n${meant}\nwait\n`);
    expect(messagesOf(text).filter(({ severity }) => severity === 'error')).toEqual([]);
  });
});

describe('what cannot be made is mended at a press', () => {
  test('by the send-off that leaves everybody some rest', () => {
    const text = 'Main\n4 x 100 free @ 1:05 at 200 pace -- long\n';
    const [message] = curable(text, [ADA, BO]).filter(({ code }) => code === 'cannot-make-it');
    expect(message?.cure).toEqual({ kind: 'send-offs', sendOffs: '1:15' });
    const next = message && curedText(text, message);
    expect(next).toBe('Main\n4 x 100 free @ 1:15 at 200 pace -- long\n');
    expect(messagesOf(next ?? '', [ADA, BO]).some(({ code }) => code === 'cannot-make-it')).toBe(false);
  });

  test('by a gap, in the place of the one that is written or before a note', () => {
    const gap = { line: 1, cure: { kind: 'gap', apartMs: 10_000 } } as const;
    expect(curedText('4 x 50 free @ 1:00 :05 apart', gap)).toBe('4 x 50 free @ 1:00 :10 apart');
    expect(curedText('4 x 50 free @ 1:00 5s apart -- go', gap)).toBe('4 x 50 free @ 1:00 :10 apart -- go');
    expect(curedText('4 x 50 free @ 1:00 -- :05 apart', gap)).toBe('4 x 50 free @ 1:00 :10 apart -- :05 apart');
    expect(cureLabel(gap.cure)).toBe('Write :10 apart');
  });

  test('by the order of a lane, which the squad then has', async () => {
    // The slower swimmer leaves before a faster one, who catches up within four lengths.
    const text = 'Main\n4 x 200 free @ 4:00 at 200 pace\n';
    const server = await runServer();
    const stored = server.farwall.store.squad.replace({ swimmers: [ADA, BO, CY] }, false).swimmers;
    const [message] = curable(text, stored).filter(({ code }) => code === 'catches');
    const [ada, bo, cy] = stored.map(({ id }) => id);
    expect(message?.cure).toEqual({ kind: 'order', lane: 1, swimmers: [ada, cy, bo] });
    expect(message && curedText(text, message)).toBeNull();
    const reply = await server.ask('PUT', '/api/squad/lanes/1', { body: { swimmers: [ada, cy, bo] } });
    const after = squadAnswerSchema.parse(reply.body).swimmers;
    expect(after.map(({ order }) => order)).toEqual([1, 3, 2]);
    expect(messagesOf(text, after).some(({ code }) => code === 'catches')).toBe(false);
  });

  test('but not when others swim in that lane by now', async () => {
    const server = await runServer();
    const [ada, bo] = server.farwall.store.squad.replace({ swimmers: [ADA, BO] }, false).swimmers.map(({ id }) => id);
    for (const swimmers of [[ada], [ada, ada], [ada, bo, CY.id].slice(0, 1)]) {
      const reply = await server.ask('PUT', '/api/squad/lanes/1', { body: { swimmers } });
      expect(reply.status).toBe(409);
    }
    expect((await server.ask('PUT', '/api/squad/lanes/40', { body: { swimmers: [ada] } })).status).toBe(400);
    expect(server.farwall.store.squad.squad().swimmers.map(({ order }) => order)).toEqual([undefined, undefined]);
  });
});
