import { readFileSync } from 'node:fs';
import { mean, sampleStandardDeviation } from 'simple-statistics';
import { expect, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { SteppedClock } from '../../server/rehearsal/clock.ts';
import { Rehearsal, type RehearsalResult } from '../../server/rehearsal/rehearsal.ts';
import type { SwimmerId } from '../../shared-types/brand.ts';
import { marksOf } from '../../shared-types/marks.ts';
import type { Style } from '../../shared-types/practice.ts';
import { departuresOf, targetsOf } from '../../shared-types/sheet.ts';
import type { ShownSet, ShownSwimmer } from '../../shared-types/wire/results.ts';
import { paired } from '../fixtures/paired.ts';
import { type DEMO_PRACTICES, demoFolder, demoText, pool25 } from '../fixtures/planning.ts';
import { runServerOn } from '../fixtures/running-server.ts';

/**
 * A practice of each style, swum to its end: what leads is worked out a second time, straight from the sheet and the
 * deck's marks, with simple-statistics where it has the figure.
 */

const NOON = Date.UTC(2027, 0, 15, 12, 0, 31);
const squadCsv = readFileSync(new URL('squad.csv', demoFolder), 'utf8');
/** 0.3 s a 50: a setting; common practice, no source. */
const TOLERANCE_MS_PER_50 = 300;

async function rehearsed(name: (typeof DEMO_PRACTICES)[number], pool = pool25): Promise<RehearsalResult> {
  const clock = new SteppedClock(NOON);
  const { url } = await runServerOn(clock);
  const demo = { practiceText: demoText(name), squadCsv, pool };
  const rehearsal = await Rehearsal.prepared({ server: paired(url), clock, newId: randomId, seed: 11 }, demo);
  const result = await rehearsal.run();
  expect(result).toMatchObject({ finished: true, tally: { refused: 0, unexpected: 0 } });
  return result;
}

/** A place in a rep at which a time was asked for: what it should be, and what it was. */
interface Timed {
  readonly distance: number;
  readonly targetMs: number | null;
  readonly ms: number | null;
}

/** A swimmer's reps of a set in order, each timed at the end of its paced part, or at its finish. */
function timedReps({ followed: { sheet, book } }: RehearsalResult, set: number, swimmer: SwimmerId): Timed[] {
  const marks = marksOf(book).filter((mark) => mark.swimmer === swimmer && mark.state === 'counts');
  return sheet.lanes.flatMap((lane) =>
    lane.steps.flatMap((step): Timed[] => {
      if (step.kind !== 'rep' || step.set !== set) return [];
      if (!departuresOf(lane, step).some((one) => one.swimmer === swimmer)) return [];
      const { splits } = targetsOf(sheet, step).find((one) => one.swimmer === swimmer) ?? { splits: [] };
      const paced = splits.filter((split) => split.paced);
      const end = paced[paced.length - 1];
      const distance = end?.distance ?? step.distance ?? Number.NaN;
      const mark = marks.find((one) => one.step === step.id);
      if (mark) expect(mark.distance).toBe(distance);
      return [{ distance, targetMs: end?.ms ?? null, ms: mark?.ms ?? null }];
    }),
  );
}

interface Own {
  readonly own: ShownSwimmer;
  readonly reps: readonly Timed[];
  readonly times: readonly number[];
}

/** Every swimmer of every set of a style. */
function swimmersOf(result: RehearsalResult, style: Style): (Own & { readonly set: ShownSet })[] {
  const swimmers = result.results.sets
    .filter((set) => set.style === style)
    .flatMap((set) =>
      set.swimmers.map((own) => {
        const reps = timedReps(result, set.set, own.swimmer);
        return { set, own, reps, times: reps.flatMap(({ ms }) => ms ?? []) };
      }),
    );
  expect(swimmers.length).toBeGreaterThan(10);
  expect(swimmers.filter(({ times }) => times.length > 2).length).toBeGreaterThan(10);
  return swimmers;
}

const sumOf = (numbers: readonly number[]): number => numbers.reduce((sum, number) => sum + number, 0);

/** Held or faster, missed, or not known. */
function isHeld({ distance, targetMs, ms }: Timed): boolean | null {
  if (targetMs === null || ms === null) return null;
  return ms <= targetMs + (TOLERANCE_MS_PER_50 * distance) / 50;
}

/** The longest run of held reps, by cutting the set at everything else. */
const longestRun = (reps: readonly Timed[]): number =>
  Math.max(
    ...reps
      .map((rep) => (isHeld(rep) === true ? 'h' : '.'))
      .join('')
      .split('.')
      .map((run) => run.length),
  );

function expectHits({ own, reps }: Own): void {
  const judged = reps.filter((rep) => isHeld(rep) !== null);
  const held = judged.filter((rep) => isHeld(rep) === true);
  expect(own.hits).toMatchObject({
    judged: judged.length,
    hits: held.length,
    longestRun: longestRun(reps),
    pacedDistance: sumOf(held.map(({ distance }) => distance)),
  });
}

test('a race pace practice ends with the reps held, the longest run and the distance at pace', async () => {
  for (const one of swimmersOf(await rehearsed('race-pace'), 'race pace')) {
    if (one.reps.every(({ targetMs }) => targetMs === null)) continue;
    expectHits(one);
    expect(one.own.lead.metrics).toEqual(['hits', 'run', 'paced distance']);
  }
}, 60_000);

test('an active rest practice ends with the paced parts held, and says that the rest on the wall is not known', async () => {
  for (const one of swimmersOf(await rehearsed('active-rest'), 'active rest')) {
    expectHits(one);
    // The time is taken where the paced part ends; when the easy part ended nobody knows.
    expect(one.own.rest).toEqual({ count: 0, meanMs: { none: 'no times' } });
    expect(one.own.lead.metrics).toEqual(['hits', 'rest']);
  }
}, 60_000);

test('a best average practice ends with mean, spread and finish', async () => {
  for (const { own, times } of swimmersOf(await rehearsed('best-average'), 'best average')) {
    const quarter = Math.floor(times.length / 4);
    expect(own.spread.meanMs).toBeCloseTo(mean([...times]), 6);
    expect(own.spread.sdMs).toBeCloseTo(sampleStandardDeviation([...times]), 6);
    expect(own.finishMs).toBeCloseTo(mean(times.slice(-quarter)) - mean(times.slice(0, quarter)), 6);
    expect(own.lead.metrics.slice(0, 3)).toEqual(['mean', 'spread', 'finish']);
  }
}, 60_000);

test('a power practice ends with load, time, power and drop where the pool has a pulley', async () => {
  const result = await rehearsed('power', { ...pool25, rig: { ratio: 10 } });
  const pulled = swimmersOf(result, 'power').filter(({ set }) => set.pulled?.against === 'pulley');
  expect(pulled.length).toBeGreaterThan(10);
  for (const { own, times } of pulled) {
    // 12 kg go up a tenth of the 25 metres: P = m · g · (d / r) / t, with standard gravity, 9.80665 m/s² (CGPM 1901).
    const watts = times.map((ms) => (12 * 9.80665 * 2.5) / (ms / 1000));
    const best = Math.max(...watts);
    expect(own.power).toMatchObject({
      meanWatts: expect.closeTo(mean(watts), 6),
      bestWatts: expect.closeTo(best, 6),
      dropPercent: expect.closeTo(100 * (1 - (watts[watts.length - 1] ?? Number.NaN) / best), 6),
    });
    expect(own.lead.line).toMatch(/^12 kg, best \d+\.\d, \d+\.\d W, drop /);
    expect(own.lead.metrics).toEqual(['load', 'time', 'power', 'drop']);
  }
}, 60_000);

test('a stand-up practice ends with the first, the best and the fade', async () => {
  for (const { own, reps, times } of swimmersOf(await rehearsed('stand-up'), 'stand-up')) {
    if (times.length < 2) continue;
    const [first = Number.NaN, last = Number.NaN] = [times[0], times[times.length - 1]];
    expect(own.reps[0]?.ms ?? null).toBe(reps[0]?.ms ?? null);
    expect(own.spread.bestMs).toBe(Math.min(...times));
    expect(own.fade.firstToLastPercent).toBeCloseTo((last / first) * 100 - 100, 6);
    // Percentage decrement score, Glaister 2008: 100 × (total time / (number of sprints × fastest)) − 100.
    expect(own.fade.decrementPercent).toBeCloseTo(100 * (sumOf(times) / (times.length * Math.min(...times))) - 100, 6);
    expect(own.lead.metrics).toEqual(['first', 'best', 'fade']);
  }
}, 60_000);
