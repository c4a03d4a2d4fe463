import { mean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { SPLIT_PROFILES } from '../../server/planning/pace/split-profiles.ts';
import type { Pool } from '../../shared-types/pool.ts';
import type { Reference } from '../../shared-types/squad.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import { best, firstTarget, plan, pool25, repsOf, sheetOf, splits, swimmer, time } from '../fixtures/planning.ts';

const squadOf = (...references: Reference[]) => ({ swimmers: [swimmer('Ada Vance', 1, 'A', references)] });
const longCourse: Pool = { ...pool25, course: 'LCM' };
const withoutDive: Pool = { ...longCourse, pace: 'without-dive' };

describe('the published races kept as split profiles', () => {
  it.each([
    ['free', 100, 'LCM', '46.40'],
    ['free', 200, 'LCM', '1:42.00'],
    ['free', 400, 'LCM', '3:39.96'],
    ['free', 400, 'SCM', '3:53.92'],
    ['free', 1500, 'LCM', '15:36.53'],
    ['fly', 200, 'LCM', '1:50.73'],
    ['back', 200, 'LCM', '1:54.14'],
    ['breast', 200, 'LCM', '2:05.48'],
  ])('%s %i %s: the 50 splits of the results list add up to its total %s (public race results)', (...race) => {
    const [stroke, distance, course, total] = race;
    const profile = SPLIT_PROFILES.find(
      (one) => one.stroke === stroke && one.distance === distance && one.course === course,
    );
    const sum = (profile?.splits ?? []).reduce((all, split) => all + split, 0);
    expect(formatSwimTime(sum * 10, 2)).toBe(total);
    expect(profile?.splits).toHaveLength(distance / 50);
  });

  it("women's 1500 m freestyle, long course, 2013: splits 2–29 have mean 31.39, sample SD 0.327, CV 1.042 % (computed, by simple-statistics)", () => {
    const long = SPLIT_PROFILES.find(({ distance }) => distance === 1500);
    const middle = (long?.splits ?? []).slice(1, 29).map((split) => split / 100);
    expect(mean(middle)).toBeCloseTo(31.39, 2);
    expect(sampleStandardDeviation(middle)).toBeCloseTo(0.327, 3);
    expect((100 * sampleStandardDeviation(middle)) / mean(middle)).toBeCloseTo(1.042, 3);
  });

  it('are of fast starts: every first split is the fastest (public race results; the dive is in it)', () => {
    for (const { splits: all } of SPLIT_PROFILES) expect(all.indexOf(Math.min(...all))).toBe(0);
  });
});

describe('a part of a race by a published profile', () => {
  // Men's 200 m freestyle, long course, world record of 28 July 2009: 24.23 25.89 26.18 25.70, 1:42.00.
  const record = squadOf(time('200 free', '1:42.00', { course: 'LCM' }));

  it('gives the record its own halves and middle back', () => {
    const of = (part: string) => firstTarget(`4 x 50 free @ 1:00 at 200 ${part} pace`, record, longCourse)?.ms;
    expect(of('front')).toBe(25_060);
    expect(of('back-half')).toBe(25_940);
    expect(of('middle')).toBe(26_035);
  });

  it('scales with the swimmer and names the race it is from', () => {
    const target = firstTarget('4 x 50 free @ 1:10 at 200 front pace', squadOf(best('200 free', '2:16.00')));
    expect(target?.ms).toBe(Math.round(25_060 * (136 / 102)));
    expect(target).toMatchObject({ estimated: true });
    expect(target?.basis).toContain("the splits of the men's 200 m freestyle, long course, 28 July 2009");
  });

  it('gives way to the swimmer’s own half split and own splits', () => {
    const own = firstTarget('4 x 50 free @ 1:10 at 200 front pace', squadOf(best('200 free', '2:16.00', '1:06.00')));
    expect(own).toMatchObject({ ms: 33_000, estimated: false });
    const quarters = { ...best('200 free', '2:16.00'), splitsMs: splits('31.00 35.00 35.50 34.50') };
    expect(firstTarget('4 x 50 free @ 1:10 at 200 front pace', squadOf(quarters))?.ms).toBe(33_000);
    expect(firstTarget('4 x 50 free @ 1:10 at 200 middle pace', squadOf(quarters))).toMatchObject({
      ms: 35_250,
      estimated: false,
    });
  });

  it('takes a race of the pool’s course first', () => {
    // Women's 400 m freestyle, short course, December 2018: first half 26.93 29.15 29.38 29.91 = 115.37 of 233.92.
    const target = firstTarget('2 x 100 free @ 2:00 at 400 front pace', squadOf(best('400 free', '3:53.92')));
    expect(target?.ms).toBe(57_685);
    expect(target?.basis).toContain('short course, December 2018');
  });

  it('says who has nothing to take it from', () => {
    const said = (line: string, ...references: Reference[]) =>
      plan(line, squadOf(...references)).messages.map(({ text }) => text.replace(/\{.*\} /, ''));
    expect(said('4 x 25 back @ 1:00 at 100 front pace', best('100 back', '1:08.00'))).toEqual([
      'has no half split of the 100 back, nor a published race to take it from: no target',
    ]);
    expect(said('2 x 25 free @ 1:00 at 100 middle pace', best('100 free', '58.00'))).toEqual([
      'has no quarter splits of the 100 free, nor a published race to take them from: no target',
    ]);
  });
});

describe('pace without the dive, where the pool says so', () => {
  const record = squadOf(time('200 free', '1:42.00', { course: 'LCM' }));

  it("is 25.92 per 50 against an even 25.50 in the men's 200 m freestyle of 28 July 2009 (public race result)", () => {
    const at = (pool: Pool) => firstTarget('4 x 50 free @ 1:00 at 200 pace', record, pool)?.ms;
    expect(at(withoutDive)).toBe(25_923);
    expect(at(longCourse)).toBe(25_500);
  });

  it('is for reps from a push: from a dive the even pace stays', () => {
    expect(firstTarget('4 x 50 free from a dive @ 4:00 at 200 pace', record, withoutDive)?.ms).toBe(25_500);
  });

  it('takes the swimmer’s own first 50: the half split of a 100', () => {
    const squad = squadOf(time('100 free', '60.00', { course: 'LCM', halfMs: splits('29.00')[0] }));
    const target = firstTarget('4 x 50 free @ 1:00 at 100 pace', squad, withoutDive);
    expect(target).toMatchObject({ ms: 31_000, estimated: false });
    expect(target?.basis).toBe(
      '100 free 1:00.00 LCM (best), pace without the dive 31.00 per 50 from the own half split',
    );
  });

  it('falls back to the even pace where no first 50 is known, and says so', () => {
    const squad = squadOf(time('100 back', '1:08.00', { course: 'LCM' }));
    const target = firstTarget('4 x 50 back @ 1:10 at 100 pace', squad, withoutDive);
    expect(target).toMatchObject({ ms: 34_000, estimated: true });
    expect(target?.basis).toContain('no first 50 known');
  });

  it('stands on the sheet', () => {
    expect(sheetOf('4 x 50 free @ 1:00 at 200 pace', record, withoutDive).conventions).toMatchObject({
      pace: 'without-dive',
      percent: 'speed',
    });
  });
});

describe('a medley', () => {
  // Men's 200 m individual medley, long course, world record of 2011: 24.89 28.59 33.03 27.49, 1:54.00.
  const record = time('200 IM', '1:54.00', { course: 'LCM', splitsMs: splits('24.89 28.59 33.03 27.49') });

  it("has no even pace: the strokes of the men's record of 2011 are paced by its own splits (public race result)", () => {
    const sheet = sheetOf('4 x 50 IM order @ 1:00 at 200 IM pace', squadOf(record), longCourse);
    const targets = repsOf(sheet, 1).flatMap(({ targets: all }) => all.map((place) => sheet.targets[place]?.ms));
    expect(targets).toEqual([24_890, 28_590, 33_030, 27_490]);
    expect(24_890 + 28_590 + 33_030 + 27_490).toBe(114_000);
  });

  it('goes by its whole time only as a whole', () => {
    const whole = squadOf(best('200 IM', '2:16.00'));
    expect(firstTarget('4 x 100 IM @ 2:00 at 200 IM pace', whole)?.ms).toBe(68_000);
    expect(firstTarget('4 x 50 fly @ 1:10 at 200 IM pace', whole)?.ms).toBeNull();
    expect(firstTarget('4 x 50 choice @ 1:10 at 200 IM pace', squadOf(record), longCourse)?.ms).toBeNull();
    expect(firstTarget('4 x 100 IM @ 2:00 at 200 IM front pace', whole)?.ms).toBeNull();
  });

  it('has no legs when the splits do not fall on its strokes', () => {
    const thirds = { ...best('150 IM', '1:42.00'), splitsMs: splits('32.00 36.00 34.00') };
    expect(firstTarget('4 x 25 fly @ 1:10 at 150 IM pace', squadOf(thirds))?.ms).toBeNull();
  });
});

describe('which of several times of an event is meant', () => {
  const times = [
    best('200 free', '2:00.00'),
    time('200 free', '1:56.00', { kind: 'goal' }),
    time('200 free', '2:04.00', { kind: 'test' }),
  ];

  it.each([
    ['goal', 29_000],
    ['best', 30_000],
    ['test', 31_000],
  ] as const)('%s first, where the pool says so', (prefer, target) => {
    const pool: Pool = { ...pool25, prefer };
    expect(firstTarget('50 free @ 1:00 at 200 pace', squadOf(...times), pool)?.ms).toBe(target);
    expect(sheetOf('50 free @ 1:00', squadOf(), pool).conventions.prefer).toBe(prefer);
  });

  it('and then goal before best before test', () => {
    const pool: Pool = { ...pool25, prefer: 'test' };
    expect(firstTarget('50 free @ 1:00 at 200 pace', squadOf(...times.slice(0, 2)), pool)?.ms).toBe(29_000);
  });
});
