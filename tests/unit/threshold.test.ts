import { linearRegression } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { criticalSpeed, type Trial, thresholdOf } from '../../server/planning/pace/threshold.ts';
import type { Pool } from '../../shared-types/pool.ts';
import type { Reference } from '../../shared-types/squad.ts';
import { best, firstTarget, plan, pool25, swimmer, time } from '../fixtures/planning.ts';

const free = { stroke: 'free', activity: 'swim' } as const;
const seconds = (metres: number, time: number): Trial => ({ metres, seconds: time });

function threshold(references: Reference[], pool: Partial<Pool> = {}) {
  return thresholdOf(swimmer('Ada Vance', 1, 'A', references), free, { ...pool25, ...pool });
}

describe('critical swim speed: the slope of distance on time (Wakayoshi and others 1992, 1993)', () => {
  it('400 in 6:00 and 200 in 2:50: 1.0526 m/s (computed from the definition), 95.00 s per 100', () => {
    const speed = criticalSpeed([seconds(200, 170), seconds(400, 360)]);
    expect(speed?.metresPerSecond).toBeCloseTo(1.0526, 4);
    expect(100 / (speed?.metresPerSecond ?? Number.NaN)).toBeCloseTo(95, 6);
  });

  it('400 in 6:30 and 200 in 3:00: 0.952 m/s, 105.0 s per 100 (as worked in the trade, seen)', () => {
    const speed = criticalSpeed([seconds(200, 180), seconds(400, 390)]);
    expect(speed?.metresPerSecond).toBeCloseTo(0.952, 3);
    expect(threshold([best('200 free', '3:00.00'), best('400 free', '6:30.00')])).toMatchObject({ per100Ms: 105_000 });
  });

  it('least squares of 200/2:00, 400/4:10, 800/8:40: 1.497198 m/s, intercept 22.498 m, 66.79 s per 100 (computed)', () => {
    const trials = [seconds(200, 120), seconds(400, 250), seconds(800, 520)];
    const speed = criticalSpeed(trials);
    expect(speed?.metresPerSecond).toBeCloseTo(1.497198, 6);
    expect(speed?.interceptMetres).toBeCloseTo(22.498, 3);
    const three = [best('200 free', '2:00.00'), best('400 free', '4:10.00'), best('800 free', '8:40.00')];
    const result = threshold(three);
    expect('per100Ms' in result && result.per100Ms / 1000).toBeCloseTo(66.79, 2);
    expect(result).toMatchObject({
      basis:
        'threshold 1:06.79 per 100 m: critical speed 1.497 m/s of 200 free 2:00.00, 400 free 4:10.00, 800 free 8:40.00 (SCM)',
      estimate: 'critical speed of 200 and 400 and 800',
    });
  });

  it('equals linear regression by simple-statistics', () => {
    const trials = [seconds(200, 131.2), seconds(400, 276.9), seconds(800, 579.3), seconds(1500, 1112.4)];
    const { m, b } = linearRegression(trials.map(({ seconds: x, metres: y }) => [x, y]));
    expect(criticalSpeed(trials)?.metresPerSecond).toBeCloseTo(m, 12);
    expect(criticalSpeed(trials)?.interceptMetres).toBeCloseTo(b, 9);
  });

  it('in yards the pace is per 100 yd: 91.44 divided by the speed in m/s', () => {
    const result = threshold(
      [time('200 free', '2:50.00', { course: 'SCY' }), time('400 free', '6:00.00', { course: 'SCY' })],
      { course: 'SCY' },
    );
    const speed = (200 * 0.9144) / 190;
    expect('per100Ms' in result && result.per100Ms / 1000).toBeCloseTo(91.44 / speed, 9);
  });

  it('is not taken from one time, from sprints, from goals, or from a longer trial that was the faster', () => {
    const none = { missing: 'no threshold test, nor two free times of 200 or more (SCM)' };
    expect(threshold([best('400 free', '4:40.00')])).toEqual(none);
    expect(threshold([best('50 free', '28.00'), best('100 free', '60.00'), best('400 free', '4:40.00')])).toEqual(none);
    expect(threshold([best('200 free', '2:10.00'), time('400 free', '4:30.00', { kind: 'goal' })])).toEqual(none);
    expect(threshold([best('200 free', '2:30.00'), best('400 free', '4:40.00')])).toEqual({
      missing: 'no free times that a critical speed fits',
    });
  });

  it('takes tests rather than races where there are two of them', () => {
    const tests = [time('200 free', '2:20.00', { kind: 'test' }), time('400 free', '5:00.00', { kind: 'test' })];
    expect(threshold([best('200 free', '2:10.00'), best('800 free', '9:40.00'), ...tests])).toMatchObject({
      per100Ms: 80_000,
    });
  });
});

describe('a 30-minute or 3000 test', () => {
  it('is its mean pace per 100, before any critical speed', () => {
    const races = [best('200 free', '2:10.00'), best('400 free', '4:40.00')];
    const swum = time('2000 free', '30:00.00', { kind: 'test', date: '2026-09-14' });
    expect(threshold([...races, swum])).toEqual({
      per100Ms: 90_000,
      basis: 'threshold 1:30.00 per 100, the mean of 2000 free 30:00.00 SCM (test, 14 Sep 2026)',
      from: 'the mean of 2000 free 30:00.00 SCM (test, 14 Sep 2026)',
      estimate: null,
    });
    expect(threshold([time('3000 free', '42:00.00', { kind: 'test' })])).toMatchObject({ per100Ms: 84_000 });
  });

  it('counts only as a test, in its own stroke, activity and course', () => {
    expect(threshold([time('3000 free', '42:00.00', { kind: 'best' })])).toHaveProperty('missing');
    expect(threshold([time('3000 back', '48:00.00', { kind: 'test' })])).toHaveProperty('missing');
    expect(threshold([time('3000 free', '42:00.00', { kind: 'test', course: 'LCM' })])).toHaveProperty('missing');
  });
});

describe('threshold on the sheet', () => {
  const squad = { swimmers: [swimmer('Ada Vance', 1, 'A', [time('3000 free', '42:00.00', { kind: 'test' })])] };

  it('is the pace per 100, and so many seconds per 100 slower where written', () => {
    expect(firstTarget('10 x 200 free @ 3:00 threshold', squad)).toMatchObject({ ms: 168_000, estimated: false });
    expect(firstTarget('10 x 200 free @ 3:10 threshold +3', squad)).toMatchObject({
      ms: 174_000,
      basis: 'threshold 1:24.00 per 100, the mean of 3000 free 42:00.00 SCM (test), + 3 s per 100',
    });
  });

  it('says who has no test', () => {
    expect(plan('10 x 100 back @ 2:00 threshold', squad).messages.map(({ code }) => code)).toEqual(['no-reference']);
  });
});
