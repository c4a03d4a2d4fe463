import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { setResultsOf } from '../../server/results/set-results.ts';
import { spanOfWeeks, weekOf, weeksOf } from '../../server/results/week.ts';
import { instant } from '../../shared-types/brand.ts';
import { STYLES } from '../../shared-types/practice.ts';
import { type SwimmerResults, type SwumSet, setResultsSchema } from '../../shared-types/results.ts';
import { best, swimmer } from '../fixtures/planning.ts';
import { SwumPractice } from '../fixtures/swum-practice.ts';

const RUNS = { numRuns: 150, endOnFailure: true };

const ada = swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]);

const LINES = [
  '6 x 50 free @ 1:00 at 200 pace',
  '6 x 100 free @ 1:40 (50 at 200 pace, 50 easy)',
  '6 x 100 free @ 1:40 (50 easy, 25 at 200 pace, 25 at 100 pace)',
  '6 x 50 fly @ 1:00 at 200 pace',
  '6 x 25 free max with pulley 12 kg @ 1:00',
  '6 x 50 IM order @ 1:10',
  '6 x :30 free kick @ 1:00',
];

/** A time to press within a rep: [rep, distance, tenths]; a distance beyond the rep's is its finish. */
const press = fc.tuple(fc.integer({ min: 1, max: 6 }), fc.constantFrom(20, 25, 50, 75, 100), fc.nat({ max: 900 }));

const practice = fc
  .record({
    line: fc.constantFrom(...LINES),
    style: fc.constantFrom(...STYLES),
    presses: fc.array(press, { maxLength: 20 }),
    seconds: fc.integer({ min: 0, max: 700 }),
  })
  .map(({ line, style, presses, seconds }) => {
    const swum = new SwumPractice(`Main: ${style}\n${line}\n`, { swimmers: [ada] });
    const left = new Set(swum.at(seconds).departures.map(({ step }) => step));
    for (const [rep, distance, tenths] of presses) {
      const step = `2.0.0.${rep}`;
      if (left.has(step)) swum.take({ swimmer: ada.id, step, distance, seconds: tenths / 10 });
    }
    return { swum, seconds, left };
  });

const resultsOf = (swum: SwumPractice, seconds: number): SwimmerResults => {
  const results = setResultsOf(swum.at(seconds), { power: { ratio: 10 } });
  const [own] = results[0]?.swimmers ?? [];
  if (!own) throw new Error('nobody swims');
  return own;
};

describe('the results of any practice, with whatever times were taken', () => {
  it('fit the shapes that travel, and come back from JSON as they were', () => {
    fc.assert(
      fc.property(practice, ({ swum, seconds }) => {
        for (const set of setResultsOf(swum.at(seconds), { power: { ratio: 10 } })) {
          expect(setResultsSchema.parse(JSON.parse(JSON.stringify(set)))).toEqual(set);
        }
      }),
      RUNS,
    );
  });

  it('count every rep once: timed, missing, nothing to time or not swum', () => {
    fc.assert(
      fc.property(practice, ({ swum, seconds, left }) => {
        const { reps, spread } = resultsOf(swum, seconds);
        expect(reps.map(({ rep }) => rep)).toEqual([1, 2, 3, 4, 5, 6]);
        expect(reps.filter(({ missing }) => missing !== 'not swum')).toHaveLength(left.size);
        for (const { ms, missing } of reps) expect(ms === null).toBe(missing !== undefined);
        expect(spread.count).toBe(reps.filter(({ ms }) => ms !== null).length);
        expect(spread.missing).toBe(reps.filter(({ missing }) => missing === 'not timed').length);
      }),
      RUNS,
    );
  });

  it('never have more hits than judged, nor a run longer than the hits, nor fewer hits with more tolerance', () => {
    fc.assert(
      fc.property(practice, ({ swum, seconds }) => {
        const run = swum.at(seconds);
        const [strict, lax] = [0, 2000].map(
          (toleranceMsPer50) => setResultsOf(run, { toleranceMsPer50 })[0]?.swimmers[0]?.hits,
        );
        if (!strict || !lax) throw new Error('nobody swims');
        for (const { judged, hits, under, longestRun } of [strict, lax]) {
          expect(hits).toBeLessThanOrEqual(judged);
          expect(under).toBeLessThanOrEqual(hits);
          expect(longestRun).toBeLessThanOrEqual(hits);
        }
        expect(lax).toMatchObject({ judged: strict.judged, unjudged: strict.unjudged });
        expect(lax.hits).toBeGreaterThanOrEqual(strict.hits);
      }),
      RUNS,
    );
  });

  it('always have a line', () => {
    fc.assert(
      fc.property(practice, ({ swum, seconds }) => {
        const { line } = resultsOf(swum, seconds).lead;
        expect(line).toMatch(/^[^,]/);
        expect(line).not.toMatch(/NaN|Infinity|undefined|none|, ,|,$/);
      }),
      RUNS,
    );
  });
});

const DAY_MS = 86_400_000;

describe('any weeks', () => {
  it('asked for together are those asked for one by one, and lie in the span they are looked for in', () => {
    const zone = fc.constantFrom('Europe/Lisbon', 'Pacific/Kiritimati', 'Pacific/Pago_Pago', 'America/St_Johns');
    const set = fc.record({
      at: fc
        .integer({ min: -90, max: 200 })
        .chain((day) => fc.nat({ max: DAY_MS - 1 }).map((ms) => instant(Date.UTC(2028, 1, 1) + day * DAY_MS + ms))),
      style: fc.constantFrom(...STYLES),
      metres: fc.nat({ max: 4000 }),
      ms: fc.nat({ max: 3_600_000 }),
    });
    const days = fc.nat({ max: 120 });
    fc.assert(
      fc.property(
        fc.array(set, { maxLength: 20 }),
        days,
        fc.integer({ min: 1, max: 9 }),
        zone,
        (swum, last, weeks, timezone) => {
          const dayBefore = (ago: number): string =>
            new Date(Date.UTC(2028, 1, 1) + (last - ago) * DAY_MS).toISOString().slice(0, 10);
          const face = { timezone, trimMs: 0 };
          const { from, to } = spanOfWeeks(dayBefore(0), weeks);
          const within = swum.filter(({ at }) => at >= from && at < to);
          expect(weeksOf(within, dayBefore(0), weeks, face)).toEqual(
            Array.from({ length: weeks }, (_, ago) => weekOf(swum, dayBefore(7 * ago), face)),
          );
        },
      ),
      { numRuns: 200, endOnFailure: true },
    );
  });

  it('in UTC are the seven days up to the end of the day', () => {
    const set = fc.record({
      at: fc.integer({ min: 0, max: 60_000 * 1440 * 60 }).map((ms) => instant(Date.UTC(2028, 1, 1) + ms)),
      style: fc.constantFrom(...STYLES),
      metres: fc.nat({ max: 4000 }),
      ms: fc.nat({ max: 3_600_000 }),
    });
    fc.assert(
      fc.property(fc.array(set, { maxLength: 20 }), fc.nat({ max: 70 }), (swum: SwumSet[], days) => {
        const midnight = Date.UTC(2028, 1, 1) + days * DAY_MS;
        const day = new Date(midnight).toISOString().slice(0, 10);
        const week = weekOf(swum, day, { timezone: 'UTC', trimMs: 0 });
        const within = swum.filter(({ at }) => at >= midnight - 6 * DAY_MS && at < midnight + DAY_MS);
        expect(week.byStyle.reduce((sum, { sets }) => sum + sets, 0)).toBe(within.length);
        expect(week.byStyle.length + week.leftOut.length).toBe(STYLES.length);
        for (const style of week.leftOut) expect(within.some((each) => each.style === style)).toBe(false);
      }),
      { numRuns: 300, endOnFailure: true },
    );
  });
});
