import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Exchange } from '../../client/common/sync.ts';
import { estimateAt, type Knowledge, learn, NOTHING_KNOWN } from '../../client/common/sync-estimate.ts';

const MINUTE_MS = 60_000;

/** An exchange with a pool clock that is `offsetMs` ahead, over two ways as long as each other. */
const exchangeAt = (askedAt: number, offsetMs: number, delayMs: number): Exchange => {
  const middle = askedAt + delayMs / 2 + offsetMs;
  return { askedAt, receivedAt: middle, answeredAt: middle, heardAt: askedAt + delayMs };
};

/** One exchange a minute with a pool clock that gains `gainMs` in each. */
function minutes(count: number, gainMs: number): Knowledge {
  let knowledge = NOTHING_KNOWN;
  for (let minute = 0; minute < count; minute += 1) {
    knowledge = learn(knowledge, exchangeAt(minute * MINUTE_MS, 1000 + minute * gainMs, 2)).knowledge;
  }
  return knowledge;
}

describe('what exchanges tell of the pool’s clock', () => {
  it('[SYN2] the drift carries the estimate over an outage', () => {
    // 3 ms a minute are 50 ppm; known after 20 minutes to ± 2 ms in 20 minutes.
    const after = estimateAt(minutes(21, 3), 30 * MINUTE_MS);
    expect(Math.abs((after?.offsetMs ?? 0) - 1090)).toBeLessThanOrEqual(1);
    expect((after?.drift ?? 0) * 1e6).toBeCloseTo(48.3, 1);
  });

  it('[SYN2] the bound of an estimate that reckons with a drift grows by that too', () => {
    const after = estimateAt(minutes(21, 3), 30 * MINUTE_MS);
    expect(after?.ageMs).toBe(10 * MINUTE_MS);
    expect(after?.boundMs).toBeCloseTo(1 + 600_000 * (50e-6 + (after?.drift ?? 0)), 9);
  });

  it('[SYN2] the bound holds when a drift turns round after it was measured', () => {
    // 20 minutes at + 3 ms each, then 10 at − 3 ms: + 60 − 30.
    const after = estimateAt(minutes(21, 3), 30 * MINUTE_MS);
    expect(Math.abs((after?.offsetMs ?? 0) - 1030)).toBeGreaterThan(50);
    expect(Math.abs((after?.offsetMs ?? 0) - 1030)).toBeLessThanOrEqual(after?.boundMs ?? 0);
  });

  it('[SYN3] a late answer that contradicts one asked after it is not believed', () => {
    const believed = learn(minutes(5, 0), exchangeAt(5 * MINUTE_MS, 4000, 2)).knowledge;
    const { knowledge, contradictedMs } = learn(believed, exchangeAt(5 * MINUTE_MS - 125, 1000, 400));
    expect(knowledge).toEqual(believed);
    expect(contradictedMs).toBe(0);
  });

  it('[SYN3] an exchange that cannot be of the same clock puts an end to what was known', () => {
    const { knowledge, contradictedMs } = learn(minutes(5, 0), exchangeAt(5 * MINUTE_MS, 4000, 100));
    expect(contradictedMs).toBeGreaterThan(2900);
    expect(knowledge.samples).toHaveLength(1);
    expect(knowledge.marks).toHaveLength(1);
    expect(estimateAt(knowledge, 5 * MINUTE_MS)?.offsetMs).toBe(4000);
  });

  it('[SYN2] the true offset is within the bound at every moment, for any drift up to 50 ppm, steady or not', () => {
    const leg = fc.record({
      passMs: fc.integer({ min: 3000, max: 400_000 }),
      ppm: fc.constantFrom(-50, -20, 0, 20, 50),
      // One way may take everything and the other nothing.
      thereMs: fc.integer({ min: 0, max: 1500 }),
      backMs: fc.integer({ min: 0, max: 1500 }),
    });
    fc.assert(
      fc.property(fc.array(leg, { minLength: 1, maxLength: 60 }), (legs) => {
        let knowledge = NOTHING_KNOWN;
        let pageMs = 0;
        let offsetMs = 1000;
        const pass = (ms: number, ppm: number): void => {
          pageMs += ms;
          offsetMs += ms * ppm * 1e-6;
        };
        for (const { passMs, ppm, thereMs, backMs } of legs) {
          const askedAt = pageMs;
          pass(thereMs, ppm);
          const receivedAt = pageMs + offsetMs;
          pass(backMs, ppm);
          const learnt = learn(knowledge, { askedAt, receivedAt, answeredAt: receivedAt, heardAt: pageMs });
          knowledge = learnt.knowledge;
          expect(learnt.contradictedMs).toBe(0);
          for (const share of [0, 0.5, 0.5]) {
            pass(passMs * share, ppm);
            const estimate = estimateAt(knowledge, pageMs);
            const error = Math.abs((estimate?.offsetMs ?? Number.NaN) - offsetMs);
            expect(error).toBeLessThanOrEqual((estimate?.boundMs ?? 0) + 1e-6);
          }
        }
      }),
      { endOnFailure: true },
    );
  });
});
