import type { ReadonlySignal } from '@preact/signals-core';
import { type Board, type BoardScreen, boardAt, idleBoard, swimsAt } from '../../shared-types/board/board.ts';
import { type Instant, instant } from '../../shared-types/brand.ts';
import type { ClockFace } from '../../shared-types/time.ts';
import type { Link, LivePractice } from '../common/live.ts';
import type { WallLayout } from './boxes.ts';
import { pictureKey, steadyFor, unchangedFor } from './changes.ts';
import type { Drawing } from './drawing.ts';
import { FrameLoop } from './frame-loop.ts';
import { DRIFT_PIXELS, layOut, layOutIdentity } from './lay-out.ts';
import { type Screen, shortfallSentence } from './legibility.ts';
import type { Mirror } from './mirror.ts';
import { lanesSeen, wallName } from './set-up.ts';

/** What a wall has to know of the server. */
export type Followed = Pick<Link, 'clock' | 'state' | 'refusal' | 'practice' | 'settings' | 'wall' | 'identify'>;

/** A board on which until then nothing changes but where its swimmers are. */
interface Steady {
  readonly board: Board;
  readonly practice: LivePractice;
  readonly screen: BoardScreen;
  readonly until: Instant;
}

const DRIFT_STEPS: readonly (readonly [number, number])[] = [
  [0, 0],
  [1, 0],
  [1, 1],
  [0, 1],
  [-1, 1],
  [-1, 0],
  [-1, -1],
  [0, -1],
  [1, -1],
];
const MINUTE_MS = 60_000;

/** What the wall says of its connection; empty when all is well. */
function noticeOf(link: Followed): string {
  switch (link.state.value) {
    case 'live':
      return '';
    case 'alone':
      return 'no connection: going on alone';
    case 'refused':
      return link.refusal.value ?? 'the server does not answer this page';
    default:
      return 'connecting to the server';
  }
}

/** One wall: asks the board what to show at each frame's instant, draws it and writes it into the mirror. */
export class Wall {
  readonly #link: Followed;
  readonly #mirror: Mirror;
  readonly #drawing: Drawing | null;
  readonly #soundNotice: ReadonlySignal<string>;
  readonly #loop: FrameLoop;
  #readableToM: number | null = null;
  #screen: Screen;
  /** Until when the wall says which one it is, ms as performance.now(). */
  #identifiedUntil = Number.NEGATIVE_INFINITY;
  /** What the last picture showed, and whether something moved on it. */
  #shown = '';
  #moved = false;
  #steady: Steady | null = null;
  #forced = true;
  #canDraw = true;

  /** @param soundNotice what there is to say about the sound; said when there is nothing to say about the connection */
  constructor(
    link: Followed,
    mirror: Mirror,
    drawing: Drawing | null,
    screen: Screen,
    soundNotice: ReadonlySignal<string>,
  ) {
    this.#link = link;
    this.#mirror = mirror;
    this.#drawing = drawing;
    this.#screen = screen;
    this.#soundNotice = soundNotice;
    this.#loop = new FrameLoop((frameMs) => this.#frame(frameMs));
    for (const changing of [link.state, link.refusal, link.practice, link.settings, soundNotice]) {
      changing.subscribe(() => this.redraw());
    }
    link.identify.subscribe((identify) => {
      if (identify) this.#identifiedUntil = performance.now() + identify.forMs;
      this.redraw();
    });
  }

  get screen(): Screen {
    return this.#screen;
  }

  /** From how far what is shown can be read, metres, cut to tenths; null before anything has been drawn. */
  get readableToM(): number | null {
    return this.#readableToM;
  }

  /** It has been set up otherwise: perhaps it is looked at from elsewhere, or shows other lanes. */
  seenAs(screen: Screen): void {
    this.#screen = screen;
    this.redraw();
  }

  /** The page has another size now. */
  resize(screen: Screen, resolution: number): void {
    this.#screen = screen;
    if (this.#drawing) {
      this.#drawing.app.renderer.resize(screen.width, screen.height, resolution);
      this.#drawing.scene.renew(resolution);
    }
    this.redraw();
  }

  /** Whether there is anything to draw on just now; the words go on either way. */
  canDraw(canDraw: boolean): void {
    this.#canDraw = canDraw;
    this.redraw();
  }

  /** Draws whatever there is, changed or not. */
  redraw(): void {
    this.#forced = true;
    this.#loop.wake();
  }

  #frame(frameMs: number): number {
    const at = this.#link.clock.shownAt(frameMs);
    if (!this.#forced && this.#steady && at >= this.#steady.board.at && at < this.#steady.until) {
      return this.#onlyMove(this.#steady, at, frameMs);
    }
    const board = this.#boardAt(at);
    const notice = noticeOf(this.#link) || this.#soundNotice.value;
    const identifies = frameMs < this.#identifiedUntil;
    const key = `${identifies} ${notice} ${pictureKey(board)}`;
    const changed = this.#forced || key !== this.#shown;
    this.#draw(board, notice, identifies, changed);
    this.#mirror.stamp(at, frameMs, this.#boundOf(at, frameMs));
    if (changed) this.#mirror.show(board, this.#link.state.value, notice);
    if (changed) this.#mirror.name(this.#link.wall.value, identifies);
    this.#shown = key;
    this.#forced = false;
    this.#steady = this.#moved ? this.#steadyFrom(board) : null;
    return unchangedFor(board);
  }

  /** Sixty times a second swimmers move and, but once or twice, nothing else does. */
  #steadyFrom(board: Board): Steady | null {
    const practice = this.#link.practice.value;
    if (!practice) return null;
    const forMs = steadyFor(board, (ms) => this.#boardAt(instant(board.at + ms)));
    const screen = this.#screenOf(practice);
    return forMs > 0 ? { board, practice, screen, until: instant(board.at + forMs) } : null;
  }

  #onlyMove({ board, practice, screen }: Steady, at: Instant, frameMs: number): number {
    if (this.#drawing && this.#canDraw) {
      const { app, scene } = this.#drawing;
      scene.move(swimsAt(board.lanes, practice.sheet, practice.run, at, screen));
      app.renderer.render(app.stage);
    }
    this.#mirror.stamp(at, frameMs, this.#boundOf(at, frameMs));
    return 0;
  }

  /** Bound of the error of a shown instant, ms: it may still be moving towards what the clock says by now. */
  #boundOf(shown: Instant, frameMs: number): number | null {
    const { clock } = this.#link;
    const boundMs = clock.boundMs();
    return boundMs === null ? null : boundMs + Math.abs(shown - clock.at(frameMs));
  }

  #boardAt(at: Instant): Board {
    const practice = this.#link.practice.value;
    if (!practice) return idleBoard(at, this.#face);
    return boardAt(practice.sheet, practice.run, at, this.#screenOf(practice));
  }

  get #face(): ClockFace {
    const { timezone, trimMs } = this.#link.settings.value;
    return { timezone, trimMs };
  }

  #screenOf({ sheet, labels }: LivePractice): BoardScreen {
    return { labels, face: this.#face, ...lanesSeen(sheet, this.#link.wall.value) };
  }

  #draw(board: Board, notice: string, identifies: boolean, changed: boolean): void {
    const moves = !identifies && board.lanes.some(({ markers }) => markers.length > 0);
    if (!this.#drawing || !this.#canDraw || (!changed && !moves && !this.#moved)) return;
    const { app, scene } = this.#drawing;
    if (changed) {
      const layout = this.#layOut(board, notice, identifies);
      scene.show(layout);
      this.#mirror.readable(layout.readableToM, shortfallSentence(layout.readableToM, this.#screen));
      const [x, y] = DRIFT_STEPS[Math.floor(board.at / MINUTE_MS) % DRIFT_STEPS.length] ?? [0, 0];
      scene.stage.position.set(x * DRIFT_PIXELS, y * DRIFT_PIXELS);
    }
    scene.move(board.lanes);
    this.#moved = moves;
    app.renderer.render(app.stage);
  }

  #layOut(board: Board, notice: string, identifies: boolean): WallLayout {
    const wall = this.#link.wall.value;
    if (identifies && wall) return layOutIdentity(board, this.#screen, wall);
    const layout = layOut(board, this.#screen, notice, wallName(wall));
    if (Number.isFinite(layout.readableToM)) this.#readableToM = Math.floor(layout.readableToM * 10) / 10;
    return layout;
  }
}
