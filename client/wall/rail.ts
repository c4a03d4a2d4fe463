import { Container, Graphics, Sprite, type Texture } from 'pixi.js';
import type { LaneSwims } from '../../shared-types/board/board.ts';
import type { Marker } from '../../shared-types/board/markers.ts';
import { PALETTE } from '../common/palette.ts';
import type { Track } from './boxes.ts';
import type { Pictures } from './pictures.ts';

/** Those behind the lane's first swimmer are drawn smaller. */
const FOLLOWER_SHARE = 0.68;

/** What a swimmer looks like on a track. */
interface Look {
  readonly size: number;
  readonly drawing: Texture;
}

/** A lane's water, wall to wall, and its swimmers: discs at pace, rings when swimming easily. */
export class Rail {
  readonly view = new Container();
  readonly #line = new Graphics();
  readonly #markers: Sprite[] = [];
  #drawnFor = '';
  #track: Track | null = null;
  /** Of its track, which is another one in every new layout; so no drawing is used for longer than it is kept. */
  readonly #looks: (Look | undefined)[] = [];

  constructor() {
    this.view.addChild(this.#line);
  }

  show(track: Track, { markers, changes }: LaneSwims, pictures: Pictures): void {
    if (track !== this.#track) {
      this.#track = track;
      this.#looks.length = 0;
      this.#drawLine(track, changes);
    }
    markers.forEach((marker, place) => {
      const sprite = this.#marker(place);
      const { size, drawing } = this.#look(track, marker, pictures);
      sprite.visible = true;
      sprite.texture = drawing;
      sprite.position.set(track.x + marker.along * (track.width - size), track.y + (track.height - size) / 2);
    });
    for (const spare of this.#markers.slice(markers.length)) spare.visible = false;
  }

  #look(track: Track, { order, paced }: Marker, pictures: Pictures): Look {
    const place = (order === 1 ? 0 : 2) + (paced ? 0 : 1);
    const known = this.#looks[place];
    if (known) return known;
    const size = track.height * (order === 1 ? 1 : FOLLOWER_SHARE);
    const look = { size, drawing: pictures.mark(paced ? 'paced' : 'unpaced', size, paced ? 'swim' : 'easy') };
    this.#looks[place] = look;
    return look;
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
