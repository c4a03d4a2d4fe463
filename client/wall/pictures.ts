import { CanvasSource, Rectangle, Texture, type TextureSource } from 'pixi.js';
import type { ColourRole } from '../common/palette.ts';
import type { Box, FlagBox, MarkBox, TextBox } from './boxes.ts';
import {
  type Cut,
  type FigureSheet,
  figuresPicture,
  MARGIN,
  markPicture,
  type Pen,
  type Picture,
  ropePicture,
  type Words,
  wordsPicture,
} from './drawings.ts';
import { isFar } from './legibility.ts';
import type { DrawingName } from './marks.ts';
import { type Canvas, pack } from './packing.ts';
import { Shelf } from './shelf.ts';

/** Textures wider than this are not sure to work everywhere, device pixels. */
const MOST_TEXTURE_PIXELS = 4096;
/** How many are kept: far more than one picture shows. */
const MOST_WORDS = 300;
const MOST_MARKS = 200;
const MOST_FIGURES = 40;
const MOST_ROPES = 4;
/** Of so many that are new in one layout it is worth drawing them together. */
const MANY = 12;
/** So many canvases are shared at most. One lives as long as anything on it: then all is drawn anew. */
const MOST_SHARED = 3;

/** The words of a box: what is only for those who come near is lighter. */
export const wordsOf = ({ text, cap, colour, role }: TextBox): Words => ({ text, cap, colour, quiet: !isFar(role) });

/** The drawing of a box. */
export const drawingOf = (box: FlagBox | MarkBox): DrawingName => (box.kind === 'flag' ? 'flag' : box.mark);

/** How many textures are cut from each source. */
const cuts = new WeakMap<TextureSource, number>();

/** The last texture of a source takes that with it. */
function dropTexture(texture: Texture): void {
  const { source } = texture;
  const left = (cuts.get(source) ?? 1) - 1;
  cuts.set(source, left);
  texture.destroy();
  if (left === 0) source.destroy();
}

function dropAll(textures: Iterable<Texture>): void {
  for (const texture of textures) dropTexture(texture);
}

function newPen(width: number, height: number): Pen {
  const canvas = document.createElement('canvas');
  canvas.width = width;
  canvas.height = height;
  const pen = canvas.getContext('2d');
  if (!pen) throw new Error('this browser draws no canvas');
  return pen;
}

/** So much of a canvas is a picture's own. */
const slotOf = (length: number): number => Math.ceil(length) + MARGIN;

/** Pictures that are not on their shelves yet, each once. */
type Missing = Map<string, MissingPicture>;
interface MissingPicture extends Pick<Picture<unknown>, 'width' | 'height' | 'draw'> {
  keep(cut: Cut): void;
}

/** A picture with its place on a shelf. */
interface Kept<T> {
  readonly kind: string;
  readonly shelf: Shelf<T>;
  readonly key: string;
  newPicture(): Picture<T>;
}

function miss<T>(missing: Missing, { kind, shelf, key, newPicture }: Kept<T>): void {
  const name = `${kind} ${key}`;
  if (shelf.has(key) || missing.has(name)) return;
  const { width, height, draw, cutFrom } = newPicture();
  missing.set(name, { width, height, draw, keep: (cut) => void shelf.get(key, () => cutFrom(cut)) });
}

/**
 * Everything the scene shows, drawn once with the browser's own pen and kept as textures: digits in one atlas for each
 * size and colour, words, marks, ropes. Where a layout shows many for the first time they are drawn on one canvas: a
 * canvas for each name takes a browser longer than all the writing.
 */
export class Pictures {
  readonly #resolution: number;
  readonly #measure = newPen(1, 1);
  #shared = 0;
  readonly #words = new Shelf<Texture>(MOST_WORDS, dropTexture);
  readonly #marks = new Shelf<Texture>(MOST_MARKS, dropTexture);
  readonly #figures = new Shelf<FigureSheet>(MOST_FIGURES, ({ glyphs }) => dropAll(glyphs.values()));
  readonly #ropes = new Shelf<readonly Texture[]>(MOST_ROPES, dropAll);

  /** @param resolution device pixels per CSS pixel */
  constructor(resolution: number) {
    this.#resolution = resolution;
  }

  /** Draws what these boxes show and what is not there yet, where that is much. */
  prepare(boxes: readonly Box[]): void {
    const missing = this.#missing(boxes);
    if (missing.size < MANY) return;
    const isFull = this.#shared === MOST_SHARED;
    if (isFull) this.destroy();
    this.#shared += 1;
    this.#draw(isFull ? this.#missing(boxes) : missing);
  }

  figures(cap: number, colour: ColourRole): FigureSheet {
    return this.#get(this.#keptFigures(cap, colour));
  }

  words(words: Words): Texture {
    return this.#get(this.#keptWords(words));
  }

  mark(name: DrawingName, size: number, colour: ColourRole): Texture {
    return this.#get(this.#keptMark(name, size, colour));
  }

  rope(width: number, height: number): readonly Texture[] {
    return this.#get(this.#keptRope(width, height));
  }

  destroy(): void {
    for (const shelf of [this.#words, this.#marks, this.#figures, this.#ropes]) shelf.clear();
    this.#shared = 0;
  }

  #keptFigures(cap: number, colour: ColourRole): Kept<FigureSheet> {
    const most = MOST_TEXTURE_PIXELS / this.#resolution;
    const newPicture = (): Picture<FigureSheet> => figuresPicture(this.#measure, cap, colour, most);
    return { kind: 'figures', shelf: this.#figures, key: `${cap} ${colour}`, newPicture };
  }

  #keptWords(words: Words): Kept<Texture> {
    const { text, cap, colour, quiet } = words;
    const newPicture = (): Picture<Texture> => wordsPicture(this.#measure, words);
    return { kind: 'words', shelf: this.#words, key: `${cap} ${colour} ${quiet} ${text}`, newPicture };
  }

  #keptMark(name: DrawingName, size: number, colour: ColourRole): Kept<Texture> {
    const newPicture = (): Picture<Texture> => markPicture(name, size, colour);
    return { kind: 'mark', shelf: this.#marks, key: `${name} ${size} ${colour}`, newPicture };
  }

  #keptRope(width: number, height: number): Kept<readonly Texture[]> {
    const newPicture = (): Picture<readonly Texture[]> => ropePicture(width, height);
    return { kind: 'rope', shelf: this.#ropes, key: `${width} ${height}`, newPicture };
  }

  #missing(boxes: readonly Box[]): Missing {
    const missing: Missing = new Map();
    for (const box of boxes) {
      if (box.kind === 'rope') miss(missing, this.#keptRope(box.width, box.height));
      else if (box.kind === 'text') {
        if (box.set === 'figures') miss(missing, this.#keptFigures(box.cap, box.colour));
        else miss(missing, this.#keptWords(wordsOf(box)));
      } else if (box.kind !== 'panel') miss(missing, this.#keptMark(drawingOf(box), box.width, box.colour));
    }
    return missing;
  }

  #get<T>(kept: Kept<T>): T {
    const missing: Missing = new Map();
    miss(missing, kept);
    this.#draw(missing);
    return kept.shelf.get(kept.key, () => {
      throw new Error(`${kept.kind} ${kept.key} has not been drawn`);
    });
  }

  #draw(missing: Missing): void {
    const pictures = [...missing.values()];
    const sizes = pictures.map(({ width, height }) => ({ width: slotOf(width), height: slotOf(height) }));
    for (const canvas of pack(sizes, MOST_TEXTURE_PIXELS / this.#resolution)) this.#drawOn(canvas, pictures);
  }

  #drawOn({ width, height, spots }: Canvas, pictures: readonly MissingPicture[]): void {
    const resolution = this.#resolution;
    const pen = newPen(Math.max(1, Math.ceil(width * resolution)), Math.max(1, Math.ceil(height * resolution)));
    const source = new CanvasSource({ resource: pen.canvas, resolution, scaleMode: 'linear' });
    for (const [index, { x, y }] of spots) {
      const picture = pictures[index];
      if (!picture) continue;
      pen.save();
      pen.setTransform(resolution, 0, 0, resolution, x * resolution, y * resolution);
      // Marks may reach farther than any room for them: not into the picture beside this one.
      pen.beginPath();
      pen.rect(0, 0, slotOf(picture.width), slotOf(picture.height));
      pen.clip();
      picture.draw(pen);
      pen.restore();
      picture.keep((part = { x: 0, y: 0, width: this.#whole(picture.width), height: this.#whole(picture.height) }) => {
        cuts.set(source, (cuts.get(source) ?? 0) + 1);
        return new Texture({ source, frame: new Rectangle(x + part.x, y + part.y, part.width, part.height) });
      });
    }
  }

  /** A length that ends with a device pixel. */
  #whole(length: number): number {
    return Math.ceil(length * this.#resolution) / this.#resolution;
  }
}
