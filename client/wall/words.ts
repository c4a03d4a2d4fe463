import type { Board, BoardSet } from '../../shared-types/board/board.ts';
import type { LaneBoard } from '../../shared-types/board/lane.ts';
import type { LanePhase } from '../../shared-types/board/phase.ts';
import type { LaneSwimmer } from '../../shared-types/board/timed-rep.ts';
import { type Instant, instant } from '../../shared-types/brand.ts';
import { isolated } from '../../shared-types/isolated.ts';
import type { RepStep } from '../../shared-types/sheet.ts';
import { clockReading, formatSwimTime, pastTheMinute } from '../../shared-types/time.ts';

/** What the wall writes for each phase of a lane. */
export const PHASE_WORDS: Readonly<Record<LanePhase, string>> = {
  ready: 'ready',
  leaving: 'leave',
  swimming: 'swim',
  easy: 'easy',
  resting: 'rest',
  joining: 'regroup',
  gate: 'wait',
  done: 'done',
};

/** What the wall writes about its sound. */
export const SOUND_WORDS = { locked: 'press once for sound', none: 'this browser has no sound' } as const;

/** So many gaps are written out. */
const MOST_GAPS = 3;

/** `12`, `1:05`: whole seconds still to wait, the last of them shown as 1. */
export function countdownText(countdownMs: number): string {
  const seconds = Math.max(0, Math.ceil(countdownMs / 1000 - 1e-6));
  const rest = String(seconds % 60);
  return seconds < 60 ? rest : `${Math.floor(seconds / 60)}:${rest.padStart(2, '0')}`;
}

/** `0:29`, `1:05`: whole seconds since the own send-off, as they are read from a pace clock. */
export const runningText = (sinceMs: number): string => {
  const seconds = Math.max(0, Math.floor(sinceMs / 1000));
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
};

/** The send-off that the lane's time counts from, on the latest rep that somebody is on; null where no time runs. */
export function laneLeftAt({ times }: LaneBoard): Instant | null {
  const latest = times[times.length - 1];
  return latest ? instant(latest.leftAt - latest.afterMs) : null;
}

/** `+5 +10`, `+5 each`: how much later than the lane's time the others leave; empty where lanes differ. */
export function gapsText(lanes: readonly LaneBoard[]): string {
  const gaps = lanes.map(({ swimmers }) => swimmers.map(({ afterMs }) => afterMs / 1000).slice(1));
  const most = gaps.reduce<readonly number[]>((longest, own) => (own.length > longest.length ? own : longest), []);
  const [first = 0] = most;
  // Swimmers of a lane leave a gap apart.
  if (!gaps.every((own) => own.every((gap, place) => gap === first * (place + 1)))) return '';
  return most.length > MOST_GAPS ? `+${first} each` : most.map((gap) => `+${gap}`).join(' ');
}

/** What is on the pace clock: `:32`. */
export const clockText = (pastMinuteMs: number): string =>
  `:${String(Math.floor(pastMinuteMs / 1000)).padStart(2, '0')}`;

/** `3/8`; with one rep only, nothing is counted. In heats the heat that is about to leave counts too. */
export function repText(rep: RepStep): string {
  return rep.reps === 1 ? '' : `${rep.rep}/${rep.reps}`;
}

/** Rest after the touch that the leader's target leaves on this rep: `36`, in whole seconds; empty where unknown. */
export const restText = ({ restMs }: LaneBoard): string =>
  restMs === null || restMs < 0 ? '' : countdownText(Math.floor(restMs / 1000) * 1000);

/** `round 2 of 4`, `heat 3 of 5`: what the count of reps leaves open; empty when that is all there is. */
export function roundText(rep: RepStep): string {
  const rounds = (round: number | undefined, of: number | undefined): string =>
    round !== undefined && of !== undefined && of > 1 ? `round ${round} of ${of}` : '';
  const outer = rounds(rep.outerRound, rep.outerRounds);
  const inner = rounds(rep.round, rep.rounds);
  const heat = rep.heat !== undefined && (rep.heats ?? 1) > 1 ? `heat ${rep.heat} of ${rep.heats}` : '';
  return [outer && inner ? `${rep.outerRound}·${inner}` : outer || inner, heat].filter(Boolean).join(', ');
}

/** Times to hold on a rep: running times at the ends of its paced parts, from the own send-off. */
export interface Hold {
  /** At the part ends before the last. */
  readonly passing: readonly string[];
  readonly main: string;
  /** The first part end still to come while the swimmer is under way, else `main`. */
  readonly next: string;
}

/**
 * What a swimmer holds; null where nothing is to be held. An easy end of a rep is not held, so a rep of 50 at pace and
 * 50 easy shows the 50.
 */
export function holdOf({ target, leavesAt }: LaneSwimmer, at: Instant): Hold | null {
  const ends = (target?.splits ?? []).filter(({ paced }) => paced);
  const last = ends[ends.length - 1];
  if (!last) return null;
  const sinceMs = leavesAt === null ? -1 : at - leavesAt;
  const next = sinceMs < 0 ? last : (ends.find(({ ms }) => ms > sinceMs) ?? last);
  return {
    passing: ends.slice(0, -1).map(({ ms }) => formatSwimTime(ms, 1)),
    main: formatSwimTime(last.ms, 1),
    next: formatSwimTime(next.ms, 1),
  };
}

/** The swimmer a band with room for one is about: whoever has yet to leave on this rep, else the lane's first. */
export function featuredOf({ swimmers, turn }: LaneBoard): LaneSwimmer | null {
  const leaving = swimmers.find((one) => turn && one.swimmer === turn.swimmer && one.leavesAt === turn.leavesAt);
  return leaving ?? swimmers[0] ?? null;
}

const isFirstOfSet = ({ rep, phase }: LaneBoard): boolean =>
  rep !== null && rep.rep === 1 && (rep.round ?? 1) === 1 && phase !== 'swimming' && phase !== 'easy';

/** Whether all lanes stand before a set rather than in one. */
export const isBetweenSets = (board: Board): boolean => {
  const busy = board.lanes.filter(({ phase }) => phase !== 'done');
  return board.phase === 'running' && busy.length > 0 && busy.every(isFirstOfSet);
};

export const setLine = ({ set }: BoardSet): string => set.words;

/** `Main set · at 200 pace, from a dive` */
export const setDetail = ({ section, set }: BoardSet): string =>
  [isolated(section), set.detail].filter(Boolean).join(' · ');

/** `then 4 × 100 kick at :30`: the set after this one, once it is near. */
export function upNextText(board: Board, trimMs: number): string {
  if (!board.upNext) return '';
  const { set, at } = board.upNext;
  return `then ${set.set.words}${at === null ? '' : ` at ${clockReading(at, trimMs)}`}`;
}

/** How far ahead of the board's instant the pool's clock is set, recovered from what it shows. */
export const trimOf = (board: Board): number => board.pastMinuteMs - pastTheMinute(board.at, 0);

/** The round that all lanes are in, in words; empty when they differ. */
export function sharedRound(board: Board): string {
  const texts = new Set(board.lanes.flatMap(({ rep }) => (rep ? [roundText(rep)] : [])));
  return texts.size === 1 ? ([...texts][0] ?? '') : '';
}

/** What the whole board says about itself; empty while a practice simply runs. */
export function stateText(board: Board): string {
  if (board.phase === 'ready') return 'ready';
  if (board.phase === 'held') return 'HOLD';
  if (board.phase === 'finished') return 'finished';
  if (board.waitingGates.length > 0) return 'coach starts';
  return '';
}

/** The sentence that goes with {@link stateText}. */
export function stateSentence(board: Board): string {
  const swims = board.lanes.some(({ phase }) => phase === 'swimming' || phase === 'easy');
  if (board.phase === 'held') return swims ? 'finish this rep, then wait' : 'wait for the coach';
  if (board.phase === 'ready') return 'the coach starts';
  return '';
}
