import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readCalledTime } from '../../shared-types/called-time.ts';
import { formatSwimTime } from '../../shared-types/time.ts';

/** As it is shown, or why not. */
const read = (typed: string, distance = 50): string => {
  const called = readCalledTime(typed, distance);
  return called.ok ? formatSwimTime(called.ms, 2) : called.message;
};

describe('a time called out', () => {
  test('of figures alone the last is the tenth, the two before it are seconds, the rest minutes', () => {
    expect(read('295')).toBe('29.50');
    expect(read('1023')).toBe('1:02.30');
    expect(read('10234', 800)).toBe('10:23.40');
    expect(read('95', 15)).toBe('9.50');
    expect(read('0295')).toBe('29.50');
  });

  test('seconds above sixty are a minute and more where no minutes were typed', () => {
    expect(read('723')).toBe('1:12.30');
    expect(read('1723', 100)).toBe('A minute has no 72 seconds: 1:02.3 is 1023.');
  });

  test('written with its points it is what it says, hundredths too', () => {
    expect(read('29.5')).toBe('29.50');
    expect(read(' 29,5 ')).toBe('29.50');
    expect(read('1:02.3')).toBe('1:02.30');
    expect(read('1:02.34')).toBe('1:02.34');
    expect(read('1.02,34')).toBe('1:02.34');
    expect(read(':45')).toBe('45.00');
  });

  test('what is no time is refused with what to type instead', () => {
    expect(read('')).toBe('Type a time: 29.5 is 295.');
    expect(read('3')).toBe('Type the tenth too: 29.5 is 295.');
    expect(read('102345')).toBe('That is too long for a time: 10:23.4 is 10234.');
    for (const nonsense of ['abc', '1:2', '1.02.3', '-295', '29.5.', '1:75', '２９５', '29 5', 'NaN', '1e3']) {
      expect(read(nonsense)).toBe('That is no time: 29.5 is 295, 1:02.3 is 1023.');
    }
  });

  test('so is what nobody can have swum', () => {
    expect(read('295', 200)).toBe('Nobody is so fast: 29.5 for 200.');
    expect(read('00')).toBe('Nobody is so fast: 0.0 for 50.');
    expect(read('99599')).toBe('Nobody is so slow: 99:59.9 for 50.');
  });

  test('every time of hand that swimming can take is read back from its figures', () => {
    fc.assert(
      fc.property(fc.integer({ min: 125, max: 4999 }), (tenths) => {
        const figures = formatSwimTime(tenths * 100, 1).replace(/\D/g, '');
        expect(readCalledTime(figures, 50)).toEqual({ ok: true, ms: tenths * 100 });
      }),
      { endOnFailure: true },
    );
  });

  test('whatever is typed, there is a time or a sentence', () => {
    fc.assert(
      fc.property(fc.string(), fc.integer({ min: 15, max: 1500 }), (typed, distance) => {
        const called = readCalledTime(typed, distance);
        expect(called.ok ? called.ms > 0 : /\.$/.test(called.message)).toBe(true);
      }),
      { endOnFailure: true },
    );
  });
});
