import type { Board } from '../../shared-types/board/board.ts';
import { type Instant, instant } from '../../shared-types/brand.ts';
import type { When } from '../../shared-types/commands.ts';
import type { Run } from '../../shared-types/events.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { clockReading, nextReading } from '../../shared-types/time.ts';
import type { Settings } from '../../shared-types/wire/from-server.ts';
import { laneWords, pressedWords } from './words.ts';

/** Which buttons the deck offers. Pure. */

/** Something that sets lanes moving, and so has a reading of the clock that it acts on. */
export interface Action {
  readonly press: 'start' | 'resume' | 'go' | 'next';
  /** Which gate a `go` opens. */
  readonly gate?: number;
  readonly word: string;
  /** Whom it is for, when not for everybody: `lanes 1–3`. */
  readonly whom: string;
  /** It cannot be pressed before those who were let go last have left. */
  readonly waits?: true;
}

/** A heat that the coach lets go next, whether its lanes have come to its gate or are still in the water. */
export interface Release {
  readonly gate: number;
  /** `Release heat 2` */
  readonly word: string;
  /** The lanes that swim the heats. */
  readonly lanes: readonly number[];
  /** The heat before has left. */
  readonly mayGo: boolean;
}

export interface Offer {
  /** What usually comes next; more than one only where several gates wait. */
  readonly main: readonly Action[];
  readonly quarters: boolean;
  readonly hold: boolean;
  readonly back: boolean;
  readonly nextSet: boolean;
  /** Beside open gates: the lanes that are on their way. */
  readonly nextToo: boolean;
  readonly finish: boolean;
}

export const QUARTERS = [':00', ':15', ':30', ':45'] as const satisfies readonly When[];

const NOTHING: Offer = {
  main: [],
  quarters: false,
  hold: false,
  back: false,
  nextSet: false,
  nextToo: false,
  finish: false,
};

const NEXT: Action = { press: 'next', word: 'Next', whom: '' };

/** [RUN4] What a run in the board's state allows, the most usual first. */
export function offerFor(board: Board, sheet: Sheet | undefined, releases: readonly Release[] = []): Offer {
  if (!sheet) return NOTHING;
  switch (board.phase) {
    case 'idle':
    case 'finished':
      return NOTHING;
    case 'ready':
      return { ...NOTHING, main: [{ press: 'start', word: 'Start', whom: '' }], quarters: true, finish: true };
    case 'held': {
      const resume: Action = { press: 'resume', word: 'Resume', whom: '' };
      return { ...NOTHING, main: [resume], finish: true };
    }
    case 'running':
      return {
        ...NOTHING,
        ...whileRunning(board, sheet, releases),
        back: true,
        nextSet: board.upNext !== null,
        finish: true,
      };
  }
}

function whileRunning(
  board: Board,
  sheet: Sheet,
  releases: readonly Release[],
): Pick<Offer, 'main' | 'hold' | 'nextToo'> {
  const moving = board.lanes.filter(({ phase }) => phase !== 'gate' && phase !== 'done');
  const hold = moving.length > 0;
  const gates = [...new Set([...board.waitingGates, ...releases.map(({ gate }) => gate)])].sort((a, b) => a - b);
  if (gates.length === 0) return { main: hold ? [NEXT] : [], hold, nextToo: false };
  const inHeats = new Set(releases.flatMap(({ lanes }) => lanes));
  return {
    main: gates.map((gate) => goFor(gate, sheet, releases)),
    hold,
    // Who swims a heat is followed by the next one's release.
    nextToo: moving.some(({ lane }) => !inHeats.has(lane)),
  };
}

function goFor(gate: number, sheet: Sheet, releases: readonly Release[]): Action {
  const release = releases.find((one) => one.gate === gate);
  const lanes = sheet.joins[gate]?.lanes ?? [];
  const whom = lanes.length === sheet.lanes.length ? '' : laneWords(lanes);
  const waits = release && !release.mayGo ? { waits: true as const } : {};
  return { press: 'go', gate, word: release?.word ?? 'Go', whom, ...waits };
}

/** [CMD6] So long after a press it can be taken back, and [CMD2] after a go it can be recalled, ms. */
const TAKEN_BACK_WITHIN_MS = 60_000;

/** What cannot be undone itself. */
const NOT_UNDONE: readonly (Run['changedBy'] | undefined)[] = [undefined, 'undo', 'recall'];

/** [CMD6] What an undo would take back, in words; empty when there is nothing, or a start on which somebody left. */
export function undoOffer({ changedBy, changedAt }: Run, at: Instant, somebodyLeft: boolean): string {
  if (changedBy === undefined || changedAt === undefined || NOT_UNDONE.includes(changedBy)) return '';
  const agoMs = at - changedAt;
  if (agoMs > TAKEN_BACK_WITHIN_MS || (changedBy === 'start' && somebodyLeft)) return '';
  return pressedWords(changedBy, agoMs);
}

/** [CMD2] Whether the last go may still be a false start. */
export const mayRecall = ({ wentAt, state }: Run, at: Instant): boolean =>
  wentAt !== undefined && state !== 'finished' && at - wentAt <= TAKEN_BACK_WITHIN_MS;

/**
 * What the pool's clock will show when a press made at `at` sets lanes moving. [CMD2] Held lanes that go on leave
 * later than they move: then `delayMs` is what is left to their first send-off, and it is that which falls on it.
 */
export const gridReading = (at: Instant, { gridMs, leadInMs, trimMs }: Settings, delayMs: number): string =>
  clockReading(instant(nextReading(instant(at + leadInMs + delayMs), gridMs, 0, trimMs)), trimMs);

/** What is left to the first send-off that held lanes come to, ms; 0 when they come to none by themselves. */
export function leftToSendOff(board: Board): number {
  const left = board.lanes.flatMap(({ countdownMs }) => (countdownMs === null ? [] : [countdownMs]));
  return left.length > 0 ? Math.min(...left) : 0;
}
