import fc from 'fast-check';
import { linearRegression, mean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { fadeOf } from '../../server/results/fade.ts';
import { finishOf } from '../../server/results/finish.ts';
import { spreadOf } from '../../server/results/spread.ts';
import { type TimedRep, timedOf } from '../../server/results/timed-rep.ts';
import { type Figure, fadeSchema, figureSchema, isKnown, spreadSchema } from '../../shared-types/results.ts';

const RUNS = { numRuns: 500, endOnFailure: true };

/** 10 s to 5 min, as whole milliseconds. */
const time = fc.integer({ min: 10_000, max: 300_000 });
/** Reps of which some have no time. */
const someReps = fc
  .array(fc.option(time, { freq: 5 }), { maxLength: 60 })
  .map((times): TimedRep[] => times.map((ms, place) => ({ rep: place + 1, ms })));

const known = (figure: Figure): number => (isKnown(figure) ? figure : Number.NaN);

describe('the statistics of repeats, for any times', () => {
  it('are what simple-statistics 7.12.1 makes of the times that are there', () => {
    fc.assert(
      fc.property(someReps, (reps) => {
        const timed = timedOf(reps);
        fc.pre(timed.length >= 2);
        const times = timed.map(({ ms }) => ms);
        const spread = spreadOf(reps);
        expect(known(spread.meanMs)).toBeCloseTo(mean(times), 6);
        expect(known(spread.sdMs)).toBeCloseTo(sampleStandardDeviation(times), 6);
        const { m } = linearRegression(timed.map(({ rep, ms }) => [rep, ms / 1000]));
        expect(known(fadeOf(reps).secondsPerRep)).toBeCloseTo(m, 8);
      }),
      RUNS,
    );
  });

  it('are numbers, or say why not: never anything that is not finite', () => {
    const anyReps = fc
      .array(fc.option(fc.integer({ min: 0, max: 50 })), { maxLength: 6 })
      .map((times) => times.map((ms, place) => ({ rep: place + 1, ms })));
    fc.assert(
      fc.property(anyReps, (reps) => {
        for (const [schema, value] of [
          [spreadSchema, spreadOf(reps)],
          [fadeSchema, fadeOf(reps)],
          [figureSchema, finishOf(reps)],
        ] as const) {
          expect(schema.parse(value)).toEqual(value);
          expect(JSON.parse(JSON.stringify(value))).toEqual(value);
        }
      }),
      RUNS,
    );
  });

  it('of equal times are exactly 0, and the mean is that time', () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 1e6, noNaN: true }), fc.integer({ min: 4, max: 60 }), (ms, count) => {
        const reps = Array.from({ length: count }, (_, place) => ({ rep: place + 1, ms }));
        expect(spreadOf(reps)).toMatchObject({ meanMs: ms, sdMs: 0, cvPercent: 0 });
        expect(fadeOf(reps)).toMatchObject({ secondsPerRep: 0, decrementPercent: 0, descending: false });
        expect(finishOf(reps)).toBe(0);
      }),
      RUNS,
    );
  });

  it('backwards have the same decrement and the opposite slope', () => {
    fc.assert(
      fc.property(fc.array(time, { minLength: 2, maxLength: 30 }), (times) => {
        const there = fadeOf(times.map((ms, place) => ({ rep: place + 1, ms })));
        const back = fadeOf([...times].reverse().map((ms, place) => ({ rep: place + 1, ms })));
        expect(known(back.decrementPercent)).toBeCloseTo(known(there.decrementPercent), 9);
        expect(known(back.secondsPerRep)).toBeCloseTo(-known(there.secondsPerRep), 9);
      }),
      RUNS,
    );
  });
});
