import type { Board } from '../../shared-types/board/board.ts';
import type { LaneBoard } from '../../shared-types/board/lane.ts';
import type { Instant } from '../../shared-types/brand.ts';
import { isolated } from '../../shared-types/isolated.ts';
import type { WallSetUp } from '../../shared-types/wire/walls.ts';
import { drawnOf } from './drawn-text.ts';
import { fitType, isWhole, writeInParts } from './large-words.ts';
import { wallName } from './set-up.ts';
import {
  clockText,
  countdownText,
  holdOf,
  laneLeftAt,
  PHASE_WORDS,
  repText,
  roundText,
  runningText,
  setDetail,
  setLine,
  stateSentence,
  stateText,
} from './words.ts';

/** The type is never larger than for so many lines. */
const LEAST_LINES = 12;

/** The board in words, hidden from sight: for screen readers, for tests, and for browsers that cannot draw. */
export class Mirror {
  readonly element = document.createElement('section');
  readonly #seconds = document.createElement('p');
  readonly #name = document.createElement('p');
  readonly #headline = document.createElement('p');
  readonly #reach = document.createElement('p');
  readonly #lanes = document.createElement('ol');
  readonly #spoken = document.createElement('p');
  readonly #items = new Map<number, HTMLElement>();
  #step = '';
  #isLarge = false;
  /** What the size of the type was last chosen for. */
  #fittedFor = '';
  #sync: string | null = null;

  constructor() {
    this.element.dataset.board = '';
    this.element.className = 'mirror';
    this.element.setAttribute('aria-label', 'The board in words');
    this.#spoken.setAttribute('aria-live', 'polite');
    this.#spoken.className = 'spoken';
    this.#seconds.className = 'seconds';
    this.#name.className = 'name';
    this.element.append(this.#seconds, this.#name, this.#headline, this.#reach, this.#lanes, this.#spoken);
  }

  /** Whether the words are all that is seen of the board, and fill the screen; from the next `show` on. */
  enlarge(isLarge: boolean): void {
    this.#isLarge = isLarge;
    this.#fittedFor = '';
    this.element.classList.toggle('large', isLarge);
    this.#lanes.replaceChildren();
    this.#items.clear();
  }

  /**
   * Which instant a frame shows, in every frame.
   * @param drawnAt the frame's time, ms as performance.now()
   * @param syncMs bound of the error of the instant it shows; null before the first estimate
   */
  stamp(at: Instant, drawnAt: number, syncMs: number | null): void {
    // Plainly written, without a look at what is there: this is done sixty times a second.
    this.element.setAttribute('data-pool-at', at.toFixed(3));
    this.element.setAttribute('data-drawn-at', drawnAt.toFixed(3));
    const sync = syncMs === null ? '' : syncMs.toFixed(1);
    if (sync !== this.#sync) this.element.setAttribute('data-sync-ms', sync);
    this.#sync = sync;
  }

  /** The whole board, in frames that show something else than the one before. */
  show(board: Board, link: string, notice: string): void {
    write(this.element, { phase: board.phase, clock: String(Math.floor(board.pastMinuteMs / 1000)), link });
    say(this.#seconds, clockText(board.pastMinuteMs));
    say(this.#headline, [headline(board), notice].filter(Boolean).join('. '));
    for (const [place, lane] of board.lanes.entries()) this.#showLane(lane, place, board.at);
    for (const [number, item] of this.#items) {
      if (board.lanes.some(({ lane }) => lane === number)) continue;
      item.remove();
      this.#items.delete(number);
    }
    this.#speak(board);
    if (this.#isLarge) this.#fit();
  }

  /** As large as it goes; within a step, in which only figures change, no larger than at its beginning. */
  #fit(): void {
    const { innerWidth: width, innerHeight: height } = window;
    const now = `${width} ${height} ${this.#step}`;
    if (now === this.#fittedFor && isWhole(this.element)) return;
    this.#fittedFor = now;
    fitType(this.element, Math.min(width, height) / LEAST_LINES);
  }

  /** Which wall this is, and whether it says so. */
  name(wall: WallSetUp | null, identifies: boolean): void {
    const { number = '', settings = null } = wall ?? {};
    write(this.element, { wall: String(number), name: settings?.name ?? '', identifies: String(identifies) });
    say(this.#name, identifies ? `This is ${wallName(wall)}.` : '');
  }

  /**
   * How far the picture can be read, for who sets the screen up.
   * @param toM metres
   * @param shortfall what is wrong with that and its cures; empty where it is far enough
   */
  readable(toM: number, shortfall: string): void {
    write(this.element, { readableToM: toM.toFixed(1) });
    say(this.#reach, shortfall);
  }

  /** @param place its place from the top */
  #showLane(lane: LaneBoard, place: number, at: Instant): void {
    const item = this.#items.get(lane.lane) ?? this.#newItem(lane.lane);
    const there = this.#lanes.children[place];
    if (there !== item) this.#lanes.insertBefore(item, there ?? null);
    const { rep } = lane;
    write(item, {
      phase: lane.phase,
      round: rep?.round === undefined ? '' : String(rep.round),
      rep: rep ? String(rep.rep) : '',
      reps: rep ? String(rep.reps) : '',
      nextAt: lane.nextAt === null ? '' : String(Math.round(lane.nextAt)),
    });
    const text = laneText(lane, at);
    if (this.#isLarge) writeLarge(item, drawnOf(text));
    else say(item, text);
  }

  #newItem(lane: number): HTMLElement {
    const item = document.createElement('li');
    item.dataset.lane = String(lane);
    this.#items.set(lane, item);
    return item;
  }

  /** Said aloud only when the practice comes to another step. */
  #speak(board: Board): void {
    const step = [board.phase, ...board.lanes.map(({ rep }) => rep?.id ?? '')].join(' ');
    if (step === this.#step) return;
    this.#step = step;
    say(this.#spoken, headline(board));
  }
}

function write(element: HTMLElement, values: Readonly<Record<string, string>>): void {
  for (const [name, value] of Object.entries(values)) {
    if (element.dataset[name] !== value) element.dataset[name] = value;
  }
}

function say(element: HTMLElement, text: string): void {
  if (element.textContent !== text) element.textContent = text;
}

function writeLarge(element: HTMLElement, text: string): void {
  if (element.textContent !== text) writeInParts(element, text);
}

function headline(board: Board): string {
  const sets = board.sets.map((one) => [setLine(one), setDetail(one)].filter(Boolean).join(', '));
  return [board.timeOfDay, stateText(board), stateSentence(board), ...sets].filter(Boolean).join('. ');
}

function laneText(lane: LaneBoard, at: Instant): string {
  const leftAt = laneLeftAt(lane);
  const wait = lane.countdownMs === null ? '' : `next in ${countdownText(lane.countdownMs)}`;
  const holds = lane.swimmers.map((swimmer) => {
    const hold = holdOf(swimmer, at);
    return [isolated(swimmer.label), ...(hold ? [...hold.passing, hold.main] : [])].filter(Boolean).join(' ');
  });
  return [
    `Lane ${lane.lane}: ${PHASE_WORDS[lane.phase]}${lane.phase === 'gate' ? ' for the coach' : ''}`,
    [wait, lane.nextReading ? `at ${lane.nextReading}` : ''].filter(Boolean).join(' '),
    lane.rep && repText(lane.rep) ? `rep ${repText(lane.rep)}` : '',
    holds.filter(Boolean).join(', '),
    leftAt === null ? '' : `time ${runningText(at - leftAt)}`,
    lane.turn?.label ? `${isolated(lane.turn.label)} leaves next` : '',
    lane.rep ? roundText(lane.rep) : '',
  ]
    .filter(Boolean)
    .join('; ');
}
