import { describe, expect, it } from 'vitest';
import { poolOf } from '../../server/pool-options.ts';
import type { Message } from '../../shared-types/message.ts';
import { plan, pool25 } from '../fixtures/planning.ts';

const poolTime = (text: string, bookedMs?: number): Message[] =>
  plan(text, undefined, bookedMs === undefined ? pool25 : { ...pool25, bookedMs }).messages.filter(
    ({ code }) => code === 'pool-time',
  );

/** Two minutes for all; then 4, 5 and 6 minutes in lanes 1 to 3: 8 minutes in all. */
const PRACTICE = `
  Warm-up
  2 x 50 free @ 1:00

  Main set
  4/5/6 x 50 free @ 1:00
`;
const MINUTE = 60_000;

describe('the time the pool is booked for', () => {
  it('is enough for a practice that ends exactly with it', () => {
    expect(poolTime(PRACTICE, 8 * MINUTE)).toEqual([]);
  });

  it('runs out in the line and the lane that needs a millisecond more', () => {
    expect(poolTime(PRACTICE, 8 * MINUTE - 1)).toMatchObject([
      { severity: 'warning', code: 'pool-time', line: 5, column: 1, lane: 3 },
    ]);
  });

  it('is said once, with how long the practice takes', () => {
    expect(poolTime(PRACTICE, 7 * MINUTE).map(({ text }) => text)).toEqual([
      'the pool is booked for 7 min; lane 3 runs out of it in this line, and the practice takes 8:00 without waits for go',
    ]);
    // 102 reps on 1:00 are 1 h 42 min.
    expect(poolTime('102 x 50 free @ 1:00', 90 * MINUTE).map(({ text }) => text)).toEqual([
      'the pool is booked for 90 min; lane 1 runs out of it in this line, and the practice takes 1:42:00 without waits for go',
    ]);
  });

  it('runs out first where a lane is at the earliest line', () => {
    const text = '2/4/4 x 50 free @ 1:00\n4 x 50 back @ 1:00';
    expect(poolTime(text, 3 * MINUTE)).toMatchObject([{ line: 1, lane: 2 }]);
  });

  it('passes over a lane that only waits for another', () => {
    const text = 'First\n2/4/6 x 50 free @ 1:00\n\nSecond\n50 free @ 1:00';
    expect(poolTime(text, 5 * MINUTE)).toMatchObject([{ line: 2, lane: 3 }]);
  });

  it('runs out in a rest that the coach wrote, too', () => {
    expect(poolTime('2 x 50 free @ 1:00\nrest 2:00', 3 * MINUTE)).toMatchObject([{ line: 2, lane: 1 }]);
  });

  it('is not spoken of when nobody said how long that is', () => {
    expect(poolTime('100 x 50 free @ 2:00')).toEqual([]);
  });

  it('comes among the other messages, in the order of the lines', () => {
    const { messages } = plan('2 x 50 free @ 1:00 max\n2 x 50 free from a dive @ 1:00', undefined, {
      ...pool25,
      bookedMs: MINUTE,
    });
    expect(messages.map(({ code, line }) => `${line} ${code}`)).toEqual(['1 caution', '1 pool-time', '2 caution']);
  });

  it('is written in whole minutes from 1 to 720', () => {
    expect([poolOf({ minutes: '1' }), poolOf({ minutes: '720' })].map(({ bookedMs }) => bookedMs)).toEqual([
      MINUTE,
      12 * 60 * MINUTE,
    ]);
    expect(poolOf({})).not.toHaveProperty('bookedMs');
    for (const minutes of ['0', '721', '1:30', '90.5', '-90', '', '090m']) {
      expect(() => poolOf({ minutes })).toThrow(/--minutes ".*" is not how long a pool is booked: .*1 to 720/);
    }
  });
});
