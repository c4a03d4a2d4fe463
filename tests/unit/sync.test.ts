import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DRIFT, type Sample, sampleOf, withSample } from '../../client/common/sync.ts';
import { type Estimate, estimateAt } from '../../client/common/sync-estimate.ts';

const sample = (offsetMs: number, delayMs: number, askedAt: number): Sample => ({ offsetMs, delayMs, askedAt });

const estimateOf = (samples: readonly Sample[], pageMs: number): Estimate | null =>
  estimateAt({ samples, marks: [] }, pageMs);

describe('one exchange', () => {
  it('[SYN1] T1 100.000, T2 100.520, T3 100.525, T4 100.045 give θ +0.500 s and δ 0.040 s (worked by RFC 5905 §8)', () => {
    const made = sampleOf({ askedAt: 100_000, receivedAt: 100_520, answeredAt: 100_525, heardAt: 100_045 });
    expect(made.offsetMs).toBe(500);
    expect(made.delayMs).toBe(40);
  });

  it('[SYN1] (0, 1015, 1016, 26) ms give θ 1002.5 and δ 25 (worked by RFC 5905 §8)', () => {
    const made = sampleOf({ askedAt: 0, receivedAt: 1015, answeredAt: 1016, heardAt: 26 });
    expect(made).toEqual({ offsetMs: 1002.5, delayMs: 25, askedAt: 0 });
  });

  it('[SYN1] a server 100 ppm fast that answers after 64 s gives δ −6.4 ms, taken as the precision', () => {
    const made = sampleOf({ askedAt: 0, receivedAt: 0, answeredAt: 64_006.4, heardAt: 64_000 });
    expect(made.delayMs).toBe(1);
  });

  it('[SYN1] the true offset is within δ/2 of θ however unequal the two ways are', () => {
    const way = fc.double({ min: 0, max: 5000, noNaN: true });
    const offset = fc.double({ min: -1e9, max: 1e9, noNaN: true });
    fc.assert(
      fc.property(way, way, way, offset, (there, thinking, back, trueOffset) => {
        const receivedAt = there + trueOffset;
        const answeredAt = receivedAt + thinking;
        const made = sampleOf({ askedAt: 0, receivedAt, answeredAt, heardAt: there + thinking + back });
        expect(Math.abs(made.offsetMs - trueOffset)).toBeLessThanOrEqual(made.delayMs / 2 + 1e-6);
      }),
    );
  });
});

describe('many exchanges', () => {
  it('[SYN2] no sample, no estimate', () => {
    expect(estimateOf([], 0)).toBeNull();
  });

  it('[SYN2] the quickest exchange is believed', () => {
    expect(estimateOf([sample(10, 30, 0), sample(12, 4, 10), sample(20, 50, 20)], 20)?.offsetMs).toBe(12);
  });

  it('[SYN2] an exchange loses 50 ppm of trust as it ages', () => {
    const samples = [sample(1, 10, 0), sample(2, 14, 100_000)];
    expect(estimateOf(samples, 100_000)?.offsetMs).toBe(2);
    expect(estimateOf([sample(1, 10, 0), sample(2, 16, 100_000)], 100_000)?.offsetMs).toBe(1);
  });

  it('[SYN2] the bound is half the delay and 50 ppm of the age', () => {
    expect(estimateOf([sample(1, 10, 0)], 20_000)?.boundMs).toBe(5 + 20_000 * DRIFT);
  });

  it('[SYN2] the last 60 are kept', () => {
    const all = Array.from({ length: 70 }, (_, nth) => sample(nth, 10, nth));
    const kept = all.reduce<readonly Sample[]>(withSample, []);
    expect(kept.map(({ askedAt }) => askedAt)).toEqual(Array.from({ length: 60 }, (_, nth) => nth + 10));
  });
});
