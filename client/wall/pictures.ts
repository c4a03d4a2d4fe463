import { CanvasSource, Rectangle, Texture } from 'pixi.js';
import { type ColourRole, PALETTE } from '../common/palette.ts';
import { type DrawingName, drawMark } from './marks.ts';
import { Shelf } from './shelf.ts';
import { CAP_HEIGHT, cellWidth, DESCENT, emOf, FACE, FIGURE_CHARACTERS, QUIET_WEIGHT, WEIGHT } from './type-metrics.ts';

/** Textures wider than this are not sure to work everywhere, device pixels. */
const MOST_TEXTURE_PIXELS = 4096;
/** How many are kept: far more than one picture shows. */
const MOST_WORDS = 300;
const MOST_MARKS = 200;
const MOST_FIGURES = 40;
const MOST_ROPES = 4;
const BEADS = 60;
/** Room around a glyph so that neighbours do not bleed into each other, CSS pixels. */
const MARGIN = 2;

/** The digits of one size and colour. */
export interface FigureSheet {
  readonly glyphs: ReadonlyMap<string, Texture>;
  /** From the top of a glyph's texture to the top of its digit, CSS pixels. */
  readonly above: number;
}

interface Sheet {
  readonly pen: CanvasRenderingContext2D;
  readonly source: () => CanvasSource;
}

const dropTexture = (texture: Texture): void => texture.destroy(true);
const dropAll = (textures: Iterable<Texture>): void => {
  for (const texture of textures) texture.destroy(true);
};

/**
 * Everything the scene shows, drawn once with the browser's own pen and kept as textures: digits in one atlas for each
 * size and colour, words, marks, ropes.
 */
export class Pictures {
  readonly #resolution: number;
  readonly #words = new Shelf<Texture>(MOST_WORDS, dropTexture);
  readonly #marks = new Shelf<Texture>(MOST_MARKS, dropTexture);
  readonly #figures = new Shelf<FigureSheet>(MOST_FIGURES, ({ glyphs }) => dropAll(glyphs.values()));
  readonly #ropes = new Shelf<readonly Texture[]>(MOST_ROPES, dropAll);

  /** @param resolution device pixels per CSS pixel */
  constructor(resolution: number) {
    this.#resolution = resolution;
  }

  figures(cap: number, colour: ColourRole): FigureSheet {
    return this.#figures.get(`${cap} ${colour}`, () => this.#drawFigures(cap, colour));
  }

  /** A text, from {@link accentRoom} above its capitals down to its tails. */
  words(text: string, cap: number, colour: ColourRole, quiet: boolean): Texture {
    return this.#words.get(`${cap} ${colour} ${quiet} ${text}`, () => this.#drawWords(text, cap, colour, quiet));
  }

  mark(name: DrawingName, size: number, colour: ColourRole): Texture {
    return this.#marks.get(`${name} ${size} ${colour}`, () => {
      const { pen, source } = this.#sheet(size, size);
      drawMark(pen, name, size, PALETTE[colour]);
      return new Texture({ source: source() });
    });
  }

  /** The rope, cut from one drawing: entry n has its first n beads lit, the last entry is the unlit rope. */
  rope(width: number, height: number): readonly Texture[] {
    return this.#ropes.get(`${width} ${height}`, () => this.#drawRope(width, height));
  }

  destroy(): void {
    for (const shelf of [this.#words, this.#marks, this.#figures, this.#ropes]) shelf.clear();
  }

  /** A drawing of so many CSS pixels. */
  #sheet(width: number, height: number): Sheet {
    const canvas = document.createElement('canvas');
    const resolution = this.#resolution;
    canvas.width = Math.max(1, Math.ceil(width * resolution));
    canvas.height = Math.max(1, Math.ceil(height * resolution));
    const pen = canvas.getContext('2d');
    if (!pen) throw new Error('this browser draws no canvas');
    pen.scale(resolution, resolution);
    return { pen, source: () => new CanvasSource({ resource: canvas, resolution, scaleMode: 'linear' }) };
  }

  #drawWords(text: string, cap: number, colour: ColourRole, quiet: boolean): Texture {
    const font = `${quiet ? QUIET_WEIGHT : WEIGHT} ${emOf(cap)}px "${FACE}"`;
    const measure = this.#sheet(1, 1).pen;
    measure.font = font;
    const above = accentRoom(cap);
    const height = above + cap * (1 + DESCENT / CAP_HEIGHT);
    const { pen, source } = this.#sheet(measure.measureText(text).width + 1, height);
    pen.font = font;
    pen.fillStyle = PALETTE[colour];
    pen.fillText(text, 0, above + cap);
    return new Texture({ source: source() });
  }

  #drawFigures(cap: number, colour: ColourRole): FigureSheet {
    const characters = [...FIGURE_CHARACTERS].filter((character) => character !== ' ');
    const em = emOf(cap);
    const measure = this.#sheet(1, 1).pen;
    measure.font = `${WEIGHT} ${em}px "${FACE}"`;
    // The slash is taller and deeper than the digits: cut to their height, it would end in the row of another.
    const { actualBoundingBoxAscent, actualBoundingBoxDescent } = measure.measureText(FIGURE_CHARACTERS);
    const above = MARGIN + Math.max(0, actualBoundingBoxAscent - cap);
    const cellHeight = Math.ceil(above + cap + Math.max(0, actualBoundingBoxDescent) + MARGIN);
    const cell = Math.ceil(cellWidth('0') * em) + MARGIN * 2;
    const widest = Math.floor(MOST_TEXTURE_PIXELS / this.#resolution / cell);
    const perRow = Math.max(1, Math.min(characters.length, widest));
    const { pen, source } = this.#sheet(perRow * cell, Math.ceil(characters.length / perRow) * cellHeight);
    pen.font = `${WEIGHT} ${em}px "${FACE}"`;
    pen.fillStyle = PALETTE[colour];
    pen.textAlign = 'center';
    const frames = characters.map((character, place) => {
      const frame = new Rectangle(
        (place % perRow) * cell + MARGIN,
        Math.floor(place / perRow) * cellHeight,
        0,
        cellHeight,
      );
      frame.width = cellWidth(character) * em;
      pen.fillText(character, frame.x + frame.width / 2, frame.y + above + cap);
      return { character, frame };
    });
    const shared = source();
    const glyphs = frames.map(({ character, frame }) => [character, new Texture({ source: shared, frame })] as const);
    return { glyphs: new Map(glyphs), above };
  }

  #drawRope(width: number, height: number): Texture[] {
    const bead = width / BEADS;
    const { pen, source } = this.#sheet(width, height * 2);
    for (let place = 0; place < BEADS; place += 1) {
      // Every fifth bead is larger: swimmers leave on fives.
      const size = { width: bead * 0.72, height: place % 5 === 0 ? height : height * 0.5 };
      const middle = (place + 0.5) * bead;
      drawBead(pen, middle, height / 2, size, PALETTE.paper);
      drawBead(pen, middle, height * 1.5, size, PALETTE.edge);
    }
    const shared = source();
    const cut = (beads: number, y: number): Texture =>
      new Texture({ source: shared, frame: new Rectangle(0, y, Math.max(1, beads * bead), height) });
    const lit = Array.from({ length: BEADS + 1 }, (_, beads) => cut(beads, 0));
    return [...lit, cut(BEADS, height)];
  }
}

function drawBead(
  pen: CanvasRenderingContext2D,
  x: number,
  y: number,
  { width, height }: { width: number; height: number },
  colour: string,
): void {
  const thick = Math.min(width, height);
  const [reachX, reachY] = [(width - thick) / 2, (height - thick) / 2];
  pen.strokeStyle = colour;
  pen.lineWidth = thick;
  pen.lineCap = 'round';
  pen.beginPath();
  pen.moveTo(x - reachX, y - reachY);
  pen.lineTo(x + reachX + 0.01, y + reachY);
  pen.stroke();
}

/** Accents on capitals stand above their top, sometimes two of them: so much, in the unit of `cap`. */
export const accentRoom = (cap: number): number => cap * 0.5;
