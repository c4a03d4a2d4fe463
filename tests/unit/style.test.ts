import { describe, expect, it } from 'vitest';
import { sheetOf } from '../fixtures/planning.ts';

const styleOf = (line: string): string => {
  const [set] = sheetOf(line).sets;
  return `${set?.style}: ${set?.styleReason}`;
};

describe('the style of a set whose section names none (common practice, no source; the 90 % is a convention of ours)', () => {
  it.each([
    ['8 x 25 free with parachute @ 1:00 max', 'power: swum against resistance'],
    ['8 x 25 free with pulley 12 kg from a dive @ 4:00', 'power: swum against resistance'],
    ['3 x 100 free from a dive @ 8:00 max', 'stand-up: from a dive, every 8:00'],
    ['3 x 100 free from a dive @ 8:00/9:00/2:30 max', 'power: all-out, free of resistance'],
    ['4 x 50 free from a dive on go by heat max', 'stand-up: from a dive, released by the coach'],
    ['4 x 50 free from a dive rest 4:00 at 100 pace', 'stand-up: from a dive, with 4:00 rest'],
    ['8 x 100 free @ 1:40 (50 at 200 pace, 50 easy)', 'active rest: a paced and an easy part in each rep'],
    ['8 x 50 free @ 1:10 (15 max, 35 easy)', 'power: all-out, free of resistance'],
    ['12 x 50 free @ 1:30 best average', 'best average: asks for the best average'],
    ['10 x 100 free @ 1:40 threshold +2', 'threshold: at threshold pace'],
    ['8 x 25 free @ 1:00 max', 'power: all-out, free of resistance'],
    ['12 x 50 free @ 1:00 at 200 pace', 'race pace: at a race pace'],
    ['12 x 50 free from a dive @ 2:00 at 200 pace', 'race pace: at a race pace'],
    ['12 x 50 free @ 1:00 at 90% of 200 pace', 'race pace: at a race pace'],
    ['12 x 50 free @ 1:00 at 80% of 200 pace', 'aerobic: at 80 % of a race pace at most, below 90 %'],
    ['4 x 50 free @ 1:00 from 70% to 100% of 200 pace by rep', 'race pace: at a race pace'],
    ['4 x 50 free @ 1:00 odds at 200 pace evens at 70% of 200 pace', 'race pace: at a race pace'],
    ['12 x 50 free @ 1:00 hold 31.5', 'race pace: a time to hold'],
    ['6 x 50 free drill @ 1:15', 'skills: drill'],
    ['400 choice easy', 'aerobic: nothing in it asks for more'],
    ['6 x 50 free descend 1-3 @ 1:00', 'aerobic: nothing in it asks for more'],
  ])('%s', (line, expected) => {
    expect(styleOf(line)).toBe(expected);
  });

  it('gives way to what the section says', () => {
    expect(styleOf('Speed: power\n12 x 50 free @ 1:00 at 200 pace')).toBe('power: the section says so');
  });
});
