import { boardAt } from '../../shared-types/board/board.ts';
import type { LaneBoard } from '../../shared-types/board/lane.ts';
import type { LanePhase } from '../../shared-types/board/phase.ts';
import type { Instant, LaneNumber } from '../../shared-types/brand.ts';
import type { RepStep } from '../../shared-types/sheet.ts';
import type { ClockFace } from '../../shared-types/time.ts';
import type { LivePractice } from '../common/live.ts';

/** What a lane is doing, in words. */
export interface LaneNow {
  readonly lane: LaneNumber;
  readonly group: string;
  readonly doing: string;
  /** `rep 3 of 8, round 2 of 4`; empty when the lane is done. */
  readonly rep: string;
  /** `:45, in 12 s`; empty while that depends on the coach. */
  readonly next: string;
  /** Who leaves next; empty when nobody does. */
  readonly turn: string;
}

const DOING: Readonly<Record<LanePhase, string>> = {
  ready: 'ready',
  leaving: 'about to leave',
  swimming: 'swimming',
  easy: 'swimming easy',
  resting: 'resting',
  joining: 'waiting for other lanes',
  gate: 'waiting for the coach’s go',
  done: 'done',
};

const of = (what: string, place: number | undefined, all: number | undefined): string[] =>
  place === undefined || all === undefined || all < 2 ? [] : [`${what} ${place} of ${all}`];

const repWords = ({ rep, reps, round, rounds, outerRound, outerRounds, heat, heats }: RepStep): string =>
  [
    ...of('rep', rep, reps),
    ...of('round', round, rounds),
    ...of('outer round', outerRound, outerRounds),
    ...of('heat', heat, heats),
  ].join(', ');

const setWords = ({ set }: RepStep, { sheet }: LivePractice): string => sheet.sets[set]?.words ?? '';

function nextWords({ nextReading, countdownMs }: LaneBoard): string {
  if (nextReading === null) return '';
  const seconds = countdownMs === null ? null : Math.max(0, Math.ceil(countdownMs / 1000));
  return seconds === null ? nextReading : `${nextReading}, in ${seconds} s`;
}

/** What each lane of the practice on the wall is doing at an instant. */
export function lanesNow(live: LivePractice, at: Instant, face: ClockFace): LaneNow[] {
  const { sheet, run, labels } = live;
  return boardAt(sheet, run, at, { labels, face }).lanes.map((lane) => ({
    lane: lane.lane,
    group: lane.group,
    doing: run.state === 'held' && lane.phase !== 'done' ? `${DOING[lane.phase]}, on hold` : DOING[lane.phase],
    rep: lane.rep ? [setWords(lane.rep, live), repWords(lane.rep)].filter((part) => part !== '').join(': ') : '',
    next: nextWords(lane),
    turn: lane.turn?.label ?? '',
  }));
}
