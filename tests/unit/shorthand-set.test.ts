import { describe, expect, test } from 'vitest';
import { parsePractice } from '../../server/planning/shorthand/parse.ts';
import type { SetItem } from '../../shared-types/practice.ts';

/** The one set of a text without mistakes. */
function setOf(text: string): SetItem {
  const { practice, messages } = parsePractice(text);
  expect(messages).toEqual([]);
  const item = practice?.sections[0]?.items[0];
  if (item?.kind !== 'set') throw new Error(`${text} is not a set`);
  return item;
}

describe('count and distance', () => {
  test('a distance alone is one rep of free, pushed off', () => {
    expect(setOf('400')).toEqual({
      kind: 'set',
      line: 1,
      column: 1,
      counts: [1],
      size: { kind: 'distance', distance: 400 },
      sizeColumn: 1,
      stroke: 'free',
      activity: 'swim',
      start: 'push',
      equipment: [],
      parts: [],
      finishTogether: false,
      notes: [],
    });
  });

  test.each(['8x50', '8 X 50', '8 × 50', '8*50', '8  x  50s', '\t8 x 50'.trim()])('%s is eight fifties', (text) => {
    expect(setOf(text)).toMatchObject({ counts: [8], size: { kind: 'distance', distance: 50 } });
  });

  test('counts may differ by pace group, A first', () => {
    expect(setOf('10/9 / 8 x 100 @ 1:30')).toMatchObject({ counts: [10, 9, 8], column: 1, sizeColumn: 12 });
  });

  test('a time in the place of the distance makes timed reps', () => {
    expect(setOf('10 x :30 kick @ 1:00')).toMatchObject({
      counts: [10],
      size: { kind: 'timed', timeMs: 30_000 },
      activity: 'kick',
      release: { kind: 'interval', intervalMs: [60_000] },
    });
    expect(setOf(':30 kick rest :20')).toMatchObject({ counts: [1], size: { kind: 'timed', timeMs: 30_000 } });
  });
});

describe('stroke, activity, start, equipment', () => {
  test.each([
    ['free', 'free'],
    ['bk', 'back'],
    ['BREASTSTROKE', 'breast'],
    ['fl', 'fly'],
    ['im', 'IM'],
    ['IM order', 'IM order'],
    ['choice', 'choice'],
    ['own', 'own'],
  ])('%s', (word, stroke) => {
    expect(setOf(`4 x 50 ${word} drill`)).toMatchObject({ stroke, activity: 'drill' });
  });

  test.each(['from a dive', 'dive', 'from the blocks', 'from dive'])('%s is a dive', (words) => {
    expect(setOf(`6 x 25 fly ${words} max`)).toMatchObject({ start: 'dive', stroke: 'fly', effort: { kind: 'max' } });
  });

  test.each([
    ['with cord', [{ name: 'cord' }]],
    ['with parachute', [{ name: 'parachute' }]],
    ['with fins + paddles', [{ name: 'fins' }, { name: 'paddles' }]],
    ['with fins+snorkel', [{ name: 'fins' }, { name: 'snorkel' }]],
    ['with pulley', [{ name: 'pulley' }]],
    ['with pulley 12 kg', [{ name: 'pulley', massKg: 12 }]],
    ['with pulley 12.5kg + fins', [{ name: 'pulley', massKg: 12.5 }, { name: 'fins' }]],
  ])('%s', (words, equipment) => {
    expect(setOf(`8 x 25 ${words} on go`)).toMatchObject({ equipment });
  });

  test('a stack in pounds is kept in kilograms', () => {
    // 1 lb = 0.45359237 kg exactly: international yard and pound agreement, 1959.
    expect(setOf('8 x 25 with pulley 100 lb').equipment).toEqual([{ name: 'pulley', massKg: 45.359237 }]);
  });
});

describe('release and gap', () => {
  test.each([
    ['@ 1:30', { kind: 'interval', intervalMs: [90_000] }],
    ['on :45', { kind: 'interval', intervalMs: [45_000] }],
    ['@ 45s', { kind: 'interval', intervalMs: [45_000] }],
    ['@1:20/1:30/ 1:40', { kind: 'interval', intervalMs: [80_000, 90_000, 100_000] }],
    ['@ 1:30 dropping :05', { kind: 'interval', intervalMs: [90_000], droppingMs: 5000 }],
    ['rest :20', { kind: 'rest', restMs: 20_000 }],
    ['rest 20s', { kind: 'rest', restMs: 20_000 }],
    [':20 rest', { kind: 'rest', restMs: 20_000 }],
    ['on go', { kind: 'go', byHeat: false }],
    ['on go by heat', { kind: 'go', byHeat: true }],
  ])('%s', (words, release) => {
    expect(setOf(`8 x 50 ${words} easy`)).toMatchObject({ release, effort: { kind: 'easy' } });
  });

  test('a set without a release has none', () => {
    expect(setOf('8 x 50')).not.toHaveProperty('release');
  });

  test('the gap between swimmers may be nothing', () => {
    expect(setOf('8 x 50 :10 apart @ 1:00')).toMatchObject({ apartMs: 10_000 });
    expect(setOf('8 x 50 @ 1:00 :00 apart')).toMatchObject({ apartMs: 0 });
  });
});

describe('effort', () => {
  const race = { distance: 200 };
  test.each([
    ['easy', { kind: 'easy' }],
    ['Smooth', { kind: 'smooth' }],
    ['build', { kind: 'build' }],
    ['max', { kind: 'max' }],
    ['at max', { kind: 'max' }],
    ['best  average', { kind: 'best average' }],
    ['descend', { kind: 'descend' }],
    ['descend 1-4', { kind: 'descend', over: 4 }],
    ['descend 1–4', { kind: 'descend', over: 4 }],
    ['threshold', { kind: 'threshold', plusMsPer100: 0 }],
    ['threshold +3', { kind: 'threshold', plusMsPer100: 3000 }],
    ['threshold + 1.5', { kind: 'threshold', plusMsPer100: 1500 }],
    ['at 200 pace', { kind: 'pace', race, percent: 100 }],
    ['at 92.5% of 200 pace', { kind: 'pace', race, percent: 92.5 }],
    ['at own 200 pace', { kind: 'pace', race: { distance: 200, stroke: 'own' }, percent: 100 }],
    [
      'at 200 fly back-half pace',
      { kind: 'pace', race: { distance: 200, stroke: 'fly', part: 'back-half' }, percent: 100 },
    ],
    ['at 200 back half pace', { kind: 'pace', race: { distance: 200, part: 'back-half' }, percent: 100 }],
    ['at 200 back front pace', { kind: 'pace', race: { distance: 200, stroke: 'back', part: 'front' }, percent: 100 }],
    ['at 90% of 100 middle pace', { kind: 'pace', race: { distance: 100, part: 'middle' }, percent: 90 }],
    ['hold 31.5', { kind: 'hold', timeMs: [31_500] }],
    ['hold 31.5/33/1:06.25 per 50', { kind: 'hold', timeMs: [31_500, 33_000, 66_250], perDistance: 50 }],
    ['from 85% to 100% of 200 pace by rep', { kind: 'ramp', race, fromPercent: 85, toPercent: 100, by: 'rep' }],
    [
      'from 85 to 100% of own 200 pace by round',
      { kind: 'ramp', race: { distance: 200, stroke: 'own' }, fromPercent: 85, toPercent: 100, by: 'round' },
    ],
    ['odds max evens easy', { kind: 'alternate', odds: { kind: 'max' }, evens: { kind: 'easy' } }],
    [
      'odds at 200 pace, evens hold 40',
      { kind: 'alternate', odds: { kind: 'pace', race, percent: 100 }, evens: { kind: 'hold', timeMs: [40_000] } },
    ],
  ])('%s', (words, effort) => {
    expect(setOf(`8 x 50 free ${words} @ 1:10`)).toMatchObject({
      stroke: 'free',
      effort,
      release: { kind: 'interval' },
    });
  });
});

describe('parts and the rest of the line', () => {
  test('each part has its own stroke, activity and effort', () => {
    const { parts } = setOf('8 x 100 (50 fly kick at 200 pace, 50 free easy) @ 1:30');
    expect(parts).toEqual([
      {
        distance: 50,
        column: 10,
        stroke: 'fly',
        activity: 'kick',
        effort: { kind: 'pace', race: { distance: 200 }, percent: 100 },
      },
      { distance: 50, column: 35, stroke: 'free', effort: { kind: 'easy' } },
    ]);
  });

  test('parts may end anywhere in the pool', () => {
    expect(setOf('8 x 50 (15 max, 35 easy)').parts.map((part) => part.distance)).toEqual([15, 35]);
    expect(setOf('8 x 25 (12.5 max, 12.5 easy)').parts.map((part) => part.distance)).toEqual([12.5, 12.5]);
  });

  test('clauses come in any order, with or without commas', () => {
    const places = { column: 0, sizeColumn: 0 };
    const one = setOf('6/5 x 50 fly kick dive with fins @ 1:00/1:10 :10 apart max finish together -- go');
    const other = setOf('6/5 x 50 finish together, max, :10 apart, @ 1:00/1:10, with fins, dive, kick, fly -- go');
    expect({ ...other, ...places }).toEqual({ ...one, ...places });
    expect(one).toMatchObject({ finishTogether: true, notes: [{ line: 1, text: 'go' }] });
  });
});
