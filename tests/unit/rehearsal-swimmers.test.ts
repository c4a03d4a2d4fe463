import { mean, sampleCorrelation, standardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { expectedSwimMs } from '../../server/rehearsal/expected-swim.ts';
import { drawsFor, normal } from '../../server/rehearsal/random.ts';
import {
  formOf,
  LEVEL_SPREAD,
  MOST_FADE,
  REP_SPREAD,
  STOPS_SHARE,
  swimOf,
  THUMB_MOST_MS,
  THUMB_SPREAD_MS,
  thumbErrorMs,
  UNSEEN_SHARE,
} from '../../server/rehearsal/swimmer-model.ts';
import { best, pool25, repsOf, sheetOf, swimmer } from '../fixtures/planning.ts';

const DRAWS = 10_000;
/** Four standard errors of a mean: missed once in 16 000 seeds, and the seed is fixed. */
const within = (spread: number): number => (4 * spread) / Math.sqrt(DRAWS);

const many = <T>(make: (draw: () => number, place: number) => T): T[] =>
  Array.from({ length: DRAWS }, (_, place) => make(drawsFor(7, 'somebody', place), place));

describe('numbers drawn for a purpose', () => {
  it('are the same for the same seed and purpose, and others for others', () => {
    const three = (...what: [number, ...string[]]): number[] => {
      const draw = drawsFor(...what);
      return [draw(), draw(), draw()];
    };
    expect(three(7, 'Ada', '4.0.0.1')).toEqual(three(7, 'Ada', '4.0.0.1'));
    expect(three(7, 'Ada', '4.0.0.1')).not.toEqual(three(8, 'Ada', '4.0.0.1'));
    expect(three(7, 'Ada', '4.0.0.1')).not.toEqual(three(7, 'Ada', '4.0.0.2'));
  });

  it('spread evenly, and those of neighbours have nothing to do with each other', () => {
    const first = many((draw) => draw());
    // The uniform distribution on 0 … 1: mean 1/2, standard deviation 1/√12.
    expect(Math.abs(mean(first) - 0.5)).toBeLessThan(within(1 / Math.sqrt(12)));
    expect(standardDeviation(first)).toBeCloseTo(1 / Math.sqrt(12), 2);
    expect(Math.abs(sampleCorrelation(first.slice(1), first.slice(0, -1)))).toBeLessThan(within(1));
  });

  it('make a normal distribution', () => {
    const drawn = many((draw) => normal(draw));
    expect(Math.abs(mean(drawn))).toBeLessThan(within(1));
    expect(standardDeviation(drawn)).toBeCloseTo(1, 1);
    // The standard normal table: 68.27 % within one standard deviation, 95.45 % within two.
    expect(drawn.filter((z) => Math.abs(z) < 1).length / DRAWS).toBeCloseTo(0.6827, 1);
    expect(Math.abs(drawn.filter((z) => Math.abs(z) < 2).length / DRAWS - 0.9545)).toBeLessThan(within(0.21));
  });
});

const STEADY = { level: 1, fade: 0 };
const TARGET_MS = 30_000;

describe('a simulated swimmer', () => {
  it('has a level and a fade of the day around the usual ones', () => {
    const forms = many(formOf);
    expect(Math.abs(mean(forms.map(({ level }) => level)) - 1)).toBeLessThan(within(LEVEL_SPREAD));
    expect(standardDeviation(forms.map(({ level }) => level)) / LEVEL_SPREAD).toBeCloseTo(1, 1);
    expect(Math.min(...forms.map(({ fade }) => fade))).toBeGreaterThanOrEqual(0);
    expect(Math.max(...forms.map(({ fade }) => fade))).toBeLessThanOrEqual(MOST_FADE);
  });

  it('swims the target but for noise', () => {
    const swims = many((draw) => swimOf(STEADY, TARGET_MS, { rep: 1, reps: 8 }, draw));
    const times = swims.flatMap(({ ms, ends }) => (ends === 'stopped' ? [] : ms));
    expect(Math.abs(mean(times) - TARGET_MS)).toBeLessThan(within(TARGET_MS * REP_SPREAD));
    expect(standardDeviation(times) / (TARGET_MS * REP_SPREAD)).toBeCloseTo(1, 1);
    expect(times.every(Number.isInteger)).toBe(true);
  });

  it('fades from the first rep of a set to its last', () => {
    const meanOf = (rep: number): number =>
      mean(
        many((draw) => swimOf({ level: 1.01, fade: 0.02 }, TARGET_MS, { rep, reps: 9 }, draw)).flatMap(
          ({ ms, ends }) => (ends === 'stopped' ? [] : ms),
        ),
      );
    const tolerance = within(TARGET_MS * REP_SPREAD * 1.1);
    expect(Math.abs(meanOf(1) - 30_300)).toBeLessThan(tolerance);
    expect(Math.abs(meanOf(5) - 30_603)).toBeLessThan(tolerance);
    expect(Math.abs(meanOf(9) - 30_906)).toBeLessThan(tolerance);
  });

  it('stops now and then, and now and then touches unseen', () => {
    const swims = many((draw) => swimOf(STEADY, TARGET_MS, { rep: 1, reps: 1 }, draw));
    const shareOf = (end: string): number => swims.filter(({ ends }) => ends === end).length / DRAWS;
    expect(Math.abs(shareOf('stopped') - STOPS_SHARE)).toBeLessThan(within(Math.sqrt(STOPS_SHARE)));
    expect(Math.abs(shareOf('unseen') - UNSEEN_SHARE)).toBeLessThan(within(Math.sqrt(UNSEEN_SHARE)));
    expect(shareOf('stopped')).toBeGreaterThan(0);
  });

  it('is timed by a thumb that is as often early as late', () => {
    const errors = many(thumbErrorMs);
    expect(Math.abs(mean(errors))).toBeLessThan(within(THUMB_SPREAD_MS));
    expect(standardDeviation(errors) / THUMB_SPREAD_MS).toBeCloseTo(1, 1);
    expect(Math.max(...errors.map(Math.abs))).toBeLessThanOrEqual(THUMB_MOST_MS);
  });
});

describe('how long a swim should take', () => {
  const ada = swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00'), best('100 free', '55.00')]);
  const nobody = swimmer('Newly Here', 1, 'A', []);
  const expectedOf = (line: string, who = ada): number | undefined => {
    const sheet = sheetOf(line, { swimmers: [who] });
    const [rep] = repsOf(sheet, 1);
    return rep && expectedSwimMs({ sheet, rep, swimmer: who, pool: pool25 });
  };

  it('is the target where there is one', () => {
    expect(expectedOf('4 x 50 free @ 1:00 at 200 pace')).toBe(30_000);
  });

  it('is the own time when all out, and three quarters of the speed of the 200 when nothing is said', () => {
    expect(expectedOf('3 x 100 free max @ 8:00')).toBe(55_000);
    expect(expectedOf('4 x 75 choice smooth @ 1:30')).toBe(60_000);
  });

  it('is over before the next send-off', () => {
    expect(expectedOf('4 x 100 free smooth @ 1:00')).toBe(57_000);
  });

  it('is the time written, and 1:50 a hundred for somebody without any time', () => {
    expect(expectedOf('10 x :30 kick @ 1:00')).toBe(30_000);
    expect(expectedOf('4 x 50 free smooth @ 2:00', nobody)).toBe(73_333.33333333333);
  });
});
