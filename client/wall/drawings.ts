import type { Texture } from 'pixi.js';
import { directionOf } from '../../shared-types/isolated.ts';
import { type ColourRole, PALETTE } from '../common/palette.ts';
import type { Rect } from './boxes.ts';
import { type DrawingName, drawMark } from './marks.ts';
import { BEADS, drawRope } from './rope.ts';
import {
  CAP_HEIGHT,
  cellWidth,
  DESCENT,
  emOf,
  FACES,
  FIGURE_CHARACTERS,
  QUIET_WEIGHT,
  WEIGHT,
} from './type-metrics.ts';

export type Pen = CanvasRenderingContext2D;

/** Cuts a texture out of a picture: all of it, or a part of it (CSS pixels from its corner). */
export type Cut = (part?: Rect) => Texture;

/** Something to be drawn, CSS pixels, and what is cut out of that. */
export interface Picture<T> {
  readonly width: number;
  readonly height: number;
  /** From 0, 0 on. */
  draw(pen: Pen): void;
  cutFrom(cut: Cut): T;
}

/** The digits of one size and colour. */
export interface FigureSheet {
  readonly glyphs: ReadonlyMap<string, Texture>;
  /** From the top of a glyph's texture to the top of its digit, CSS pixels. */
  readonly above: number;
}

export interface Words {
  readonly text: string;
  readonly cap: number;
  readonly colour: ColourRole;
  /** Set a little lighter. */
  readonly quiet: boolean;
}

/** Room around a glyph so that neighbours do not bleed into each other, CSS pixels. */
export const MARGIN = 2;

/** Accents on capitals stand above their top, sometimes two of them: so much, in the unit of `cap`. */
export const accentRoom = (cap: number): number => cap * 0.5;

/** A text, from {@link accentRoom} above its capitals down to its tails. */
export function wordsPicture(measure: Pen, { text, cap, colour, quiet }: Words): Picture<Texture> {
  const font = `${quiet ? QUIET_WEIGHT : WEIGHT} ${emOf(cap)}px ${FACES}`;
  measure.font = font;
  const above = accentRoom(cap);
  return {
    width: measure.measureText(text).width + 1,
    height: above + cap * (1 + DESCENT / CAP_HEIGHT),
    draw: (pen) => {
      pen.font = font;
      pen.fillStyle = PALETTE[colour];
      // The full stop of a name that was cut stands at its end, which may be on the left.
      pen.direction = directionOf(text);
      pen.textAlign = 'left';
      pen.fillText(text, 0, above + cap);
    },
    cutFrom: (cut) => cut(),
  };
}

/** @param most how wide it may be, CSS pixels */
export function figuresPicture(measure: Pen, cap: number, colour: ColourRole, most: number): Picture<FigureSheet> {
  const characters = [...FIGURE_CHARACTERS].filter((character) => character !== ' ');
  const em = emOf(cap);
  const font = `${WEIGHT} ${em}px ${FACES}`;
  measure.font = font;
  // The slash is taller and deeper than the digits: cut to their height, it would end in the row of another.
  const { actualBoundingBoxAscent, actualBoundingBoxDescent } = measure.measureText(FIGURE_CHARACTERS);
  const above = MARGIN + Math.max(0, actualBoundingBoxAscent - cap);
  const height = Math.ceil(above + cap + Math.max(0, actualBoundingBoxDescent) + MARGIN);
  const cell = Math.ceil(cellWidth('0') * em) + MARGIN * 2;
  const perRow = Math.max(1, Math.min(characters.length, Math.floor(most / cell)));
  const frameOf = (place: number): Rect => ({
    x: (place % perRow) * cell + MARGIN,
    y: Math.floor(place / perRow) * height,
    width: cellWidth(characters[place] ?? '') * em,
    height,
  });
  return {
    width: perRow * cell,
    height: Math.ceil(characters.length / perRow) * height,
    draw: (pen) => {
      pen.font = font;
      pen.fillStyle = PALETTE[colour];
      pen.textAlign = 'center';
      characters.forEach((character, place) => {
        const { x, y, width } = frameOf(place);
        pen.fillText(character, x + width / 2, y + above + cap);
      });
    },
    cutFrom: (cut) => ({
      glyphs: new Map(characters.map((character, place) => [character, cut(frameOf(place))] as const)),
      above,
    }),
  };
}

export const markPicture = (name: DrawingName, size: number, colour: ColourRole): Picture<Texture> => ({
  width: size,
  height: size,
  draw: (pen) => drawMark(pen, name, size, PALETTE[colour]),
  cutFrom: (cut) => cut(),
});

/** The rope, cut from one drawing: entry n has its first n beads lit, the last entry is the unlit rope. */
export const ropePicture = (width: number, height: number): Picture<readonly Texture[]> => ({
  width,
  height: height * 2,
  draw: (pen) => drawRope(pen, width, height),
  cutFrom: (cut) => {
    const lit = Array.from({ length: BEADS + 1 }, (_, beads) =>
      cut({ x: 0, y: 0, width: Math.max(1, (beads * width) / BEADS), height }),
    );
    return [...lit, cut({ x: 0, y: height, width, height })];
  },
});
