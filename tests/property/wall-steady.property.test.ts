import fc from 'fast-check';
import { expect, it } from 'vitest';
import { pictureKey, steadyFor } from '../../client/wall/changes.ts';
import { type Board, boardAt, swimsAt } from '../../shared-types/board/board.ts';
import { instant } from '../../shared-types/brand.ts';
import { Coach, TOP } from '../fixtures/coach.ts';
import { type Swim, sheetOf } from '../fixtures/sheets.ts';

const parts: Swim = {
  distance: 100,
  splits: [
    [15, 9.3, true],
    [50, 31.7, false],
    [100, 66.1, true],
  ],
};
const SHEET = sheetOf(
  { lanes: 3, swimmers: 4, apart: 5 },
  { reps: 3, every: 75, lanes: [1], swim: parts },
  { reps: 2, every: 90, lanes: [2, 3], swim: parts },
  { meet: 'join' },
  { rest: 20 },
  { reps: 2, every: 45, swim: { set: 1, distance: 50, splits: [[50, 33.33, true]] } },
  { meet: 'gate' },
  { reps: 1, every: 40, swim: { set: 2 } },
);
const LASTS_MS = 480_000;

const presses = fc.array(
  fc.record({
    at: fc.integer({ min: 5, max: 400 }),
    press: fc.constantFrom(
      { kind: 'hold' } as const,
      { kind: 'resume', when: 'now' } as const,
      { kind: 'next', when: 'now' } as const,
      { kind: 'back' } as const,
      { kind: 'shift', lane: 2, byMs: 5000 } as const,
    ),
  }),
  { maxLength: 4 },
);

it('while a board is taken to be steady nothing on it changes but where swimmers are, and that is as on the board', () => {
  let steadyMs = 0;
  fc.assert(
    fc.property(
      presses,
      fc.array(fc.tuple(fc.integer({ min: 0, max: LASTS_MS }), fc.double({ min: 0, max: 1, noNaN: true })), {
        minLength: 40,
        maxLength: 40,
      }),
      fc.constantFrom('near' as const, 'far' as const),
      (pressed, looks, rightEnd) => {
        const coach = new Coach(SHEET);
        coach.press({ kind: 'start', when: 'now' }, 0.37);
        for (const { at, press } of [...pressed].sort((a, b) => a.at - b.at)) coach.press(press, at);
        const screen = { labels: {}, face: { timezone: 'UTC', trimMs: 137 }, rightEnd };
        const boardAfter = (ms: number): Board => boardAt(coach.sheet, coach.run, instant(TOP + ms), screen);
        for (const [ms, share] of looks) {
          const board = boardAfter(ms);
          const forMs = steadyFor(board, (later) => boardAfter(ms + later));
          steadyMs += forMs;
          const later = boardAfter(ms + forMs * share);
          expect(pictureKey(later)).toBe(pictureKey(board));
          const swims = swimsAt(board.lanes, coach.sheet, coach.run, later.at, screen);
          expect(swims).toEqual(later.lanes.map(({ lane, markers, changes }) => ({ lane, markers, changes })));
        }
      },
    ),
    { numRuns: 60, endOnFailure: true },
  );
  // It is worth having.
  expect(steadyMs / (60 * 40)).toBeGreaterThan(30);
});
