import { describe, expect, test } from 'vitest';
import { type WallFields, wallFieldsOf, wallSettingsFrom } from '../../client/desk/wall-fields.ts';
import { calledOf, presenceWords, readableWords, setWords } from '../../client/desk/wall-words.ts';
import { deviceIdSchema, instant, laneNumber } from '../../shared-types/brand.ts';
import type { WallInfo, WallSettings } from '../../shared-types/wire/walls.ts';

const SETTINGS: WallSettings = {
  name: 'Far end',
  place: 'far',
  lanes: [4, 5, 6].map(laneNumber),
  order: 'last-on-top',
  diagonalInches: 55,
  distanceM: 8.5,
  sound: { on: true, offsetMs: -120 },
};

const wall = (change: Partial<WallInfo> = {}): WallInfo => ({
  device: deviceIdSchema.parse('f'.repeat(32)),
  number: 2,
  settings: SETTINGS,
  connected: true,
  since: instant(Date.UTC(2026, 10, 24, 17, 5)),
  syncBoundMs: 3,
  readableToM: 12,
  seenFromM: 8.5,
  ...change,
});

describe('the form of a wall', () => {
  const from = (change: Partial<WallFields>) => wallSettingsFrom({ ...wallFieldsOf(wall()), ...change });

  test('holds its settings and reads them back', () => {
    expect(from({})).toEqual(SETTINGS);
    const bare = wallFieldsOf(wall({ settings: null }));
    expect(wallSettingsFrom(bare)).toEqual({
      name: 'Wall 2',
      place: 'far',
      lanes: null,
      order: 'first-on-top',
      diagonalInches: null,
      distanceM: null,
      sound: { on: false, offsetMs: 0 },
    });
  });

  test.for([
    ['all', null],
    ['', null],
    [' 4-6 ', [4, 5, 6]],
    ['4 – 6, 1', [1, 4, 5, 6]],
    ['3 1 3', [1, 3]],
    ['12', [12]],
  ] as const)('reads the lanes "%s"', ([lanes, read]) => {
    expect(from({ lanes })).toEqual({ ...SETTINGS, lanes: read });
  });

  test.for(['6-4', '0', '13', '1-99999999', 'four', '4-', ','])('cannot use the lanes "%s", and says so', (lanes) => {
    expect(from({ lanes })).toEqual({
      message: `Lanes shown: “${lanes}” cannot be used.`,
      fix: 'Name lanes from 1 to 12, each once, or all.',
    });
  });

  test('takes a comma in a number, and says which field cannot be used and what to write', () => {
    expect(from({ distance: '12,5', diagonal: '' })).toMatchObject({ distanceM: 12.5, diagonalInches: null });
    expect(from({ distance: 'far' })).toEqual({
      message: 'Farthest reader, m: “far” cannot be used.',
      fix: 'Write 1 to 100 metres, or nothing.',
    });
    expect(from({ diagonal: '5' })).toMatchObject({ message: 'Diagonal, inches: “5” cannot be used.' });
    expect(from({ offset: '0.5' })).toMatchObject({ message: 'Sound later by, ms: “0.5” cannot be used.' });
    expect(from({ name: ' ' })).toMatchObject({ fix: 'Write a name of 1 to 30 characters.' });
  });
});

describe('the desk says of a wall', () => {
  const FACE = { timezone: 'Europe/Lisbon', trimMs: 0 };

  test('what it is called and what is set', () => {
    expect(calledOf(wall())).toBe('wall 2, Far end');
    expect(calledOf(wall({ settings: null }))).toBe('wall 2');
    expect(setWords(wall())).toBe('far wall, lanes 4–6, lane 1 at the bottom, sound');
    const lanes = [laneNumber(6), laneNumber(1)];
    expect(setWords(wall({ settings: { ...SETTINGS, place: 'near', lanes } }))).toContain('near wall, lanes 1, 6');
    expect(setWords(wall({ settings: null }))).toBe('not set up');
  });

  test('since when it is there or gone', () => {
    expect(presenceWords(wall(), FACE)).toBe('connected since 17:05');
    expect(presenceWords(wall({ connected: false }), FACE)).toBe('not connected since 17:05');
    expect(presenceWords(wall({ connected: false, since: null }), FACE)).toBe('not connected since the server started');
  });

  test('from how far it can be read, and what would cure it where that is not far enough', () => {
    expect(readableWords(wall({ readableToM: 8.9 }))).toEqual({ words: 'readable to 8\u00a0m', cure: '' });
    expect(readableWords(wall({ readableToM: 8.4 }))).toEqual({
      words: 'readable to 8\u00a0m, not to 8.5\u00a0m',
      cure: 'Fewer lanes on this screen, a second screen or a bigger one would cure it.',
    });
    expect(readableWords(wall({ readableToM: 1, seenFromM: null })).cure).toBe('');
    expect(readableWords(wall({ readableToM: null })).words).toBe('not known');
    expect(readableWords(wall({ connected: false })).words).toBe('not known');
  });
});
