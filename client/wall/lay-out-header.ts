import type { Board } from '../../shared-types/board/board.ts';
import { pastTheMinute } from '../../shared-types/time.ts';
import { type Box, capToFit, figures, type Rect, words } from './boxes.ts';
import { ANGLES, angleOnScreen, isFar, isLargeEnough, pixelsForAngle, type Screen } from './legibility.ts';
import { clipped, emOf, figuresWidth, TAIL, wordsWidth } from './type-metrics.ts';
import {
  clockText,
  isBetweenSets,
  setDetail,
  setLine,
  sharedRound,
  stateSentence,
  stateText,
  trimOf,
  upNextText,
} from './words.ts';

const BEADS = 60;
/** Words of the header smaller than this share of the clock's figures are left out. */
const SMALLEST_SHARE = 0.2;
/** Lines under each other, as shares of the row's height: a line that must be read from afar, the gap between two, all. */
const MOST_LINE_SHARE = 0.75;
const USUAL_GAP_SHARE = 0.07;
const LEAST_GAP_SHARE = 0.02;
const MOST_STACK_SHARE = 0.97;
const QUIET_SHARE = 0.18;

/** The minute as a rope over the whole width. */
export const ropeBox = (rect: Rect, board: Board): Box => ({
  kind: 'rope',
  id: 'rope',
  ...rect,
  lit: Math.floor(board.pastMinuteMs / 1000) + 1,
});

/** A flag in `rect` for each bead on which a lane leaves within the minute. */
function flags(rect: Rect, board: Board): Box[] {
  const trimMs = trimOf(board);
  const soon = board.lanes.flatMap(({ nextAt, countdownMs }) =>
    nextAt !== null && countdownMs !== null && countdownMs > 0 && countdownMs <= 60_000 ? [nextAt] : [],
  );
  const seconds = new Set(soon.map((at) => Math.floor(pastTheMinute(at, trimMs + 0.5) / 1000)));
  const bead = rect.width / BEADS;
  const width = Math.min(bead, rect.height * 1.3);
  return [...seconds].map((second) => {
    const x = rect.x + (second + 0.5) * bead - width / 2;
    return { kind: 'flag', id: `flag${second}`, x, y: rect.y, width, height: width, colour: 'leave' };
  });
}

/** Clock, set in words, round and state of the board, from left to right. */
export function layOutHeader(rect: Rect, board: Board, screen: Screen, notice: string): Box[] {
  const ropeHeight = rect.height * 0.16;
  const rope = [
    ropeBox({ ...rect, height: ropeHeight * 0.55 }, board),
    ...flags({ ...rect, y: rect.y + ropeHeight * 0.62, height: ropeHeight * 0.38 }, board),
  ];
  const top = rect.y + ropeHeight * 1.12 + rect.height * 0.06;
  const row: Rect = { ...rect, y: top, height: rect.y + rect.height - top };
  const clock = clockBoxes(row, board, screen);
  const left = row.x + clock.width + row.height * 0.32;
  const rest: Rect = { ...row, x: left, width: row.x + row.width - left };
  const said = board.phase === 'held' ? holdBoxes(rest, board, screen) : setBoxes(rest, board, screen, notice);
  return [...rope, ...clock.boxes, ...said];
}

function clockBoxes(row: Rect, board: Board, screen: Screen): { boxes: Box[]; width: number } {
  const cap = Math.min(row.height * 0.8, (row.width * 0.24) / (figuresWidth(':00') / 0.672));
  const width = figuresWidth(':00') * emOf(cap);
  const seconds = figures(screen, {
    id: 'clock',
    role: 'clock',
    text: clockText(board.pastMinuteMs),
    cap,
    x: row.x,
    y: row.y + (row.height - cap) / 2,
  });
  return { boxes: [seconds], width };
}

interface Line {
  readonly id: string;
  readonly text: string;
  readonly role: 'set' | 'detail' | 'notice' | 'message';
  readonly colour: 'paper' | 'quiet' | 'ink' | 'gate' | 'warn';
  /** Height of capitals, as a share of the row's height. */
  readonly share: number;
  /** What a far line is where there is no room for its least height: small and quiet, so that it does not pretend. */
  readonly otherwise?: Pick<Line, 'role' | 'colour'>;
}

interface SizedLine extends Line {
  readonly cap: number;
}

/** Its share of the row, or what can be read from the farthest place where the role asks for that. */
function fullCap({ role, share }: Line, screen: Screen, height: number): number {
  const usual = share * height;
  if (!isFar(role)) return usual;
  return Math.min(Math.max(usual, pixelsForAngle(ANGLES[role].least, screen)), MOST_LINE_SHARE * height);
}

function sized(line: Line, width: number, screen: Screen, height: number): SizedLine {
  const cap = Math.max(line.share * height * 0.55, capToFit(line.text, fullCap(line, screen, height), width));
  const text = clipped(line.text, width, cap);
  if (!line.otherwise || isLargeEnough(line.role, angleOnScreen(cap, screen))) return { ...line, cap, text };
  const { otherwise, ...rest } = line;
  return sized({ ...rest, ...otherwise, share: Math.min(line.share, QUIET_SHARE) }, width, screen, height);
}

/** What lines take from the first's capitals to the last's base line, without gaps; the tails of the others count. */
const highOf = (lines: readonly SizedLine[]): number =>
  lines.reduce((sum, { cap }, place) => sum + cap * (place < lines.length - 1 ? 1 + TAIL : 1), 0);

/** Drops lines from the end until the others fit; what must be read, and notices, are made smaller instead. */
function thinned(lines: readonly SizedLine[], height: number): readonly SizedLine[] {
  const shrunk = (MOST_STACK_SHARE * height) / (highOf(lines) + LEAST_GAP_SHARE * height * (lines.length - 1));
  if (shrunk >= 1) return lines;
  const spare = lines.reduce((last, { role }, place) => (isFar(role) || role === 'notice' ? last : place), -1);
  if (spare < 0) return lines.map((line) => ({ ...line, cap: line.cap * shrunk }));
  return thinned([...lines.slice(0, spare), ...lines.slice(spare + 1)], height);
}

/** Lines under each other in `rect`, each as large as its share and the width allow, centred as a block. */
function stackLines(
  rect: Rect,
  lines: readonly Line[],
  screen: Screen,
  align: 'left' | 'right',
  height: number,
): Box[] {
  const fitting = lines
    .filter(({ text }) => text !== '')
    .map((line) => sized(line, rect.width, screen, height))
    .filter(({ cap, text }) => cap >= SMALLEST_SHARE * 0.5 * height && text !== '')
    .filter(({ role, cap }) => isFar(role) || isLargeEnough(role, angleOnScreen(cap, screen)));
  const shown = thinned(fitting, height);
  const high = highOf(shown);
  const joints = Math.max(1, shown.length - 1);
  const gap = Math.min(USUAL_GAP_SHARE * height, Math.max(0, MOST_STACK_SHARE * height - high) / joints);
  let y = rect.y + (rect.height - high - gap * (shown.length - 1)) / 2;
  return shown.map(({ cap, share: _share, otherwise: _otherwise, ...line }) => {
    const box = words(screen, { ...line, cap, x: align === 'left' ? rect.x : rect.x + rect.width, y, align });
    y += cap * (1 + TAIL) + gap;
    return box;
  });
}

function setBoxes(rect: Rect, board: Board, screen: Screen, notice: string): Box[] {
  const side = sideLines(board, notice);
  const sideWidth = Math.min(rect.width * 0.42, widthOf(side, screen, rect.height));
  const right: Rect = { ...rect, x: rect.x + rect.width - sideWidth, width: sideWidth };
  const main: Rect = { ...rect, width: rect.width - sideWidth - (sideWidth > 0 ? rect.height * 0.3 : 0) };
  return [
    ...stackLines(main, mainLines(board), screen, 'left', rect.height),
    ...stackLines(right, side, screen, 'right', rect.height),
  ];
}

/** What lines take at their full size. */
const widthOf = (lines: readonly Line[], screen: Screen, height: number): number =>
  lines.reduce((most, line) => Math.max(most, wordsWidth(line.text) * emOf(fullCap(line, screen, height))), 0);

function mainLines(board: Board): Line[] {
  const [first, second] = board.sets;
  if (!first) {
    return [{ id: 'title', text: board.title || 'all lanes are done', role: 'set', colour: 'paper', share: 0.36 }];
  }
  if (second) {
    return board.sets.slice(0, 2).map((one, place): Line => {
      const lanes = board.lanes.filter(({ rep }) => rep?.set === one.index).map(({ lane }) => lane);
      return {
        id: `set${place}`,
        text: `${lanesText(lanes)}  ${setLine(one)}`,
        role: 'set',
        colour: 'paper',
        share: 0.32,
      };
    });
  }
  const next = isBetweenSets(board) ? 'next: ' : '';
  return [
    { id: 'set0', text: `${next}${setLine(first)}`, role: 'set', colour: 'paper', share: 0.45 },
    { id: 'detail', text: setDetail(first), role: 'detail', colour: 'quiet', share: 0.2 },
  ];
}

/** `lanes 1–3`, `lanes 2, 5` */
function lanesText(lanes: readonly number[]): string {
  const sorted = [...lanes].sort((a, b) => a - b);
  const first = sorted[0] ?? 0;
  const last = sorted[sorted.length - 1] ?? 0;
  if (sorted.length === 1) return `lane ${first}`;
  return last - first === sorted.length - 1 ? `lanes ${first}–${last}` : `lanes ${sorted.join(', ')}`;
}

function sideLines(board: Board, notice: string): Line[] {
  const state = stateText(board);
  const colour = board.phase === 'ready' ? 'quiet' : 'gate';
  const near = state === '' ? upNextText(board, trimOf(board)) : stateSentence(board);
  return [
    { id: 'state', text: state, role: 'message', colour, share: 0.32 },
    {
      id: 'round',
      text: state === '' ? sharedRound(board) : '',
      role: 'message',
      colour: 'paper',
      share: 0.3,
      otherwise: { role: 'detail', colour: 'quiet' },
    },
    { id: 'near', text: near, role: 'detail', colour: 'quiet', share: 0.18 },
    { id: 'notice', text: notice, role: 'notice', colour: 'warn', share: 0.22 },
  ];
}

/** HOLD takes the place of the set, as large as the clock: nobody may overlook it. */
function holdBoxes(rect: Rect, board: Board, screen: Screen): Box[] {
  const pad = rect.height * 0.16;
  const cap = rect.height * 0.62;
  const hold = words(screen, {
    id: 'state',
    role: 'message',
    text: stateText(board),
    cap,
    x: rect.x + pad * 2,
    y: rect.y + (rect.height - cap) / 2,
    colour: 'ink',
  });
  const left = hold.x + hold.width + pad * 2.5;
  const room: Rect = { ...rect, x: left, width: Math.max(0, rect.x + rect.width - left - pad * 2) };
  const [first] = board.sets;
  const lines: Line[] = [
    { id: 'near', text: stateSentence(board), role: 'detail', colour: 'ink', share: 0.3 },
    { id: 'set0', text: first ? setLine(first) : '', role: 'set', colour: 'ink', share: 0.2 },
  ];
  return [
    { kind: 'panel', id: 'hold', ...rect, radius: rect.height * 0.12, colour: 'held' },
    hold,
    ...stackLines(room, lines, screen, 'left', rect.height),
  ];
}
