import { describe, expect, it } from 'vitest';
import { layOut } from '../../client/wall/lay-out.ts';
import {
  ANGLES,
  angleOfHeight,
  angleOnScreen,
  heightForAngle,
  isFar,
  type Screen,
  shortfallSentence,
} from '../../client/wall/legibility.ts';
import type { Board } from '../../shared-types/board/board.ts';
import { isText, named } from '../fixtures/wall-boxes.ts';
import { boardOf, everydayBoard, everydayLane } from './wall-layout-boards.ts';

const TV: Screen = { width: 1920, height: 1080, diagonalInches: 65, distanceM: 12 };

describe('the height of a character', () => {
  // ISO 9241 family and NUREG-0700 give 16 arc minutes as the least, 20 to 22 as the preferred height of a character.
  // The rows of 10 and 25 m stand so in tables made after them; all are h = 2 · d · tan(θ / 2), mm.
  it.each([
    [5, 23.3, 29.1, 32.0],
    [10, 46.5, 58.2, 64.0],
    [12, 55.9, 69.8, 76.8],
    [15, 69.8, 87.3, 96.0],
    [25, 116.4, 145.4, 160.0],
  ])('at %d m is %d, %d and %d mm for 16, 20 and 22 arc minutes', (distanceM, least, preferred, large) => {
    const heights = [16, 20, 22].map((angle) => Number(heightForAngle(angle, distanceM).toFixed(1)));
    expect(heights).toEqual([least, preferred, large]);
    expect(angleOfHeight(least, distanceM)).toBeCloseTo(16, 0);
  });

  it('is 8.73 mm at 6 m for 5 arc minutes', () => {
    // The letter of normal vision at 6 m.
    expect(heightForAngle(5, 6)).toBeCloseTo(8.73, 2);
    expect(angleOfHeight(8.7266, 6)).toBeCloseTo(5, 3);
  });

  it('comes from the diagonal: 1920 × 1080 on 65 inches are 0.7495 mm a pixel', () => {
    // 65 × 25.4 mm = 1651 mm along √(1920² + 1080²) = 2202.9 pixels; 74.5 of them are 55.8 mm, 16 arc minutes at 12 m.
    expect(angleOnScreen(74.5, TV)).toBeCloseTo(16, 1);
  });
});

describe('the table of angles', () => {
  it('asks 20 arc minutes for leave and clock where it can, and never less than 16 for what is read from afar', () => {
    // NUREG-0700 and ISO 9241: 16 at least, 20 preferred.
    for (const role of ['clock', 'countdown', 'lane'] as const)
      expect(ANGLES[role]).toEqual({ least: 16, preferred: 20 });
    for (const role of ['reading', 'target', 'rep', 'name', 'message'] as const) expect(ANGLES[role].least).toBe(16);
  });

  it('holds in every picture: what is there is as large as it asks, or the wall says from how far it can be read', () => {
    for (const lanes of [1, 2, 4, 6, 8, 10, 12]) {
      for (const distanceM of [3, 5, 8, 10, 12, 15, 20, 25]) {
        const { boxes, readableToM } = layOut(everydayBoard(lanes), { ...TV, distanceM });
        const texts = boxes.filter(isText);
        const small = texts.filter(({ role, arcMinutes }) => arcMinutes < ANGLES[role].least - 1e-4);
        expect(small.every(({ role }) => isFar(role))).toBe(true);
        expect(small.length > 0).toBe(readableToM < distanceM - 1e-4);
        const notice = texts.find(({ role }) => role === 'notice')?.text;
        expect(notice).toBe(small.length > 0 ? `readable to ${Math.floor(readableToM * 2) / 2} m` : undefined);
      }
    }
  });
});

describe('eight lanes on 65 inches', () => {
  const seenFrom = (distanceM: number) => layOut(everydayBoard(8), { ...TV, distanceM });

  it('can be read from 12 m, one line a lane', () => {
    // By hand, pixels of 0.7495 mm. Safe area 1712 × 956. Header 956 × 1.35 / 9.35 = 138 and a gap of 11 leave 807 for
    // the bands; captions take 27, so a lane has 97.4, less the water of 0.7 × 16.6 a panel of 85.5, less 5 % and 0.3 × 16.6 at its edges 76.2.
    // 16 arc minutes at 12 m are 55.8 mm or 74.5 pixels: one line of figures fits. Names hang 0.22 / 0.672 of that
    // lower, 98.9 in all: they do not.
    const { detail, readableToM, boxes } = seenFrom(12);
    expect(detail).toBe('line');
    expect(readableToM).toBeCloseTo(12, 1);
    for (const role of ['countdown', 'lane', 'reading', 'target', 'rep'] as const) {
      const caps = boxes.filter(isText).filter((box) => box.role === role);
      expect(caps.length).toBeGreaterThanOrEqual(8);
      for (const { cap } of caps) expect(cap).toBeGreaterThan(74.4);
    }
    expect(boxes.filter(isText).filter(({ role }) => role === 'name' || role === 'notice')).toEqual([]);
  });

  it('say themselves that they cannot be read from 13 m, and what would cure it', () => {
    // 76.2 pixels are 57.1 mm: 16 arc minutes (4.654 mm a metre) at 12.3 m.
    const { detail, readableToM, boxes } = seenFrom(13);
    expect(detail).toBe('line');
    expect(readableToM).toBeGreaterThan(11.8);
    expect(readableToM).toBeLessThanOrEqual(12.3);
    expect(named(boxes, 'notice')).toMatchObject({ text: `readable to ${readableToM >= 12 ? 12 : 11.5} m` });
    expect(shortfallSentence(8, { ...TV, distanceM: 13 })).toBe(
      'readable to 8 m, not to 13 m: show fewer lanes here, add a second screen or take one of 106 inches',
    );
    expect(shortfallSentence(13, { ...TV, distanceM: 13 })).toBe('');
  });

  it('show every target from nearer, and then the names with them', () => {
    const details = [12, 10, 9, 8, 7, 6, 5, 4].map((distanceM) => seenFrom(distanceM).detail);
    expect(details.filter((detail, place) => detail !== details[place - 1])).toEqual(['line', 'everyone']);
    expect(named(seenFrom(4).boxes, 'lane8.swimmer3.name')).toBeDefined();
  });
});

describe('the round', () => {
  const inRound = (outer: boolean): Board => {
    const lane = everydayLane(1);
    const rounds = { round: 2, rounds: 4, ...(outer ? { outerRound: 1, outerRounds: 3, heat: 2, heats: 3 } : {}) };
    return boardOf(
      [{ ...lane, rep: lane.rep && { ...lane.rep, ...rounds } }, ...[2, 3, 4, 5, 6].map((n) => everydayLane(n))].map(
        (one) => ({ ...one, rep: one.rep && { ...one.rep, ...rounds } }),
      ),
    );
  };

  it('is large enough for the farthest reader where there is room', () => {
    const { boxes, readableToM } = layOut(inRound(false), { ...TV, distanceM: 10 });
    expect(named(boxes, 'round')).toMatchObject({ role: 'message', text: 'round 2 of 4' });
    expect(readableToM).toBeGreaterThanOrEqual(10);
  });

  it('is small and quiet where there is not', () => {
    const { boxes, readableToM } = layOut(inRound(true), { ...TV, distanceM: 10 });
    expect(named(boxes, 'round')).toMatchObject({ role: 'detail', colour: 'quiet' });
    expect(readableToM).toBeGreaterThanOrEqual(10);
  });
});
