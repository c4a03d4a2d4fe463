import type { Board, BoardSet } from '../../shared-types/board/board.ts';
import type { LaneBoard } from '../../shared-types/board/lane.ts';
import type { BoardPhase, LanePhase } from '../../shared-types/board/phase.ts';
import type { LaneSwimmer } from '../../shared-types/board/timed-rep.ts';
import type { Ms } from '../../shared-types/brand.ts';
import type { Answer, CommandKind } from '../../shared-types/commands.ts';
import { isolated } from '../../shared-types/isolated.ts';
import type { Mark } from '../../shared-types/marks.ts';
import type { RepStep } from '../../shared-types/sheet.ts';
import { formatClock, formatSwimTime, roundHalfUp } from '../../shared-types/time.ts';
import { boundText, isUncertain } from '../common/clock-bound.ts';
import type { LinkState } from '../common/live.ts';

/** What the deck says. Pure. */

const PHASE_WORDS: Readonly<Record<LanePhase, string>> = {
  ready: 'ready',
  leaving: 'leaving',
  swimming: 'swimming',
  easy: 'easy part',
  resting: 'rest',
  joining: 'waits for lanes',
  gate: 'waits for you',
  done: 'done',
};

const STATE_WORDS: Readonly<Record<BoardPhase, string>> = {
  idle: 'nothing on the wall',
  ready: 'ready to start',
  running: 'running',
  held: 'held',
  finished: 'finished',
};

/** `lane 4`, `lanes 1–3, 5`. */
export function laneWords(lanes: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const lane of [...lanes].sort((a, b) => a - b)) {
    const last = runs[runs.length - 1];
    if (last && lane === last[1] + 1) last[1] = lane;
    else runs.push([lane, lane]);
  }
  const words = runs.map(([first, last]) => (first === last ? `${first}` : `${first}–${last}`)).join(', ');
  return `${lanes.length === 1 ? 'lane' : 'lanes'} ${words}`;
}

/** `round 2 of 4, rep 3 of 8`; what there is only one of is left out. */
function repWords(rep: RepStep): string {
  const parts = [
    counted('time', rep.outerRound, rep.outerRounds),
    counted('round', rep.round, rep.rounds),
    counted('rep', rep.rep, rep.reps),
    counted('heat', rep.heat, rep.heats),
  ].filter((part) => part !== '');
  return parts.join(', ');
}

/** `rep 3 of 8 · round 2`, for a lane's row; the rest stands at the top. */
function shortRepWords(rep: RepStep): string {
  const round = rep.rounds !== undefined && rep.rounds > 1 ? `round ${rep.round}` : '';
  const heat = rep.heats !== undefined && rep.heats > 1 ? `heat ${rep.heat}` : '';
  return [counted('rep', rep.rep, rep.reps), heat, round].filter((part) => part !== '').join(' · ');
}

const counted = (what: string, which: number | undefined, of: number | undefined): string =>
  which !== undefined && of !== undefined && of > 1 ? `${what} ${which} of ${of}` : '';

/** Which of two reps comes later in the practice; > 0 when `a` does. */
function order(a: RepStep, b: RepStep): number {
  const key = (rep: RepStep): number[] => [rep.set, rep.outerRound ?? 0, rep.round ?? 0, rep.rep, rep.heat ?? 0];
  const [ofA, ofB] = [key(a), key(b)];
  const differing = ofA.findIndex((value, place) => value !== ofB[place]);
  return differing < 0 ? 0 : (ofA[differing] ?? 0) - (ofB[differing] ?? 0);
}

/** The rep of the lane that is furthest on. */
const leadingRep = (board: Board): RepStep | null =>
  board.lanes.reduce<RepStep | null>((best, { rep }) => (rep && (!best || order(rep, best) > 0) ? rep : best), null);

const setWords = ({ set }: BoardSet): string => [set.words, set.detail].filter((part) => part !== '').join(' ');

/** What is happening now, in up to four short lines. */
export interface Happening {
  /** `Main set · running` */
  readonly where: string;
  /** `8 × 50 free at 200 pace` */
  readonly what: string;
  /** `round 2 of 4, rep 3 of 8` */
  readonly rep: string;
  /** `then 4 × 100 free` */
  readonly upNext: string;
}

export function happening(board: Board): Happening {
  if (board.phase === 'finished') return { where: STATE_WORDS.finished, what: 'Well done.', rep: '', upNext: '' };
  const rep = leadingRep(board);
  const set = board.sets.find(({ index }) => index === rep?.set);
  const where = [set?.section ?? '', STATE_WORDS[board.phase]].filter((part) => part !== '').join(' · ');
  return {
    where,
    what: set ? setWords(set) : 'All lanes are done.',
    rep: rep ? repWords(rep) : '',
    upNext: board.upNext ? `then ${setWords(board.upNext.set)}` : '',
  };
}

/** A lane as its row says it. */
export interface LaneRow {
  readonly phase: LanePhase;
  readonly phaseWords: string;
  readonly rep: string;
  /** `:45`, what the pool's clock shows at the lane's next send-off; empty while that is on the coach. */
  readonly reading: string;
  /** `in :12` */
  readonly countdown: string;
  /** `Ana 29.6`: who leaves next, and the target. */
  readonly turn: string;
  /** Whether it is on its way, so that it can be sent earlier or later. */
  readonly moves: boolean;
}

export function laneRow(lane: LaneBoard, board: BoardPhase): LaneRow {
  const held = board === 'held' && lane.phase !== 'done';
  return {
    phase: lane.phase,
    phaseWords: held && lane.phase !== 'swimming' && lane.phase !== 'easy' ? 'held' : PHASE_WORDS[lane.phase],
    rep: lane.rep ? shortRepWords(lane.rep) : '',
    reading: lane.nextReading ?? '',
    countdown: lane.countdownMs === null ? '' : countdownWords(lane.countdownMs, held),
    turn: lane.turn ? turnWords(lane.turn) : '',
    moves: board === 'running' && lane.phase !== 'gate' && lane.phase !== 'done',
  };
}

/** Counted up to whole seconds, so that it says 1 until the very send-off. */
const countdownWords = (countdownMs: number, held: boolean): string =>
  `${held ? 'left' : 'in'} ${formatClock(Math.ceil(Math.max(0, countdownMs) / 1000) * 1000)}`;

const turnWords = ({ label, order: place, target }: LaneSwimmer): string => {
  const who = label === '' ? `swimmer ${place}` : isolated(label);
  return target?.ms == null ? who : `${who} ${formatSwimTime(target.ms, 1)}`;
};

/** A time taken, to the tenth. */
export const timeWords = ({ ms: lasted, state }: Pick<Mark, 'ms' | 'state'>): string => {
  if (state === 'missed') return 'missed';
  if (lasted === null) return 'fits no send-off';
  return state === 'second' ? `${formatSwimTime(lasted, 1)} (second)` : formatSwimTime(lasted, 1);
};

/** `+0.2`: how much slower (+) or faster (−) than the target, as both are shown; empty without one. */
export function differenceWords({ ms: lasted }: Pick<Mark, 'ms'>, target: Ms | null): string {
  if (lasted === null || target === null) return '';
  const slowerMs = roundHalfUp(lasted, 100) - roundHalfUp(target, 100);
  const sign = slowerMs > 0 ? '+' : slowerMs < 0 ? '−' : '±';
  return `${sign}${formatSwimTime(Math.abs(slowerMs), 1)}`;
}

/** [CMD8] `2 times taken are kept`: what waits for the server, while it cannot be reached. */
export function keptWords(state: LinkState, waiting: number): string {
  if (state === 'live' || waiting === 0) return '';
  return waiting === 1 ? '1 time taken is kept' : `${waiting} times taken are kept`;
}

const PRESS_WORDS: Readonly<Record<CommandKind, string>> = {
  start: 'start',
  hold: 'hold',
  resume: 'resume',
  go: 'go',
  next: 'next',
  nextSet: 'next set',
  back: 'back',
  shift: 'shift',
  realign: 'realign',
  recall: 'recall',
  undo: 'undo',
  change: 'change',
  finish: 'finish',
};

/** `next, 12 s ago` */
export const pressedWords = (kind: CommandKind, agoMs: number): string =>
  `${PRESS_WORDS[kind]}, ${Math.max(0, Math.round(agoMs / 1000))}\u00a0s\u00a0ago`;

/**
 * [SYN5] The link, this page's clock and the walls' in words, and whether a person should look.
 * @param wallMs the bound of the wall whose clock is known worst; null: none has said
 */
export function linkWords(
  state: LinkState,
  boundMs: number | null,
  wallMs: number | null,
  refusal: string | null,
): { readonly words: string; readonly warn: boolean } {
  if (state === 'refused') return { words: refusal ?? 'The server refused this page.', warn: true };
  if (state === 'alone') return { words: 'server not reached: presses will not count', warn: true };
  if (state === 'connecting') return { words: 'looking for the server', warn: true };
  if (boundMs === null) return { words: 'reading the clock', warn: false };
  const own = isUncertain(boundMs)
    ? `this clock is only right within ${boundText(boundMs)}`
    : `in step, ±${boundText(boundMs)}`;
  if (wallMs === null) return { words: own, warn: isUncertain(boundMs) };
  const wall = isUncertain(wallMs)
    ? `clock of a wall is only right within ${boundText(wallMs)}`
    : `walls ±${boundText(wallMs)}`;
  return { words: `${own}; ${wall}`, warn: isUncertain(boundMs) || isUncertain(wallMs) };
}

const NO_ANSWER = 'The server did not answer. Look at the wall before pressing again: it may have counted.';

/** What a press came to, when the coach has to know; empty when it did what it should. */
export function answerWords(answer: Answer | null): string {
  if (answer === null) return NO_ANSWER;
  if (answer.ok) return '';
  const meanwhile = (answer.since ?? []).map(sentence);
  return [answer.message, ...meanwhile, answer.fix ?? ''].filter((part) => part !== '').join(' ');
}

/** As at the beginning of a sentence. */
export const capital = (words: string): string => `${words.slice(0, 1).toUpperCase()}${words.slice(1)}`;

/** `another device held the lanes 2 s ago` as a sentence of its own. */
const sentence = (words: string): string => `${capital(words)}${/[.!?]$/.test(words) ? '' : '.'}`;
