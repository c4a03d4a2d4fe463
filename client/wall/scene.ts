import { Container, Graphics, Sprite, type Texture } from 'pixi.js';
import type { LaneSwims } from '../../shared-types/board/board.ts';
import { PALETTE } from '../common/palette.ts';
import type { Box, Track, WallLayout } from './boxes.ts';
import { accentRoom } from './drawings.ts';
import { drawingOf, Pictures, wordsOf } from './pictures.ts';
import { Rail } from './rail.ts';
import { cellWidth, emOf } from './type-metrics.ts';

/** A thing on the stage that shows one box, whatever that box becomes. */
interface Node {
  readonly view: Container;
  show(box: Box): void;
}

/** Draws layouts: one node a box, made when first needed and kept; moving things are only moved. */
export class Scene {
  readonly stage = new Container();
  readonly #ground = new Container();
  readonly #writing = new Container();
  /** A group of its own: where only swimmers move, what else there is need not be sent to the GPU again. */
  readonly #water = new Container({ isRenderGroup: true });
  readonly #nodes = new Map<string, Node>();
  readonly #rails = new Map<number, Rail>();
  #pictures: Pictures;
  #tracks: readonly Track[] = [];

  constructor(resolution: number) {
    this.#pictures = new Pictures(resolution);
    this.stage.addChild(this.#ground, this.#writing, this.#water);
  }

  /** Forgets all pictures: sizes or the screen have changed. */
  renew(resolution: number): void {
    for (const { view } of this.#nodes.values()) view.destroy({ children: true });
    for (const rail of this.#rails.values()) rail.view.destroy({ children: true });
    this.#nodes.clear();
    this.#rails.clear();
    this.#pictures.destroy();
    this.#pictures = new Pictures(resolution);
  }

  show({ boxes, tracks }: WallLayout): void {
    this.#pictures.prepare(boxes);
    const shown = new Set<string>();
    for (const box of boxes) {
      const key = keyOf(box);
      shown.add(key);
      this.#nodeFor(key, box).show(box);
    }
    for (const [key, { view }] of this.#nodes) view.visible = shown.has(key);
    this.#tracks = tracks;
  }

  /** Puts the markers where the swimmers should be now. */
  move(lanes: readonly LaneSwims[]): void {
    const shown = new Set<number>();
    for (const swims of lanes) {
      const track = this.#tracks.find(({ lane }) => lane === swims.lane);
      if (!track || swims.markers.length === 0) continue;
      shown.add(swims.lane);
      this.#railOf(swims.lane).show(track, swims, this.#pictures);
    }
    // Set once: to hide and show again would have pixi sort its whole scene anew in every frame.
    for (const [lane, rail] of this.#rails) rail.view.visible = shown.has(lane);
  }

  #railOf(lane: number): Rail {
    const known = this.#rails.get(lane);
    if (known) return known;
    const made = new Rail();
    this.#rails.set(lane, made);
    this.#water.addChild(made.view);
    return made;
  }

  #nodeFor(key: string, box: Box): Node {
    const known = this.#nodes.get(key);
    if (known) return known;
    const node = this.#nodeOf(box);
    this.#nodes.set(key, node);
    (box.kind === 'panel' ? this.#ground : this.#writing).addChild(node.view);
    return node;
  }

  #nodeOf(box: Box): Node {
    const pictures = this.#pictures;
    switch (box.kind) {
      case 'panel':
        return panelNode();
      case 'rope':
        return ropeNode(pictures);
      case 'text':
        return box.set === 'figures' ? figuresNode(pictures) : wordsNode(pictures);
      default:
        return markNode(pictures);
    }
  }
}

/** A panel that changes colour is another panel, so that a band turns light without being drawn anew. */
const keyOf = (box: Box): string => (box.kind === 'panel' ? `${box.id} ${box.colour}` : box.id);

function panelNode(): Node {
  const view = new Graphics();
  let drawn = '';
  const show = (box: Box): void => {
    if (box.kind !== 'panel') return;
    const { x, y, width, height, radius, colour } = box;
    const outline = [x, y, width, height, radius].map(Math.round).join(' ');
    if (outline === drawn) return;
    drawn = outline;
    view.clear().roundRect(x, y, width, height, radius).fill(PALETTE[colour]);
  };
  return { view, show };
}

function markNode(pictures: Pictures): Node {
  const view = new Sprite();
  const show = (box: Box): void => {
    if (box.kind !== 'mark' && box.kind !== 'flag') return;
    view.texture = pictures.mark(drawingOf(box), box.width, box.colour);
    view.position.set(Math.round(box.x), Math.round(box.y));
  };
  return { view, show };
}

function ropeNode(pictures: Pictures): Node {
  const unlit = new Sprite();
  const lit = new Sprite();
  const view = new Container();
  view.addChild(unlit, lit);
  const show = (box: Box): void => {
    if (box.kind !== 'rope') return;
    const beads = pictures.rope(box.width, box.height);
    const [whole, first] = [beads[beads.length - 1], beads[box.lit]];
    if (whole) unlit.texture = whole;
    if (first) lit.texture = first;
    view.position.set(box.x, box.y);
  };
  return { view, show };
}

function wordsNode(pictures: Pictures): Node {
  const view = new Sprite();
  const show = (box: Box): void => {
    if (box.kind !== 'text') return;
    const texture = pictures.words(wordsOf(box));
    view.texture = texture;
    // Measured widths may differ a little from the layout's table: never wider than the box.
    const scale = Math.min(1, box.width / Math.max(1, texture.width));
    view.scale.set(scale);
    const slack = box.width - texture.width * scale;
    const shift = { left: 0, centre: slack / 2, right: slack }[box.align];
    view.position.set(Math.round(box.x + shift), Math.round(box.y - accentRoom(box.cap) * scale));
  };
  return { view, show };
}

/** Digits are sprites in fixed cells that swap their glyphs. */
function figuresNode(pictures: Pictures): Node {
  const view = new Container();
  const cells: Sprite[] = [];
  const cell = (place: number): Sprite => {
    const known = cells[place];
    if (known) return known;
    const made = new Sprite();
    cells.push(made);
    view.addChild(made);
    return made;
  };
  const put = (sprite: Sprite, texture: Texture | undefined, x: number): void => {
    sprite.visible = texture !== undefined;
    if (!texture) return;
    sprite.texture = texture;
    sprite.x = x;
  };
  const show = (box: Box): void => {
    if (box.kind !== 'text') return;
    const { glyphs, above } = pictures.figures(box.cap, box.colour);
    const em = emOf(box.cap);
    let x = 0;
    let place = 0;
    for (const character of box.text) {
      put(cell(place), glyphs.get(character), x);
      x += cellWidth(character) * em;
      place += 1;
    }
    for (const spare of cells.slice(place)) spare.visible = false;
    view.position.set(Math.round(box.x), Math.round(box.y - above));
  };
  return { view, show };
}
