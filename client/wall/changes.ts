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
  return board.lanes.some(({ markers }) => markers.length > 0) ? 0 : figuresUnchangedFor(board);
}

/**
 * For how long, ms, nothing on a board changes but where its swimmers are; 0: not to be relied on. What it shows only
 * ever goes on: where it is the same again at the end, it was the same in between.
 * @param after the board so many milliseconds later
 */
export function steadyFor(board: Board, after: (ms: number) => Board): number {
  const forMs = figuresUnchangedFor(board) - 1;
  return forMs > 0 && pictureKey(after(forMs)) === pictureKey(board) ? forMs : 0;
}

function figuresUnchangedFor(board: Board): number {
  const clock = 1000 - (board.pastMinuteMs % 1000);
  if (board.phase !== 'running') return Math.min(AT_LEAST_EVERY_MS, clock);
  const lanes = board.lanes.flatMap(({ countdownMs, swimmers, turn, times }) => [
    ...times.flatMap(({ leftAt, endsAt }) => [1000 - ((board.at - leftAt) % 1000), endsAt - board.at]),
    ...(countdownMs === null || countdownMs <= 0 ? [] : [toNextSecondDown(countdownMs)]),
    // A swimmer's mark changes at the own send-off and some seconds before.
    ...[...swimmers, ...(turn ? [turn] : [])].flatMap(({ leavesAt }) =>
      leavesAt === null ? [] : [leavesAt - board.at, leavesAt - LEAVING_MS - board.at],
    ),
  ]);
  return lanes.reduce((least, inMs) => (inMs > 0 && inMs < least ? inMs : least), Math.min(AT_LEAST_EVERY_MS, clock));
}

/**
 * What a picture shows that does not merely move. Besides this only the next time to hold within a rep of several paced
 * parts can change; it does with the clock's next second.
 */
export function pictureKey(board: Board): string {
  const second = Math.floor(board.pastMinuteMs / 1000);
  const lanes = board.lanes.map(({ phase, rep, countdownMs, nextAt, turn, times }) => {
    const countdown = countdownMs === null ? '' : Math.ceil(countdownMs / 1000 - 1e-6);
    const leaving = turn?.leavesAt != null && turn.leavesAt - board.at <= LEAVING_MS;
    const running = times.reduce((all, { leftAt }) => `${all} ${Math.floor((board.at - leftAt) / 1000)}`, '');
    return `${phase},${rep?.id},${countdown},${nextAt},${turn?.swimmer},${leaving},${running}`;
  });
  const next = board.upNext ? `${board.upNext.set.index} ${board.upNext.at}` : '';
  return [board.phase, second, board.timeOfDay, board.title, next, board.waitingGates.join(), ...lanes].join('|');
}
