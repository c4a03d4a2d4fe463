import { Container, Graphics, Sprite } from 'pixi.js';
import type { LaneBoard } from '../../shared-types/board/lane.ts';
import { PALETTE } from '../common/palette.ts';
import type { Track } from './boxes.ts';
import type { Pictures } from './pictures.ts';

/** Those behind the lane's first swimmer are drawn smaller. */
const FOLLOWER_SHARE = 0.68;

/** What is on a lane's water. */
export type Swims = Pick<LaneBoard, 'markers' | 'changes'>;

/** A lane's water, wall to wall, and its swimmers: discs at pace, rings when swimming easily. */
export class Rail {
  readonly view = new Container();
  readonly #line = new Graphics();
  readonly #markers: Sprite[] = [];
  #drawnFor = '';

  constructor() {
    this.view.addChild(this.#line);
  }

  show(track: Track, { markers, changes }: Swims, pictures: Pictures): void {
    this.#drawLine(track, changes);
    markers.forEach((marker, place) => {
      const sprite = this.#marker(place);
      const size = track.height * (marker.order === 1 ? 1 : FOLLOWER_SHARE);
      const drawing = pictures.mark(marker.paced ? 'paced' : 'unpaced', size, marker.paced ? 'swim' : 'easy');
      sprite.visible = true;
      sprite.texture = drawing;
      sprite.position.set(track.x + marker.along * (track.width - size), track.y + (track.height - size) / 2);
    });
    for (const spare of this.#markers.slice(markers.length)) spare.visible = false;
  }

  #drawLine({ x, y, width, height }: Track, changes: readonly number[]): void {
    const key = [x, y, width, height, ...changes.map((along) => along * width)].map(Math.round).join(' ');
    if (key === this.#drawnFor) return;
    this.#drawnFor = key;
    const thin = Math.max(2, height * 0.1);
    this.#line
      .clear()
      .roundRect(x, y + (height - thin) / 2, width, thin, thin / 2)
      .fill(PALETTE.edge);
    // Where a swimmer's middle is when the part ends.
    for (const along of changes) {
      const middle = x + height / 2 + along * (width - height);
      this.#line.roundRect(middle - thin, y + height * 0.1, thin * 2, height * 0.8, thin).fill(PALETTE.easy);
    }
  }

  #marker(place: number): Sprite {
    const known = this.#markers[place];
    if (known) return known;
    const made = new Sprite();
    this.#markers.push(made);
    this.view.addChild(made);
    return made;
  }
}
