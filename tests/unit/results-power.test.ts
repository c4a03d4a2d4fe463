import { describe, expect, it } from 'vitest';
import { loadIn, type PowerSetUp, powerOf, ropeWatts, stackWatts } from '../../server/results/power.ts';
import { ms } from '../../shared-types/brand.ts';
import { isKnown, none, powerSchema } from '../../shared-types/results.ts';
import { stackRise } from '../../shared-types/rig.ts';
import { sheetOf } from '../fixtures/planning.ts';

const loadOf = (line: string) => loadIn(sheetOf(line).sets[0]?.equipment ?? []);

describe('power against a weight stack', () => {
  it('12 kg, 10:1, 20 m in 10 s: 23.5 W (computed from P = m·g·(d/r)/t, g = 9.80665 m/s², CGPM 1901)', () => {
    expect(stackWatts({ loadKg: 12, ratio: 10, metres: 20, ms: 10_000 })).toBeCloseTo(23.536, 3);
  });

  it('is the force of the rope times the speed: 11.76798 N at 2 m/s', () => {
    expect(ropeWatts(11.76798, 20, 10_000)).toBeCloseTo(23.53596, 9);
  });

  it('has no number for a time of nought', () => {
    expect(ropeWatts(10, 20, 0)).toEqual({ none: 'a time of nought' });
  });

  it('lifts the stack 2 m while 20 m of rope come out at 10:1', () => {
    expect(stackRise(20, 10)).toBe(2);
  });
});

describe('the load in the words of a set', () => {
  it.each([
    ['4 x 25 free max with pulley 12 kg @ 2:00', 12],
    ['4 x 25 free max with pulley 12.5 kg + fins @ 2:00', 12.5],
    // 25 lb = 11.33980925 kg exactly (0.45359237 kg to the pound); a sheet says tenths.
    ['4 x 25 free max with pulley 25 lb @ 2:00', 11.3],
    ['4 x 25 free max with pulley @ 2:00', none('load not known')],
    ['4 x 25 free max with cord @ 2:00', none('no pulley')],
    ['4 x 25 free max with parachute + paddles @ 2:00', none('no pulley')],
    ['4 x 25 free max @ 2:00', none('no pulley')],
  ])('%s: %j', (line, load) => {
    expect(loadOf(line)).toEqual(load);
  });
});

describe('the power of a set', () => {
  const twelve: PowerSetUp = { course: 'SCM', loadKg: () => 12, ratio: 10 };
  const rep = (number: number, seconds: number | null, split?: number) => ({
    rep: number,
    distance: 25,
    ms: seconds === null ? null : ms(seconds * 1000),
    splits: split === undefined ? [] : [{ distance: 20, ms: ms(split * 1000), takenAt: 'mid-pool' as const }],
    ...(seconds === null ? { missing: 'not timed' as const } : {}),
  });

  it('is each rep’s, the best, the mean and how far the last lies below the best', () => {
    const power = powerOf([rep(1, 12.5), rep(2, 10), rep(3, null), rep(4, 12.5)], twelve);
    if (!isKnown(power)) throw new Error(power.none);
    // By hand: 12 · 9.80665 · 2.5 = 294.1995 J; in 10 s 29.41995 W, in 12.5 s 23.53596 W.
    expect(power.bestWatts).toBeCloseTo(29.41995, 9);
    expect(power.meanWatts).toBeCloseTo((2 * 23.53596 + 29.41995) / 3, 9);
    expect(power.dropPercent).toBeCloseTo(20, 9);
    expect(power.reps[2]).toEqual({ rep: 3, loadKg: 12, ms: none('no time for it'), watts: none('no time for it') });
    expect(powerSchema.parse(power)).toEqual(power);
  });

  it('goes by the time over the distance that was timed', () => {
    const power = powerOf([rep(1, 13, 10), rep(2, 13)], { ...twelve, timedDistance: 20 });
    if (!isKnown(power)) throw new Error(power.none);
    expect(power.reps[0]?.watts).toBeCloseTo(23.53596, 9);
    expect(power.reps[1]?.watts).toEqual(none('no time for it'));
    expect(power.dropPercent).toEqual(none('one rep only'));
  });

  it('takes another load for each rep', () => {
    const power = powerOf([rep(1, 10), rep(2, 10)], { ...twelve, loadKg: (one) => 10 * one });
    if (!isKnown(power)) throw new Error(power.none);
    expect(power.reps.map(({ loadKg }) => loadKg)).toEqual([10, 20]);
    expect(power.bestWatts).toBeCloseTo(20 * 9.80665 * 0.25, 9);
  });

  it('in yards is swum over 22.86 m: 25 yd (1 yd = 0.9144 m, definition of 1959)', () => {
    const power = powerOf([rep(1, 10)], { ...twelve, course: 'SCY' });
    expect(isKnown(power) && power.bestWatts).toBeCloseTo((12 * 9.80665 * 2.286) / 10, 9);
  });

  it('is not known without the ratio, or where the stack would have hit its upper stop', () => {
    const { ratio: _, ...noRatio } = twelve;
    expect(powerOf([rep(1, 10)], noRatio)).toMatchObject({ bestWatts: none('pulley ratio not known') });
    const low = { ...twelve, stackHeightM: 2 };
    expect(powerOf([rep(1, 10)], low)).toMatchObject({ bestWatts: none('stack too low for the distance') });
    expect(powerOf([rep(1, 10, 8)], { ...low, timedDistance: 20 })).toMatchObject({
      dropPercent: none('one rep only'),
    });
  });

  it('is nothing where there is no pulley or nothing was swum', () => {
    expect(powerOf([rep(1, 10)], { ...twelve, loadKg: () => none('no pulley') })).toEqual(none('no pulley'));
    expect(powerOf([], twelve)).toEqual(none('no times'));
    expect(powerOf([{ ...rep(1, null), missing: 'not swum' }], twelve)).toEqual(none('no times'));
  });
});
