import { describe, expect, it } from 'vitest';
import { words } from '../../client/wall/boxes.ts';
import { drawnOf, MOST_MARKS } from '../../client/wall/drawn-text.ts';
import { layOut } from '../../client/wall/lay-out.ts';
import type { Screen } from '../../client/wall/legibility.ts';
import { wallName } from '../../client/wall/set-up.ts';
import { abbreviated, clipped, wordsWidth } from '../../client/wall/type-metrics.ts';
import { directionOf, isolated } from '../../shared-types/isolated.ts';
import { lettersOf, lettersRoughly } from '../../shared-types/letters.ts';
import { HOSTILE_TEXTS } from '../fixtures/hostile-texts.ts';
import { holds, isText, named } from '../fixtures/wall-boxes.ts';
import { boardOf, everydayLane } from './wall-layout-boards.ts';

const TV: Screen = { width: 1920, height: 1080, diagonalInches: 98, distanceM: 6 };
const NAMES = HOSTILE_TEXTS.map(({ text }) => text);
const MARKS = /[\p{Mn}\p{Me}]/gu;
const marksOn = (letter: string): number => letter.match(MARKS)?.length ?? 0;

describe('a letter', () => {
  // UAX #29, extended grapheme clusters: GB9, GB11, GB12.
  it.each([
    ['an accent of its own', 'Zoe\u0308', ['Z', 'o', 'e\u0308']],
    ['a family', '👩‍👩‍👧‍👦x', ['👩‍👩‍👧‍👦', 'x']],
    ['a skin', '👩🏽‍🚀', ['👩🏽‍🚀']],
    ['a character of two halves', '𝒜b', ['𝒜', 'b']],
  ])('goes with all that is set on it: %s', (_, text, letters) => {
    expect(lettersOf(text)).toEqual(letters);
    expect(lettersRoughly(text)).toEqual(letters);
  });

  it('of a flag is both of its signs', () => {
    expect(lettersOf('🇵🇹🇪🇸')).toEqual(['🇵🇹', '🇪🇸']);
  });

  it.each(NAMES)('is never taken apart or lost: %j', (text) => {
    expect(lettersOf(text).join('')).toBe(text);
    expect(lettersRoughly(text).join('')).toBe(text);
  });
});

describe('a name that is cut', () => {
  const cuts = Array.from({ length: 60 }, (_, tenths) => tenths / 10);

  it.each(NAMES)('ends with a whole letter, and is no wider than its room: %j', (text) => {
    const letters = lettersOf(text);
    const beginnings = letters.map((_, count) => letters.slice(0, count).join('').trimEnd());
    for (const width of cuts) {
      for (const [cut, end] of [
        [abbreviated(text, width, 0.672), '.'],
        [clipped(text, width, 0.672), '…'],
      ] as const) {
        expect(wordsWidth(cut)).toBeLessThanOrEqual(width + 1e-6);
        if (cut !== text && cut !== '') expect(beginnings).toContain(cut.slice(0, -end.length));
      }
    }
  });
});

describe('what is drawn of a text', () => {
  it('has few marks on a letter', () => {
    for (const text of [...NAMES, `a${'\u0301\u200D'.repeat(29)}`]) {
      for (const letter of lettersOf(drawnOf(text))) expect(marksOn(letter)).toBeLessThanOrEqual(MOST_MARKS);
    }
    expect(drawnOf(`Zalgo${'\u0301'.repeat(50)} B`)).toBe(`Zalgo${'\u0301'.repeat(MOST_MARKS)} B`);
  });

  it('keeps what names are written with', () => {
    for (const name of ['Nguye\u0302\u0303n', 'บุญมี ตั้งใจ', 'שָׁלוֹם', 'محمّد', '👩‍👩‍👧‍👦', 'क्षितिज'])
      expect(drawnOf(name)).toBe(name);
  });

  it('has no controls, nothing that turns what follows, and no halves of characters', () => {
    expect(drawnOf('Esc\u001b[2J')).toBe('Esc[2J');
    expect(drawnOf('Rilo\u202Eknarf')).toBe('Riloknarf');
    expect(drawnOf('Half\uD83C')).toBe('Half\uFFFD');
  });

  it('is what is measured', () => {
    const tower = words(TV, { id: 'a', role: 'name', text: `\u001bA${'\u0301'.repeat(50)}`, cap: 10, x: 0, y: 0 });
    const plain = words(TV, { id: 'b', role: 'name', text: 'A', cap: 10, x: 0, y: 0 });
    expect(tower.width).toBe(plain.width);
  });
});

describe('a picture of several', () => {
  it('is as wide as one', () => {
    expect(wordsWidth('👩‍👩‍👧‍👦')).toBe(wordsWidth('👩'));
    expect(wordsWidth('👩🏽‍🚀')).toBe(wordsWidth('👩'));
  });
});

describe('a name within a sentence', () => {
  it('that runs from right to left, or turns what follows, takes nothing of the sentence along', () => {
    expect(isolated('נועה')).toBe('\u2068נועה\u2069');
    expect(isolated('Rilo\u202Eknarf')).toBe('\u2068Rilo\u202Eknarf\u2069');
    // It cannot end its own isolate.
    expect(isolated('ליאם\u2069')).toBe('\u2068ליאם\u2069');
  });

  it('of any other kind stays as it is', () => {
    for (const name of ['Ada Vance', 'Ørjan', '美咲', '👩‍🚀 Kit', 'Zoe\u0308']) expect(isolated(name)).toBe(name);
  });

  it('stands so in the name of a wall', () => {
    const settings = { name: 'בריכה 2', place: 'far', lanes: null, order: 'first-on-top' } as const;
    const rest = { diagonalInches: null, distanceM: null, sound: { on: false, offsetMs: 0 } };
    expect(wallName({ number: 1, settings: { ...settings, ...rest } })).toBe('wall 1 · \u2068בריכה 2\u2069');
  });

  it('does not say which way the sentence runs', () => {
    expect(directionOf('נועה 12')).toBe('rtl');
    expect(directionOf('12 ليلى')).toBe('rtl');
    expect(directionOf('Ada נועה')).toBe('ltr');
    expect(directionOf(`${isolated('נועה')} · at 200 pace`)).toBe('ltr');
    expect(directionOf('12 · 👩‍🚀')).toBe('ltr');
  });
});

describe('a wall with such names', () => {
  it.each(NAMES)('has figures beside %j, each text a box of its own within the lane', (name) => {
    const lanes = [1, 2, 3].map((lane) => everydayLane(lane, { names: [name, 'Ada'] }));
    const { boxes } = layOut(boardOf(lanes), TV);
    const panel = named(boxes, 'lane2.panel') ?? named(boxes, 'lane2.lit');
    const ofLane = boxes.filter(isText).filter(({ id }) => id.startsWith('lane2.'));
    for (const box of ofLane) expect(panel && holds(panel, box), JSON.stringify(box)).toBe(true);
    for (const box of ofLane.filter(({ set }) => set === 'figures')) expect(box.text).toMatch(/^[\d:./ ]+$/);
    for (const { text } of ofLane) expect(drawnOf(text)).toBe(text);
  });
});
