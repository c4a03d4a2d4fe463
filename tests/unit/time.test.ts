import { describe, expect, test } from 'vitest';
import { instant } from '../../shared-types/brand.ts';
import {
  clockReading,
  formatClock,
  formatSwimTime,
  nextReading,
  parseClock,
  parseSwimTime,
  pastTheMinute,
  readTypedTime,
  timeOfDay,
} from '../../shared-types/time.ts';
import { TOP } from '../fixtures/coach.ts';

describe('the pace clock', () => {
  // A pace clock shows seconds within the minute: common practice, no source.
  test.each([
    [0, 0, ':00'],
    [45_000, 0, ':45'],
    [59_999, 0, ':59'],
    [60_000, 0, ':00'],
    [45_000, 2300, ':47'],
    [1000, -2000, ':59'],
    [4999.7, 0, ':05'],
  ])('at %d ms past the minute with a trim of %d ms it reads %s', (pastMs, trimMs, reading) => {
    expect(clockReading(instant(TOP + pastMs), trimMs)).toBe(reading);
  });

  test('before 1970 and with any trim it stays within the minute', () => {
    expect(pastTheMinute(instant(-1), 0)).toBe(59_999);
    expect(pastTheMinute(instant(0), -60_001)).toBe(59_999);
  });

  test('the next reading is not before the earliest, and is the earliest when that fits', () => {
    expect(nextReading(instant(TOP), 5000, 0, 0)).toBe(TOP);
    expect(nextReading(instant(TOP + 1), 5000, 0, 0)).toBe(TOP + 5000);
    expect(nextReading(instant(TOP + 50_000), 60_000, 45_000, 0)).toBe(TOP + 105_000);
    expect(nextReading(instant(TOP), 5000, 0, 700)).toBe(TOP + 4300);
    expect(clockReading(instant(nextReading(instant(TOP), 60_000, 15_000, -700)), -700)).toBe(':15');
  });

  test('the time of day is that of the pool', () => {
    const noon = instant(Date.UTC(2026, 6, 1, 12, 0, 0));
    expect(timeOfDay(noon, { timezone: 'UTC', trimMs: 0 })).toBe('12:00');
    expect(timeOfDay(noon, { timezone: 'Europe/Lisbon', trimMs: 0 })).toBe('13:00');
    expect(timeOfDay(noon, { timezone: 'UTC', trimMs: -1 })).toBe('11:59');
  });
});

describe('clock times and swim times', () => {
  test.each([
    ['1:30', 90_000],
    [':45', 45_000],
    ['12:00', 720_000],
    ['1:05.3', 65_300],
    ['1:05.32', 65_320],
  ])('%s is read as a clock time', (text, value) => {
    expect(parseClock(text)).toBe(value);
    expect(parseSwimTime(text)).toBe(value);
  });

  test.each(['1:60', '90', '1;30', '1.30', '', ':5'])('%s is no clock time', (text) => {
    expect(parseClock(text)).toBeNull();
  });

  test.each([
    ['31.5', 31_500],
    ['58.42', 58_420],
    ['45s', 45_000],
  ])('%s is read as a swim time', (text, value) => {
    expect(parseSwimTime(text)).toBe(value);
  });

  test.each([
    ['1:58.4', 118_400],
    ['118.4', 118_400],
    ['1:58,40', 118_400],
    ['118,4', 118_400],
    ['1.58,40', 118_400],
    [' 1.58,4 ', 118_400],
    ['1.58', 1580],
    [':05', 5000],
    ['5s', 5000],
  ])('%s typed into a field is read', (typed, value) => {
    expect(readTypedTime(typed)).toBe(value);
  });

  test.each(['', '1.60,40', '1.58.40', '1,58.40', '1:58,4,0', '-1:58', 'fast'])('%s typed is no time', (typed) => {
    expect(readTypedTime(typed)).toBeNull();
  });

  test('a clock time is written as it is read', () => {
    expect([45_000, 90_000, 720_000, 3_905_000, 65_300].map(formatClock)).toEqual([
      ':45',
      '1:30',
      '12:00',
      '1:05:05',
      '1:05.3',
    ]);
  });

  test('a swim time is rounded once, half up', () => {
    expect(formatSwimTime(29_650, 1)).toBe('29.7');
    expect(formatSwimTime(29_649, 1)).toBe('29.6');
    expect(formatSwimTime(59_950, 1)).toBe('1:00.0');
    expect(formatSwimTime(65_325, 2)).toBe('1:05.33');
  });
});
