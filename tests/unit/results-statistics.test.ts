import { describe, expect, it } from 'vitest';
import { fadeOf } from '../../server/results/fade.ts';
import { finishOf } from '../../server/results/finish.ts';
import { spreadOf } from '../../server/results/spread.ts';
import type { TimedRep } from '../../server/results/timed-rep.ts';
import { type Figure, fadeSchema, isKnown, spreadSchema } from '../../shared-types/results.ts';
import { splits } from '../fixtures/planning.ts';

/** Reps 1, 2, 3 … in seconds; null: not timed. */
const reps = (...seconds: (number | null)[]): TimedRep[] =>
  seconds.map((time, place) => ({ rep: place + 1, ms: time === null ? null : time * 1000 }));

const known = (figure: Figure): number => (isKnown(figure) ? figure : Number.NaN);

const fifties =
  '28.14 30.61 30.58 30.72 31.16 31.76 31.50 31.42 31.31 31.50 31.33 31.36 31.47 31.43 31.53 31.51 31.62 31.53 31.88 ' +
  '31.30 31.60 31.65 31.62 31.74 31.48 31.73 31.34 31.24 31.00 29.47';

describe('how far apart times lie', () => {
  it("women's 1500 m freestyle, long course, 2013 (published splits): splits 2–29 have mean 31.39, sample SD 0.327, CV 1.042 % (computed)", () => {
    const middle = splits(fifties).slice(1, 29);
    const spread = spreadOf(middle.map((ms, place) => ({ rep: place + 1, ms })));
    expect(spread).toMatchObject({ count: 28, missing: 0, bestMs: 30_580, worstMs: 31_880 });
    expect(known(spread.meanMs) / 1000).toBeCloseTo(31.39, 2);
    expect(known(spread.sdMs) / 1000).toBeCloseTo(0.327, 3);
    expect(known(spread.cvPercent)).toBeCloseTo(1.042, 3);
  });

  it('counts what is missing and never fills it in: the mean of 30 and 32 is 31', () => {
    expect(spreadOf(reps(30, null, 32))).toMatchObject({
      count: 2,
      missing: 1,
      meanMs: 31_000,
      sdMs: Math.SQRT2 * 1000,
    });
  });

  it('of equal times is 0', () => {
    expect(spreadOf(reps(30.1, 30.1, 30.1))).toMatchObject({ meanMs: 30_100, sdMs: 0, cvPercent: 0 });
  });

  it('of one time has no deviation, of none nothing at all', () => {
    const one = { none: 'one rep only' };
    const nothing = { none: 'no times' };
    expect(spreadOf(reps(30))).toEqual({
      count: 1,
      missing: 0,
      meanMs: 30_000,
      bestMs: 30_000,
      worstMs: 30_000,
      sdMs: one,
      cvPercent: one,
    });
    for (const none of [reps(), reps(null, null)]) {
      const spread = spreadOf(none);
      expect(spread).toMatchObject({ count: 0, missing: none.length, meanMs: nothing, bestMs: nothing });
      expect(spread).toMatchObject({ worstMs: nothing, sdMs: nothing, cvPercent: nothing });
    }
  });

  it('has no percent of a mean of nought', () => {
    expect(spreadOf(reps(0, 0)).cvPercent).toEqual({ none: 'a time of nought' });
    expect(spreadSchema.safeParse(spreadOf(reps(0, 0))).success).toBe(true);
  });
});

describe('fading', () => {
  it('60, 61, 61.5, 62, 62.5: decrement 2.333 %, first to last 4.167 %, CV 1.566 % (n − 1) (computed by the form that Glaister 2008 found most reliable)', () => {
    const set = reps(60, 61, 61.5, 62, 62.5);
    const fade = fadeOf(set);
    expect(known(fade.decrementPercent)).toBeCloseTo(2.333, 3);
    expect(known(fade.firstToLastPercent)).toBeCloseTo(4.167, 3);
    expect(known(spreadOf(set).cvPercent)).toBeCloseTo(1.566, 3);
    // By hand: Σ(x − x̄)(y − ȳ) = 2 · 1.4 + 1 · 0.4 + 1 · 0.6 + 2 · 1.1 = 6, Σ(x − x̄)² = 10.
    expect(known(fade.secondsPerRep)).toBeCloseTo(0.6, 12);
    expect(fade.descending).toBe(false);
  });

  it('is not what a set swum faster and faster does, though its decrement is the same as backwards', () => {
    const backwards = fadeOf(reps(62.5, 62, 61.5, 61, 60));
    expect(backwards.descending).toBe(true);
    expect(known(backwards.secondsPerRep)).toBeCloseTo(-0.6, 12);
    expect(known(backwards.decrementPercent)).toBeCloseTo(2.333, 3);
    expect(known(backwards.firstToLastPercent)).toBeCloseTo(-4, 12);
  });

  it('goes by the number of the rep, so that a missing one leaves a gap: 30, –, 32, 33 is 1 s a rep', () => {
    expect(fadeOf(reps(30, null, 32, 33)).secondsPerRep).toBe(1);
  });

  it('of equal times is 0, and neither fading nor descending', () => {
    expect(fadeOf(reps(30.1, 30.1, 30.1))).toEqual({
      secondsPerRep: 0,
      firstToLastPercent: 0,
      decrementPercent: 0,
      descending: false,
    });
  });

  it.each([
    [reps(), 'no times'],
    [reps(null, null), 'no times'],
    [reps(30), 'one rep only'],
    [reps(null, 30), 'one rep only'],
  ])('of %j says: %s', (set, reason) => {
    const none = { none: reason };
    expect(fadeOf(set)).toEqual({
      secondsPerRep: none,
      firstToLastPercent: none,
      decrementPercent: none,
      descending: false,
    });
  });

  it('has no percent of a time of nought', () => {
    const fade = fadeOf(reps(0, 30));
    expect(fade).toMatchObject({ firstToLastPercent: { none: 'a time of nought' }, secondsPerRep: 30 });
    expect(fadeSchema.safeParse(fade).success).toBe(true);
  });
});

describe('the finish of a set', () => {
  it('is the mean of the last quarter less the mean of the first', () => {
    // By hand: (33 + 34) / 2 − (30 + 31) / 2.
    expect(finishOf(reps(30, 31, 32, 32, 32, 32, 33, 34))).toBe(3000);
    expect(finishOf(reps(31, 30, 30, 30.5))).toBe(-500);
  });

  it('rounds the quarter down: of 7 times one, whatever is missing between them', () => {
    expect(finishOf(reps(30, 40, null, 40, 40, 40, 40, 31))).toBe(1000);
  });

  it('needs four times', () => {
    expect(finishOf(reps(30, 31, 32))).toEqual({ none: 'fewer than four times' });
    expect(finishOf(reps(30, null, 31, 32))).toEqual({ none: 'fewer than four times' });
    expect(finishOf(reps(null, null, null, null))).toEqual({ none: 'no times' });
    expect(finishOf(reps())).toEqual({ none: 'no times' });
  });
});
