import type { Board } from '../../shared-types/board/board.ts';
import { LEAVING_MS } from '../../shared-types/board/phase.ts';

/** At least so often a visible wall says which instant it shows, ms. */
const AT_LEAST_EVERY_MS = 200;

/** Milliseconds until the next whole second of a count that stands at `ms`, counting down. */
const toNextSecondDown = (ms: number): number => {
  const past = ms % 1000;
  return past > 0 ? past : 1000;
};

/**
 * How long the figures of a board stay as they are, ms; 0 when something on it moves (swimmers finish
 * their rep while held, too). Between those instants a wall
 * need not draw.
 */
export function unchangedFor(board: Board): number {
  if (board.lanes.some(({ markers }) => markers.length > 0)) return 0;
  const clock = 1000 - (board.pastMinuteMs % 1000);
  if (board.phase !== 'running') return Math.min(AT_LEAST_EVERY_MS, clock);
  const lanes = board.lanes.flatMap(({ countdownMs, swimmers, turn, times }) => [
    ...times.map(({ leftAt }) => 1000 - ((board.at - leftAt) % 1000)),
    ...(countdownMs === null || countdownMs <= 0 ? [] : [toNextSecondDown(countdownMs)]),
    // A swimmer's mark changes at the own send-off and some seconds before.
    ...[...swimmers, ...(turn ? [turn] : [])].flatMap(({ leavesAt }) =>
      leavesAt === null ? [] : [leavesAt - board.at, leavesAt - LEAVING_MS - board.at],
    ),
  ]);
  return lanes.reduce((least, inMs) => (inMs > 0 && inMs < least ? inMs : least), Math.min(AT_LEAST_EVERY_MS, clock));
}
