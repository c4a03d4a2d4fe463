import { PALETTE } from '../../../client/common/palette.ts';
import type { Box, TextBox, Track, WallLayout } from '../../../client/wall/boxes.ts';
import { CAP_HEIGHT, emOf } from '../../../client/wall/type-metrics.ts';
import type { LaneSwims } from '../../../shared-types/board/board.ts';

/** What an element was last given, so that nothing is written twice. */
class Drawn {
  readonly element = document.createElement('div');
  readonly #written = new Map<string, string>();

  constructor() {
    this.element.style.position = 'absolute';
    this.element.style.whiteSpace = 'pre';
    this.element.style.transformOrigin = 'left top';
  }

  style(name: string, value: string): void {
    if (this.#written.get(name) === value) return;
    this.#written.set(name, value);
    this.element.style.setProperty(name, value);
  }

  text(value: string): void {
    if (this.element.textContent !== value) this.element.textContent = value;
  }

  at(x: number, y: number): void {
    this.style('transform', `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`);
  }

  size(width: number, height: number): void {
    this.style('width', `${width.toFixed(1)}px`);
    this.style('height', `${height.toFixed(1)}px`);
  }
}

/** Of an em, from the top of a line as high as the em down to the top of its capitals; near enough. */
const ABOVE_CAPITALS = (1 - CAP_HEIGHT) / 2;

function showText(drawn: Drawn, box: TextBox): void {
  drawn.text(box.text);
  drawn.style('font', `600 ${emOf(box.cap).toFixed(1)}px/1 "Atkinson Hyperlegible Next Variable"`);
  drawn.style('font-variant-numeric', 'tabular-nums');
  drawn.style('text-align', box.align === 'centre' ? 'center' : box.align);
  drawn.style('color', PALETTE[box.colour]);
  drawn.style('width', `${Math.ceil(box.width)}px`);
  drawn.at(box.x, box.y - ABOVE_CAPITALS * emOf(box.cap));
}

/** Drawings are plain blobs here: elements get the easier task. */
function showShape(drawn: Drawn, box: Exclude<Box, TextBox>): void {
  drawn.style('background', box.kind === 'rope' ? PALETTE.paper : PALETTE[box.colour]);
  drawn.style('border-radius', box.kind === 'panel' ? `${box.radius}px` : '50%');
  drawn.size(box.kind === 'rope' ? (box.width * box.lit) / 60 : box.width, box.height);
  drawn.at(box.x, box.y);
}

/** One element a box, kept and written to only where something changes. */
export class DomScene {
  readonly element = document.createElement('div');
  readonly #boxes = new Map<string, Drawn>();
  readonly #markers = new Map<string, Drawn>();
  #tracks: readonly Track[] = [];

  show({ boxes, tracks }: WallLayout): void {
    const shown = new Set(boxes.map(({ id }) => id));
    for (const box of boxes) {
      const drawn = this.#in(this.#boxes, box.id);
      if (box.kind === 'text') showText(drawn, box);
      else showShape(drawn, box);
    }
    hideOthers(this.#boxes, shown);
    this.#tracks = tracks;
  }

  move(lanes: readonly LaneSwims[]): void {
    const shown = new Set<string>();
    for (const track of this.#tracks) {
      const markers = lanes.find(({ lane }) => lane === track.lane)?.markers ?? [];
      for (const [place, { order, along, paced }] of markers.entries()) {
        const id = `${track.lane} ${place}`;
        const size = track.height * (order === 1 ? 1 : 0.68);
        const drawn = this.#in(this.#markers, id);
        shown.add(id);
        drawn.style('background', paced ? PALETTE.swim : PALETTE.easy);
        drawn.style('border-radius', '50%');
        drawn.size(size, size);
        drawn.at(track.x + along * (track.width - size), track.y + (track.height - size) / 2);
      }
    }
    hideOthers(this.#markers, shown);
  }

  #in(all: Map<string, Drawn>, id: string): Drawn {
    const known = all.get(id);
    if (known) return known;
    const made = new Drawn();
    all.set(id, made);
    this.element.append(made.element);
    return made;
  }
}

function hideOthers(all: ReadonlyMap<string, Drawn>, shown: ReadonlySet<string>): void {
  for (const [id, drawn] of all) drawn.style('visibility', shown.has(id) ? 'visible' : 'hidden');
}
