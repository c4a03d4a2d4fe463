import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DRIFT, type Sample } from '../../client/common/sync.ts';
import { driftOf, withMark } from '../../client/common/sync-drift.ts';

const MINUTE_MS = 60_000;
const sample = (offsetMs: number, delayMs: number, askedAt: number): Sample => ({ offsetMs, delayMs, askedAt });

describe('the marks to see a drift by', () => {
  it('[SYN2] are the quickest exchange of each minute, of the last half hour', () => {
    const asked = Array.from({ length: 40 * 3 }, (_, nth) => sample(nth, nth % 3 === 1 ? 4 : 9, nth * 20_000));
    const marks = asked.reduce<readonly Sample[]>(withMark, []);
    expect(marks.map(({ askedAt }) => askedAt)).toEqual(
      Array.from({ length: 30 }, (_, nth) => (nth + 10) * MINUTE_MS + 20_000),
    );
  });
});

describe('the drift', () => {
  it('[SYN2] is nothing while one exchange is all there is', () => {
    const only = sample(100, 4, 0);
    expect(driftOf([only], only)).toBe(0);
    expect(driftOf([], only)).toBe(0);
  });

  it('[SYN2] is the least that explains what was seen: 18 ± 4 ms in ten minutes are 14 ms, 23.3 ppm', () => {
    expect(driftOf([sample(100, 4, 0)], sample(118, 4, 10 * MINUTE_MS))).toBeCloseTo(14 / 600_000, 12);
    expect(driftOf([sample(100, 4, 0)], sample(82, 4, 10 * MINUTE_MS))).toBeCloseTo(-14 / 600_000, 12);
    expect(driftOf([sample(100, 4, 0)], sample(104, 4, 10 * MINUTE_MS))).toBe(0);
  });

  it('[SYN2] goes by the mark that leaves the least doubt', () => {
    const slow = sample(100, 40, 0);
    const quick = sample(110, 2, 5 * MINUTE_MS);
    expect(driftOf([slow, quick], sample(122, 2, 10 * MINUTE_MS))).toBeCloseTo(10 / 300_000, 12);
  });

  it('[SYN2] is never more than 50 ppm', () => {
    expect(driftOf([sample(0, 1, 0)], sample(500, 1, 10 * MINUTE_MS))).toBe(DRIFT);
  });

  it('[SYN2] reckoning with it never makes a steady drift worse, whatever the link does', () => {
    const exchange = fc.record({ afterMs: fc.nat(400_000), there: fc.nat(900), back: fc.nat(900) });
    const ppm = fc.double({ min: -50, max: 50, noNaN: true });
    fc.assert(
      fc.property(fc.array(exchange, { minLength: 2, maxLength: 40 }), ppm, (exchanges, truePpm) => {
        const trueDrift = truePpm * 1e-6;
        let askedAt = 0;
        let marks: readonly Sample[] = [];
        for (const { afterMs, there, back } of exchanges) {
          askedAt += afterMs;
          // θ is off by half the difference of the two ways, δ is their sum.
          const made = sample(askedAt * trueDrift + (there - back) / 2, Math.max(1, there + back), askedAt);
          marks = withMark(marks, made);
          expect(Math.abs(trueDrift - driftOf(marks, made))).toBeLessThanOrEqual(Math.abs(trueDrift) + 1e-12);
        }
      }),
      { endOnFailure: true },
    );
  });
});
