import { describe, expect, it } from 'vitest';
import { type ColourRole, PALETTE } from '../../client/common/palette.ts';
import { layOut } from '../../client/wall/lay-out.ts';
import { BOARD_PHASES, LANE_PHASES } from '../../shared-types/board/phase.ts';
import { boardOf, everydayLane } from './wall-layout-boards.ts';

/** Relative luminance of an sRGB colour, WCAG 2.2. */
function luminance(hex: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((from) => {
    const value = Number.parseInt(hex.slice(from, from + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

/** Contrast ratio, WCAG 2.2. */
function contrast(one: string, other: string): number {
  const [light = 0, dark = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (light + 0.05) / (dark + 0.05);
}

/** WCAG 2.2 success criterion 1.4.6. */
const ENHANCED = 7;

describe('contrast', () => {
  it('is computed as published', () => {
    // WCAG 2.2: #767676 on white just passes AA, #777777 just fails, #595959 just passes AAA.
    expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.5422, 4);
    expect(contrast('#777777', '#ffffff')).toBeCloseTo(4.4781, 4);
    expect(contrast('#595959', '#ffffff')).toBeCloseTo(7.0047, 4);
    expect(contrast('#000000', '#ffffff')).toBe(21);
  });

  it('is 7:1 or better for whatever the wall writes or draws on whatever it is drawn on', () => {
    const pairs = new Set<string>();
    for (const phase of BOARD_PHASES) {
      for (const lane of LANE_PHASES) {
        for (const distanceM of [6, 12]) {
          const board = boardOf([everydayLane(1, { phase: lane, countdownMs: 4000 }), everydayLane(2)], phase);
          for (const pair of coloursOf(board, distanceM)) pairs.add(pair);
        }
      }
    }
    expect(pairs.size).toBeGreaterThan(10);
    for (const pair of pairs) {
      const [written, ground] = pair.split(' on ');
      expect(contrast(hexOf(written), hexOf(ground)), pair).toBeGreaterThanOrEqual(ENHANCED);
    }
  });
});

const isRole = (name: string | undefined): name is ColourRole => name !== undefined && name in PALETTE;
const hexOf = (name: string | undefined): string => (isRole(name) ? PALETTE[name] : '');

/** Each colour of writing or mark with the colour under its middle. */
function coloursOf(board: Parameters<typeof layOut>[0], distanceM: number): string[] {
  const { boxes } = layOut(board, { width: 1920, height: 1080, diagonalInches: 75, distanceM }, 'a notice');
  const panels = boxes.flatMap((box) => (box.kind === 'panel' ? [box] : []));
  return boxes.flatMap((box) => {
    if (box.kind === 'panel' || box.kind === 'rope') return [];
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const under = panels.filter(
      (panel) => x > panel.x && x < panel.x + panel.width && y > panel.y && y < panel.y + panel.height,
    );
    return [`${box.colour} on ${under.at(-1)?.colour ?? 'ink'}`];
  });
}
