import fc from 'fast-check';
import { linearRegression } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { conversionFrom, convertTime } from '../../server/planning/pace/convert.ts';
import { isPaced } from '../../server/planning/pace/paced.ts';
import { racePace } from '../../server/planning/pace/race-pace.ts';
import { criticalSpeed, thresholdOf } from '../../server/planning/pace/threshold.ts';
import { ms } from '../../shared-types/brand.ts';
import { COURSES } from '../../shared-types/pool.ts';
import { type Reference, STROKES, type Swimmer } from '../../shared-types/squad.ts';
import { best, plan, pool25, sheetOf, swimmer } from '../fixtures/planning.ts';
import { pacedLine, randomPool, randomSwimmers } from '../fixtures/random-squads.ts';

const RUNS = { numRuns: 400, endOnFailure: true };

describe('targets of random squads with holes', () => {
  it('none is shown without a basis, and none exists where there is nothing to base it on', () => {
    fc.assert(
      fc.property(randomSwimmers, randomPool, pacedLine, (swimmers, pool, line) => {
        for (const target of sheetOf(line, { swimmers }, pool).targets) {
          const based = (target.basis ?? '') !== '';
          expect(based).toBe(target.splits.length > 0);
          if (target.ms !== null) expect(based).toBe(true);
          if (!based) expect(target).toMatchObject({ ms: null, restMs: null, estimated: false });
        }
      }),
      RUNS,
    );
  });

  it('swimmers without a single time have no target but what is written to hold', () => {
    fc.assert(
      fc.property(randomPool, pacedLine, (pool, line) => {
        const squad = { swimmers: [swimmer('Nobody Yet', 1, 'A', [])] };
        expect(sheetOf(line, squad, pool).targets.every(({ splits }) => splits.length === 0)).toBe(true);
        expect(sheetOf('4 x 100 free @ 3:00 hold 1:20', squad, pool).targets[0]?.ms).toBe(80_000);
      }),
      { ...RUNS, numRuns: 50 },
    );
  });

  it('whoever lacks a target the line asks for is named', () => {
    fc.assert(
      fc.property(randomSwimmers, randomPool, (swimmers, pool) => {
        const { sheet, messages } = plan('4 x 100 free @ 3:00 at 200 pace', { swimmers }, pool);
        const said = messages.filter(({ code }) => code === 'no-reference').map(({ text }) => text);
        for (const { swimmer: id, ms: target } of sheet?.targets ?? []) {
          expect(said.some((text) => text.includes(id))).toBe(target === null);
        }
      }),
      RUNS,
    );
  });

  it('an estimate says so wherever another course, other distances or published splits went in', () => {
    const signs = ['published factors', 't = a·D^', 'splits of the', 'critical speed', 'easy:'];
    fc.assert(
      fc.property(randomSwimmers, randomPool, pacedLine, (swimmers, pool, line) => {
        for (const { basis = '', estimated } of sheetOf(line, { swimmers }, pool).targets) {
          const shown = signs.some((sign) => basis.includes(sign)) || basis.includes('no first 50 known');
          expect(estimated).toBe(shown);
        }
      }),
      RUNS,
    );
  });
});

const slower = (swimmers: readonly Swimmer[], factor: number): Swimmer[] =>
  swimmers.map((one) => ({
    ...one,
    references: one.references.map((reference: Reference) => ({
      ...reference,
      timeMs: ms(reference.timeMs * factor),
      ...(reference.halfMs === undefined ? {} : { halfMs: ms(reference.halfMs * factor) }),
    })),
  }));

describe('scaling', () => {
  it('all times by a factor scales all targets by it', () => {
    fc.assert(
      fc.property(
        randomSwimmers,
        randomPool,
        pacedLine,
        fc.integer({ min: 2, max: 4 }),
        (drawn, pool, line, factor) => {
          // Converted times are cut off at a hundredth, so only times of the pool's own course scale exactly.
          const swimmers = drawn.map((one) => ({
            ...one,
            references: one.references.filter(({ course }) => course === pool.course),
          }));
          const text = line.replace(' +2', '').replace('@ 3:00', '@ 30:00').replace('@ 5:00', '@ 50:00');
          const plain = sheetOf(text, { swimmers }, pool).targets;
          const scaled = sheetOf(text, { swimmers: slower(swimmers, factor) }, pool).targets;
          plain.forEach((target, place) => {
            target.splits.forEach((split, at) => {
              // A 30-minute test is one by its time, so it is another after scaling.
              if (target.basis?.includes('the mean of')) return;
              expect(Math.abs((scaled[place]?.splits[at]?.ms ?? 0) - split.ms * factor)).toBeLessThanOrEqual(factor);
            });
          });
        },
      ),
      RUNS,
    );
  });
});

describe('monotonic', () => {
  it('conversion: a slower time is never converted to a faster one', () => {
    const race = fc.record({
      stroke: fc.constantFrom(...STROKES),
      distance: fc.constantFrom(50, 100, 200, 400, 500, 800, 1000, 1500, 1650),
    });
    const hundredths = fc.integer({ min: 2000, max: 120_000 });
    let tried = 0;
    fc.assert(
      fc.property(
        race,
        fc.constantFrom(...COURSES),
        fc.constantFrom(...COURSES),
        fc.constantFrom('women' as const, 'men' as const),
        fc.tuple(hundredths, hundredths),
        ({ stroke, distance }, from, course, category, [a, b]) => {
          const conversion = conversionFrom(from, { stroke, distance, course });
          if (!conversion) return;
          tried += 1;
          const [less, more] = [Math.min(a, b) * 10, Math.max(a, b) * 10];
          const [fast, slow] = [convertTime(conversion, less, category), convertTime(conversion, more, category)];
          expect(fast).toBeLessThanOrEqual(slow);
          expect(fast % 10).toBe(0);
        },
      ),
      { numRuns: 2000, endOnFailure: true },
    );
    expect(tried).toBeGreaterThan(200);
  });

  it('percent: more of the speed or of the time is a faster target, 100 % the pace itself', () => {
    const ada = swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]);
    const stretch = { distance: 50, stroke: 'free', activity: 'swim', start: 'push' } as const;
    const at = (percent: number, of: 'speed' | 'time'): number => {
      const result = racePace(ada, { distance: 200 }, percent, stretch, { ...pool25, percent: of });
      return isPaced(result) ? result.ms : Number.NaN;
    };
    const percents = fc.tuple(fc.integer({ min: 20, max: 150 }), fc.integer({ min: 1, max: 40 }));
    fc.assert(
      fc.property(percents, fc.constantFrom('speed' as const, 'time' as const), ([percent, more], of) => {
        expect(at(percent + more, of)).toBeLessThan(at(percent, of));
        expect(at(100, of)).toBe(30_000);
      }),
      RUNS,
    );
  });
});

describe('critical speed', () => {
  it('is the slope that simple-statistics finds, for any trials', () => {
    const trial = fc.record({
      metres: fc.integer({ min: 200, max: 1650 }),
      seconds: fc.integer({ min: 10_000, max: 160_000 }).map((hundredths) => hundredths / 100),
    });
    fc.assert(
      fc.property(
        fc.uniqueArray(trial, { minLength: 2, maxLength: 8, selector: ({ seconds }) => seconds }),
        (trials) => {
          const { m, b } = linearRegression(trials.map(({ seconds, metres }) => [seconds, metres]));
          const speed = criticalSpeed(trials);
          expect(Math.abs((speed?.metresPerSecond ?? Number.NaN) - m)).toBeLessThanOrEqual(1e-8 * (1 + Math.abs(m)));
          expect(Math.abs((speed?.interceptMetres ?? Number.NaN) - b)).toBeLessThanOrEqual(1e-6 * (1 + Math.abs(b)));
        },
      ),
      RUNS,
    );
  });

  it('of a 200/400 pair gives (T400 − T200)/2 per 100: a property of the slope', () => {
    const hundredths = fc.tuple(fc.integer({ min: 11_000, max: 20_000 }), fc.integer({ min: 1, max: 3000 }));
    fc.assert(
      fc.property(hundredths, ([t200, more]) => {
        const t400 = 2 * t200 + more;
        const ada = swimmer('Ada Vance', 1, 'A', [
          { ...best('200 free', '2:00.00'), timeMs: ms(t200 * 10) },
          { ...best('400 free', '4:00.00'), timeMs: ms(t400 * 10) },
        ]);
        const result = thresholdOf(ada, { stroke: 'free', activity: 'swim' }, pool25);
        expect('per100Ms' in result ? result.per100Ms : Number.NaN).toBeCloseTo(((t400 - t200) * 10) / 2, 6);
      }),
      RUNS,
    );
  });
});
