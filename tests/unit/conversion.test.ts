import { describe, expect, it } from 'vitest';
import { conversionFrom, convertTime } from '../../server/planning/pace/convert.ts';
import { eventTime, isEventTime } from '../../server/planning/pace/event-time.ts';
import { type Course, fromMetres, inMetres, type Pool } from '../../shared-types/pool.ts';
import { parseEvent, type RaceStroke, type Reference, type Swimmer } from '../../shared-types/squad.ts';
import { formatSwimTime, parseSwimTime } from '../../shared-types/time.ts';
import { best, firstTarget, plan, pool25, swimmer, time } from '../fixtures/planning.ts';

/** A time of one race as a time of another course, in words. */
function converted(
  written: string,
  [from, to]: readonly [Course, Course],
  [distance, stroke]: readonly [number, RaceStroke],
  category?: Swimmer['category'],
): string | null {
  const conversion = conversionFrom(from, { stroke, distance, course: to });
  const timeMs = parseSwimTime(written);
  if (!conversion || timeMs === null) return null;
  return formatSwimTime(convertTime(conversion, timeMs, category), 2);
}

describe('course conversion by the published collegiate factors', () => {
  it('SCM to SCY, season 2021-22, worked in the source: 1:50.87 → 100.44822 → 1:40.44, cut off and not rounded', () => {
    expect(110.87 * 0.906).toBeCloseTo(100.44822, 5);
    expect(converted('1:50.87', ['SCM', 'SCY'], [200, 'free'])).toBe('1:40.44');
  });

  it("LCM to SCY, season 2023-24, worked in the source: women's 50 free 22.15 SCY ÷ .881 → 25.14 LCM", () => {
    expect(converted('22.15', ['SCY', 'LCM'], [50, 'free'], 'women')).toBe('25.14');
  });

  it('cuts off: 1:00.00 × .881 is 52.86 exactly, 1:00.01 × .881 is 52.86881', () => {
    expect(converted('1:00.00', ['LCM', 'SCY'], [50, 'free'], 'women')).toBe('52.86');
    expect(converted('1:00.01', ['LCM', 'SCY'], [50, 'free'], 'women')).toBe('52.86');
  });

  // Factors as printed in the two tables; each time is computed from them by hand.
  it.each([
    ['LCM', '4:00.00', 500, 'free', 'women', '4:29.28'],
    ['LCM', '4:00.00', 500, 'free', 'men', '4:27.60'],
    ['LCM', '8:20.00', 1000, 'free', 'women', '9:25.00'],
    ['LCM', '16:00.00', 1650, 'free', 'men', '15:36.00'],
    ['LCM', '1:00.00', 100, 'back', 'men', '50.70'],
    ['LCM', '2:10.00', 200, 'breast', 'women', '1:55.44'],
    ['LCM', '2:00.00', 200, 'fly', 'men', '1:45.12'],
    ['LCM', '4:30.00', 400, 'IM', 'women', '3:59.22'],
    ['SCM', '4:00.00', 500, 'free', undefined, '4:36.72'],
    ['SCM', '8:00.00', 1000, 'free', undefined, '9:13.44'],
    ['SCM', '15:00.00', 1650, 'free', undefined, '15:11.70'],
    ['SCM', '1:00.00', 100, 'breast', undefined, '54.36'],
  ] as const)('%s %s as a %i %s in yards (%s) is %s…', (from, written, distance, stroke, category, expected) => {
    expect(converted(written, [from, 'SCY'], [distance, stroke], category)).toBe(expected);
  });

  // LCM to SCY 2023-24 as printed: race in metres, race in yards, factor for women and men.
  it.each([
    ['free', 50, 0.881, 0.87],
    ['free', 100, 0.884, 0.873],
    ['free', 200, 0.884, 0.875],
    ['free', 500, 1.122, 1.115],
    ['free', 1000, 1.13, 1.115],
    ['free', 1650, 0.985, 0.975],
    ['back', 100, 0.863, 0.845],
    ['back', 200, 0.867, 0.859],
    ['breast', 100, 0.88, 0.866],
    ['breast', 200, 0.888, 0.868],
    ['fly', 100, 0.887, 0.878],
    ['fly', 200, 0.891, 0.876],
    ['IM', 200, 0.877, 0.867],
    ['IM', 400, 0.886, 0.875],
  ] as const)('the factors of the %s to %i yd are %d for women and %d for men', (stroke, distance, women, men) => {
    const of = (category: 'women' | 'men') => converted('16:40.00', ['LCM', 'SCY'], [distance, stroke], category);
    expect([of('women'), of('men')]).toEqual([women, men].map((factor) => formatSwimTime(factor * 1_000_000, 2)));
  });

  it('has nothing for races that are not in the tables', () => {
    expect(converted('30.00', ['LCM', 'SCY'], [50, 'back'], 'women')).toBeNull();
    expect(converted('4:00.00', ['SCM', 'SCY'], [400, 'free'])).toBeNull();
    expect(converted('2:30.00', ['SCM', 'SCY'], [250, 'free'])).toBeNull();
  });

  it('goes between the metre courses through yards, cut off at each step', () => {
    // 2:00.00 LCM × .884 = 106.08 SCY; ÷ .906 = 117.086 → 1:57.08 SCM.
    expect(converted('2:00.00', ['LCM', 'SCM'], [200, 'free'], 'women')).toBe('1:57.08');
    expect(converted('1:57.08', ['SCM', 'LCM'], [200, 'free'], 'women')).toBe('1:59.98');
  });
});

describe('a yard is 0.9144 m exactly (international yard and pound agreement of 1959)', () => {
  it('25 yd = 22.86 m, 1650 yd = 1508.76 m', () => {
    expect(inMetres(25, 'SCY')).toBe(22.86);
    expect(inMetres(1650, 'SCY')).toBe(1508.76);
    expect(inMetres(1500, 'LCM')).toBe(1500);
  });

  it('and back again for every distance of a pool', () => {
    for (let yards = 1; yards <= 20_000; yards += 1) expect(fromMetres(inMetres(yards, 'SCY'), 'SCY')).toBe(yards);
  });
});

const event = (text: string) => {
  const read = parseEvent(text);
  if (!read) throw new RangeError(text);
  return read;
};

function timeOf(text: string, references: Reference[], pool: Partial<Pool> = {}, more: Partial<Swimmer> = {}) {
  const result = eventTime(swimmer('Ada Vance', 1, 'A', references, more), event(text), { ...pool25, ...pool });
  return isEventTime(result) ? { time: formatSwimTime(result.timeMs, 2), basis: result.basis } : result.missing;
}

describe('a time for an event the swimmer has in another course only', () => {
  const lcm = time('200 free', '2:00.00', { course: 'LCM', date: '2026-07-04' });

  it('is converted, marked as an estimate, and says from what by which season', () => {
    const squad = { swimmers: [swimmer('Ada Vance', 1, 'A', [lcm], { category: 'women' })] };
    const target = firstTarget('4 x 50 free @ 1:00 at 200 pace', squad);
    expect(target).toMatchObject({ ms: 29_270, estimated: true });
    expect(target?.basis).toBe(
      '200 free 1:57.08 SCM from 200 free 2:00.00 LCM (best, 4 Jul 2026) by the published factors of 2023-24, then back by 2021-22, even pace 29.27 per 50',
    );
    expect(plan('4 x 50 free @ 1:00 at 200 pace', squad).messages.map(({ code, text }) => `${code}: ${text}`)).toEqual([
      `estimated: the target of {${squad.swimmers[0]?.id}} is an estimate: converted from LCM`,
    ]);
  });

  it('never stands in for one of the pool’s own course', () => {
    expect(timeOf('200 free', [lcm, best('200 free', '2:05.00')], {}, { category: 'women' })).toMatchObject({
      time: '2:05.00',
    });
  });

  it('needs the category where the factors differ, and says so', () => {
    expect(timeOf('200 free', [lcm])).toBe(
      'no 200 free time (SCM), and no category to convert the 200 free (LCM) with',
    );
    const yards = time('200 free', '1:46.00', { course: 'SCY' });
    expect(timeOf('200 free', [lcm, yards])).toMatchObject({ time: '1:56.99' });
  });

  it('takes a goal of one course before a best of another', () => {
    const goal = time('200 free', '1:45.00', { course: 'SCY', kind: 'goal' });
    expect(timeOf('200 free', [lcm, goal], {}, { category: 'men' })).toMatchObject({ time: '1:55.89' });
  });

  it('is not for kick, pull or drill', () => {
    const kick = time('100 free kick', '1:30.00', { course: 'LCM' });
    expect(timeOf('100 free kick', [kick], {}, { category: 'women' })).toBe('no 100 free kick time (SCM)');
  });

  it('400 m stands for 500 yd', () => {
    expect(timeOf('500 free', [best('400 free', '4:00.00')], { course: 'SCY' })).toMatchObject({ time: '4:36.72' });
  });
});

describe('a time for a distance the swimmer has not swum', () => {
  const two = [best('100 free', '60.00'), best('400 free', '4:40.00')];

  it('is by the power law through the swimmer’s own two times', () => {
    // k = ln(280/60)/ln 4 = 1.11121; 60 · 2^1.11121 = 129.61 s, the geometric mean of 60 and 280 (half way in ln D).
    expect(timeOf('200 free', two)).toMatchObject({ time: formatSwimTime(Math.sqrt(60 * 280) * 1000, 2) });
    expect(timeOf('200 free', two)).toMatchObject({
      basis: '200 free 2:09.61 by t = a·D^1.111 through 100 free 1:00.00 SCM (best) and 400 free 4:40.00 SCM (best)',
    });
  });

  it('inside their range or up to twice outside it', () => {
    expect(timeOf('800 free', two)).toMatchObject({ time: expect.any(String) });
    expect(timeOf('50 free', two)).toMatchObject({ time: expect.any(String) });
    expect(timeOf('1000 free', two)).toBe('no 1000 free time (SCM)');
    expect(timeOf('25 free', two)).toBe('no 25 free time (SCM)');
  });

  it('never from a single time, another stroke, another course or a goal', () => {
    expect(timeOf('200 free', two.slice(0, 1))).toBe('no 200 free time (SCM)');
    expect(timeOf('200 back', two)).toBe('no 200 back time (SCM)');
    expect(timeOf('200 free', [best('100 free', '60.00'), time('400 free', '4:40.00', { course: 'LCM' })])).toBe(
      'no 200 free time (SCM)',
    );
    expect(timeOf('200 free', [best('100 free', '60.00'), time('400 free', '4:40.00', { kind: 'goal' })])).toBe(
      'no 200 free time (SCM)',
    );
  });

  it('not through two times that do not fit together: the longer swum at the faster pace', () => {
    expect(timeOf('200 free', [best('100 free', '70.00'), best('400 free', '4:20.00')])).toBe('no 200 free time (SCM)');
  });

  it('between the two nearest of more', () => {
    const three = [...two, best('800 free', '9:50.00')];
    expect(timeOf('1500 free', three)).toMatchObject({ basis: expect.stringContaining('400 free') });
    expect(timeOf('1500 free', three)).toMatchObject({ basis: expect.stringContaining('800 free') });
  });

  it('also of kick, from the swimmer’s own kick times', () => {
    const kick = [best('50 free kick', '40.00'), best('200 free kick', '3:00.00')];
    expect(timeOf('100 free kick', kick)).toMatchObject({ time: formatSwimTime(Math.sqrt(40 * 180) * 1000, 2) });
  });
});
