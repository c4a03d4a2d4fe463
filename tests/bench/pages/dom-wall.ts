import { openLink } from '../../../client/common/link.ts';
import type { Link } from '../../../client/common/live.ts';
import { pictureKey, unchangedFor } from '../../../client/wall/changes.ts';
import { FrameLoop } from '../../../client/wall/frame-loop.ts';
import { layOut } from '../../../client/wall/lay-out.ts';
import { Mirror } from '../../../client/wall/mirror.ts';

import { type Board, boardAt, idleBoard } from '../../../shared-types/board/board.ts';
import { DomScene } from './dom-scene.ts';

/** A wall of plain elements, to compare with: the same board, layout, mirror and frames, another way of drawing. */
class DomWall {
  readonly #link: Link;
  readonly #mirror: Mirror;
  readonly #scene: DomScene;
  #shown = '';
  #moved = false;

  constructor(link: Link, mirror: Mirror, scene: DomScene) {
    this.#link = link;
    this.#mirror = mirror;
    this.#scene = scene;
    const loop = new FrameLoop((frameMs) => this.#frame(frameMs));
    for (const changing of [link.state, link.practice, link.settings]) changing.subscribe(() => loop.wake());
  }

  #frame(frameMs: number): number {
    const board = this.#boardAt(frameMs);
    const key = `${this.#link.state.value} ${pictureKey(board)}`;
    const changed = key !== this.#shown;
    this.#draw(board, changed);
    this.#mirror.stamp(board.at, frameMs, this.#link.clock.boundMs());
    if (changed) this.#mirror.show(board, this.#link.state.value, '');
    this.#shown = key;
    return unchangedFor(board);
  }

  #boardAt(frameMs: number): Board {
    const { practice, settings, clock } = this.#link;
    const face = { timezone: settings.value.timezone, trimMs: settings.value.trimMs };
    const at = clock.shownAt(frameMs);
    if (!practice.value) return idleBoard(at, face);
    const { sheet, run, labels } = practice.value;
    return boardAt(sheet, run, at, { labels, face });
  }

  #draw(board: Board, changed: boolean): void {
    const moves = board.lanes.some(({ markers }) => markers.length > 0);
    if (!changed && !moves && !this.#moved) return;
    if (changed) this.#scene.show(layOut(board, { width: window.innerWidth, height: window.innerHeight }));
    this.#scene.move(board.lanes);
    this.#moved = moves;
    window.dispatchEvent(new Event('drawn'));
  }
}

const page = document.getElementById('page');
if (page) {
  const mirror = new Mirror();
  const scene = new DomScene();
  mirror.element.dataset.renderer = 'elements';
  page.append(scene.element, mirror.element);
  new DomWall(openLink({ role: 'wall' }), mirror, scene);
}
