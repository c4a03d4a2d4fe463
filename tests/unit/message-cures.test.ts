import { describe, expect, test } from 'vitest';
import { changesByOrder } from '../../client/desk/lane-moves.ts';
import { curedText, cureLabel } from '../../client/desk/message-cures.ts';
import { planPractice } from '../../server/planning/plan.ts';
import { laneNumber } from '../../shared-types/brand.ts';
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
    const order = [ada, cy, bo].flatMap((id) => id ?? []);
    const changes = changesByOrder(stored, laneNumber(1), order);
    const reply = await server.ask('PUT', '/api/squad/lanes', { body: changes });
    const after = squadAnswerSchema.parse(reply.body).swimmers;
    expect(after.map(({ order }) => order)).toEqual([1, 3, 2]);
    expect(messagesOf(text, after).some(({ code }) => code === 'catches')).toBe(false);
  });

  test('by the order of a lane, behind which stays who came to it since, and without who left it', () => {
    const dee = swimmer('Dee Ross', 2, 'A', []);
    const { places } = changesByOrder([ADA, BO, CY, dee], laneNumber(1), [BO.id, dee.id, ADA.id]);
    expect(places.map(({ swimmer: id, order }) => [id, order])).toEqual([
      [BO.id, 1],
      [ADA.id, 2],
      [CY.id, 3],
    ]);
  });
});
