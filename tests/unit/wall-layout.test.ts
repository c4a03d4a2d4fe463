import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Box } from '../../client/wall/boxes.ts';
import { layOut, safeArea } from '../../client/wall/lay-out.ts';
import { isFar, LEAST_ARC_MINUTES, type Screen } from '../../client/wall/legibility.ts';
import { idleBoard } from '../../shared-types/board/board.ts';
import { holds, isText, named, overlap } from '../fixtures/wall-boxes.ts';
import { AT, anyBoard, anyScreen, boardOf, everydayBoard, everydayLane } from './wall-layout-boards.ts';

const TV: Screen = { width: 1920, height: 1080, diagonalInches: 55, distanceM: 12 };

describe('layout of any board on any screen', () => {
  it('keeps everything inside the safe area', () => {
    fc.assert(
      fc.property(
        anyBoard,
        anyScreen,
        fc.constantFrom('', 'no connection: going on alone'),
        (board, screen, notice) => {
          const { boxes, tracks } = layOut(board, screen, notice);
          for (const box of [...boxes, ...tracks]) expect(holds(safeArea(screen), box), JSON.stringify(box)).toBe(true);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('lets no writing and no mark overlap another', () => {
    fc.assert(
      fc.property(
        anyBoard,
        anyScreen,
        fc.constantFrom('', 'no connection: going on alone'),
        (board, screen, notice) => {
          const { boxes } = layOut(board, screen, notice);
          const drawn = boxes.filter(({ kind }) => kind !== 'panel');
          for (const [place, one] of drawn.entries()) {
            const other = drawn.slice(place + 1).find((candidate) => overlap(one, candidate));
            expect(other && `${JSON.stringify(one)} ${JSON.stringify(other)}`).toBeUndefined();
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  it("keeps a lane's writing on the lane's own panel, and panels of lanes apart", () => {
    fc.assert(
      fc.property(anyBoard, anyScreen, (board, screen) => {
        const { boxes, detail } = layOut(board, screen);
        if (detail === 'clock') return;
        const panels = board.lanes.map(({ lane }) => {
          const panel = named(boxes, `lane${lane}.panel`) ?? named(boxes, `lane${lane}.lit`);
          const writing = boxes.filter(({ kind, id }) => kind !== 'panel' && id.startsWith(`lane${lane}.`));
          for (const box of writing) expect(panel && holds(panel, box), JSON.stringify(box)).toBe(true);
          return panel;
        });
        for (const [place, panel] of panels.entries()) {
          const next = panels[place + 1];
          expect(panel && next && overlap(panel, next)).not.toBe(true);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('never draws what must be read from afar too small, or says from how far it can be read', () => {
    fc.assert(
      fc.property(anyBoard, anyScreen, (board, screen) => {
        const { boxes, readableToM } = layOut(board, screen);
        const least = Math.min(
          ...boxes
            .filter(isText)
            .filter(({ role }) => isFar(role))
            .map(({ arcMinutes }) => arcMinutes),
        );
        expect(readableToM >= (screen.distanceM ?? 0) - 1e-6).toBe(least >= LEAST_ARC_MINUTES - 1e-6);
      }),
      { numRuns: 200 },
    );
  });
});

describe('what a wall has room for', () => {
  const detailOf = (lanes: number, change: Partial<Screen>): string =>
    layOut(everydayBoard(lanes), { ...TV, ...change }).detail;

  it('shows everybody near a large screen, the leader farther away, one line from far away', () => {
    expect(detailOf(6, { diagonalInches: 98, distanceM: 8 })).toBe('everyone');
    expect(detailOf(4, { diagonalInches: 65, distanceM: 11 })).toBe('leader');
    expect(detailOf(6, { diagonalInches: 55, distanceM: 12 })).toBe('line');
  });

  it('can be read from 12 m with six lanes on 55 inches', () => {
    const { boxes, readableToM } = layOut(everydayBoard(6), TV);
    expect(readableToM).toBeGreaterThanOrEqual(12);
    for (const box of boxes.filter(isText).filter(({ role }) => isFar(role)))
      expect(box.arcMinutes).toBeGreaterThanOrEqual(15.999);
  });

  it('says from how far ten lanes can be read there', () => {
    const { detail, readableToM } = layOut(everydayBoard(10), TV);
    expect(detail).toBe('line');
    expect(readableToM).toBeGreaterThan(6);
    expect(readableToM).toBeLessThan(12);
  });

  it('never shows less when the same screen is nearer', () => {
    const ranks = ['line', 'leader', 'everyone'];
    for (let lanes = 1; lanes <= 12; lanes += 1) {
      const shown = [16, 14, 12, 10, 8, 6, 4].map((distanceM) => ranks.indexOf(detailOf(lanes, { distanceM })));
      expect(shown).toEqual([...shown].sort((a, b) => a - b));
    }
  });
});

describe('what a band shows', () => {
  const lines = (change: Parameters<typeof everydayLane>[1]) =>
    layOut(boardOf([everydayLane(1), everydayLane(2, change), everydayLane(3)]), { ...TV, distanceM: 6 }).boxes;
  const textOf = (boxes: readonly Box[], id: string): string | undefined =>
    boxes.filter(isText).find((box) => box.id === id)?.text;

  it('counts down to the send-off and gives its clock reading', () => {
    const boxes = lines({ countdownMs: 22_000 });
    expect(textOf(boxes, 'lane2.countdown')).toBe('22');
    expect(textOf(boxes, 'lane2.reading')).toBe(':45');
  });

  it('stands the same figures of all lanes under each other', () => {
    const boxes = lines({ countdownMs: 7_000 });
    const rightOf = (lane: number): number => {
      const box = named(boxes, `lane${lane}.countdown`);
      return box ? box.x + box.width : Number.NaN;
    };
    expect(rightOf(2)).toBeCloseTo(rightOf(1), 6);
    expect(rightOf(3)).toBeCloseTo(rightOf(1), 6);
  });

  it('shows nothing for a swimmer without a target', () => {
    const boxes = lines({ targetMs: null });
    expect(boxes.filter(({ id }) => id.startsWith('lane2.') && id.endsWith('.target'))).toEqual([]);
    expect(boxes.filter(isText).filter(({ text }) => /^[-–—]+$/.test(text))).toEqual([]);
  });

  it('turns light and grows in the last seconds, and only then', () => {
    const [calm, leaving] = [
      lines({ phase: 'resting', countdownMs: 5200 }),
      lines({ phase: 'leaving', countdownMs: 4900 }),
    ];
    expect(named(calm, 'lane2.lit')).toBeUndefined();
    const [panel, lit] = [named(calm, 'lane2.panel'), named(leaving, 'lane2.lit')];
    expect(lit?.width).toBeGreaterThan(panel?.width ?? Number.NaN);
    const [before, after] = [named(calm, 'lane2.countdown'), named(leaving, 'lane2.countdown')];
    expect(after?.height).toBeGreaterThan(before?.height ?? Number.NaN);
  });

  it('says HOLD and what to do while held', () => {
    const { boxes } = layOut(boardOf([everydayLane(1)], 'held'), TV);
    expect(textOf(boxes, 'state')).toBe('HOLD');
    expect(textOf(boxes, 'near')).toBe('finish this rep, then wait');
    const waiting = layOut(boardOf([everydayLane(1, { phase: 'resting' })], 'held'), TV);
    expect(textOf(waiting.boxes, 'near')).toBe('wait for the coach');
  });

  it('shows each swimmer the own time where there is room', () => {
    const { boxes, detail } = layOut(everydayBoard(2), { ...TV, diagonalInches: 98, distanceM: 6 });
    expect(detail).toBe('everyone');
    // Everybody is nine seconds over a target of 30.3 s and more.
    const own = [0, 1, 2, 3].map((place) => textOf(boxes, `lane1.swimmer${place}.own`));
    expect(own).toEqual(['0:39', '0:39', '0:40', '0:40']);
    expect(textOf(boxes, 'lane1.rest')).toBe('15');
  });

  it('shows the lane’s time where there is not, in place of the rest to come, with the gaps over it', () => {
    const usual = { ...TV, diagonalInches: 65, distanceM: 10 };
    const swims = layOut(everydayBoard(6), usual).boxes;
    expect(textOf(swims, 'lane1.time')).toBe('0:55');
    expect(textOf(swims, 'lane1.rest')).toBeUndefined();
    expect(textOf(swims, 'caption.rest')).toBe('rest · time +5 +10 +15');
    const leaves = layOut(
      boardOf([1, 2, 3, 4, 5, 6].map((lane) => everydayLane(lane, { phase: 'leaving' }))),
      usual,
    ).boxes;
    expect(textOf(leaves, 'lane1.time')).toBeUndefined();
    expect(textOf(leaves, 'lane1.rest')).toBe('15');
  });

  it('is a pace clock with the time of day when nothing is on it', () => {
    const { boxes, detail } = layOut(idleBoard(AT, { timezone: 'UTC', trimMs: 0 }), TV);
    expect(detail).toBe('clock');
    expect(textOf(boxes, 'clock')).toBe(':23');
    expect(textOf(boxes, 'day')).toBe('17:31');
  });
});
