import { describe, expect, it } from 'vitest';
import { repTimesOf } from '../../server/results/rep-times.ts';
import { swumSetOf, weekOf } from '../../server/results/week.ts';
import { instant } from '../../shared-types/brand.ts';
import { STYLES, type Style } from '../../shared-types/practice.ts';
import { type SwumSet, weekSchema } from '../../shared-types/results.ts';
import { best, swimmer } from '../fixtures/planning.ts';
import { SwumPractice } from '../fixtures/swum-practice.ts';

const LISBON = { timezone: 'Europe/Lisbon', trimMs: 0 };
/** 400 m in 10 minutes. */
const at = (iso: string, style: Style = 'race pace'): SwumSet => ({
  at: instant(Date.parse(iso)),
  style,
  metres: 400,
  ms: 600_000,
});
const setsOn = (day: string, ...swum: SwumSet[]): number =>
  weekOf(swum, day, LISBON).byStyle.reduce((sum, { sets }) => sum + sets, 0);

describe('a week', () => {
  it('sums up sets, metres and minutes of each style, and names the styles it left out', () => {
    const swum = [at('2026-11-20T18:00Z'), at('2026-11-22T18:00Z'), at('2026-11-22T18:30Z', 'threshold')];
    const week = weekOf(swum, '2026-11-25', LISBON);
    expect(week).toEqual({
      day: '2026-11-25',
      byStyle: [
        { style: 'race pace', sets: 2, metres: 800, minutes: 20 },
        { style: 'threshold', sets: 1, metres: 400, minutes: 10 },
      ],
      leftOut: ['active rest', 'best average', 'stand-up', 'power', 'aerobic', 'skills'],
    });
    expect(weekSchema.parse(week)).toEqual(week);
  });

  it('is the day and the six before it', () => {
    const swum = ['18', '19', '25', '26'].map((day) => at(`2026-11-${day}T18:00Z`));
    expect(setsOn('2026-11-25', ...swum)).toBe(2);
    expect(setsOn('2026-11-24', ...swum)).toBe(2);
    expect(setsOn('2026-12-03', ...swum)).toBe(0);
  });

  it('goes by the days of the pool: late in the evening of Lisbon’s summer it is the next day in UTC’s morning', () => {
    const late = at('2026-07-10T23:30Z');
    expect(setsOn('2026-07-10', late)).toBe(0);
    expect(setsOn('2026-07-11', late)).toBe(1);
    expect(weekOf([late], '2026-07-10', { ...LISBON, timezone: 'UTC' }).byStyle).toHaveLength(1);
  });

  it('has seven days also when the clocks change: 25 October 2026 is an hour longer', () => {
    // Half past midnight of the first and half past eleven in the evening of the last of the days, by the pool's clock.
    const [first, last] = [at('2026-10-19T23:30Z'), at('2026-10-26T23:30Z')];
    expect(setsOn('2026-10-26', first, last)).toBe(2);
    expect(setsOn('2026-10-27', first)).toBe(0);
    expect(setsOn('2026-10-25', last)).toBe(0);
  });

  it('goes on over the end of a month: 27 February 2028 is the first of the seven days up to 4 March', () => {
    const swum = ['02-26', '02-27', '02-29', '03-04', '03-05'].map((day) => at(`2028-${day}T12:00Z`));
    expect(setsOn('2028-03-04', ...swum)).toBe(3);
    // And over the end of a year.
    expect(setsOn('2027-01-02', at('2026-12-27T12:00Z'), at('2026-12-26T12:00Z'))).toBe(1);
  });

  it('of nothing leaves out every style', () => {
    expect(weekOf([], '2026-11-25', LISBON)).toEqual({ day: '2026-11-25', byStyle: [], leftOut: [...STYLES] });
  });

  it('does not take anything for a day', () => {
    expect(() => weekOf([], 'Wednesday', LISBON)).toThrow(RangeError);
  });
});

describe('a set as a week counts it', () => {
  const ada = swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]);
  const text = 'Main\n4 x 50 free @ 1:00 at 200 pace\n';
  const swumAt = (practice: SwumPractice, seconds: number) =>
    swumSetOf(repTimesOf(practice.at(seconds))[0]?.[0]?.reps ?? [], 'race pace', 'SCM');

  it('is what was really left on, with the time the sheet has for it', () => {
    const practice = new SwumPractice(text, { swimmers: [ada] });
    // Leaves at 5, 65, 125.
    expect(swumAt(practice, 130)).toEqual({ at: 1_800_000_005_000, style: 'race pace', metres: 150, ms: 180_000 });
    expect(swumAt(practice, 0)).toBeNull();
  });

  it('counts a rep that was repeated each time', () => {
    const practice = new SwumPractice(text, { swimmers: [ada] }).press({ kind: 'back' }, 20);
    expect(swumAt(practice, 60)).toMatchObject({ metres: 100 });
  });

  it('is in metres: 100 yd are 91.44 m (1 yd = 0.9144 m, definition of 1959)', () => {
    const reps = repTimesOf(new SwumPractice(text, { swimmers: [ada] }).at(70))[0]?.[0]?.reps ?? [];
    expect(swumSetOf(reps, 'race pace', 'SCY')?.metres).toBeCloseTo(91.44, 9);
  });
});
