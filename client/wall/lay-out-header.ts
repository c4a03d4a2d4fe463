import type { Board } from '../../shared-types/board/board.ts';
import { pastTheMinute } from '../../shared-types/time.ts';
import { type Box, capToFit, figures, type Rect, words } from './boxes.ts';
import type { Screen } from './legibility.ts';
import { clipped, emOf, figuresWidth, wordsWidth } from './type-metrics.ts';
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
}

/** Lines under each other in `rect`, each as large as its share and the width allow, centred as a block. */
function stackLines(
  rect: Rect,
  lines: readonly Line[],
  screen: Screen,
  align: 'left' | 'right',
  height: number,
): Box[] {
  const shown = lines
    .filter(({ text }) => text !== '')
    .map((line) => {
      const most = line.share * height;
      const cap = Math.max(most * 0.55, capToFit(line.text, most, rect.width));
      return { ...line, cap, text: clipped(line.text, rect.width, cap) };
    })
    .filter(({ cap, text }) => cap >= SMALLEST_SHARE * 0.5 * height && text !== '');
  const gap = 0.17 * height;
  const total = shown.reduce((sum, { cap }) => sum + cap, gap * (shown.length - 1));
  let y = rect.y + (rect.height - total) / 2;
  return shown.map(({ cap, share: _share, ...line }) => {
    const box = words(screen, { ...line, cap, x: align === 'left' ? rect.x : rect.x + rect.width, y, align });
    y += cap + gap;
    return box;
  });
}

function setBoxes(rect: Rect, board: Board, screen: Screen, notice: string): Box[] {
  const side = sideLines(board, notice);
  const sideWidth = Math.min(rect.width * 0.42, widthOf(side, rect.height));
  const right: Rect = { ...rect, x: rect.x + rect.width - sideWidth, width: sideWidth };
  const main: Rect = { ...rect, width: rect.width - sideWidth - (sideWidth > 0 ? rect.height * 0.3 : 0) };
  return [
    ...stackLines(main, mainLines(board), screen, 'left', rect.height),
    ...stackLines(right, side, screen, 'right', rect.height),
  ];
}

/** What lines take at their full size. */
const widthOf = (lines: readonly Line[], height: number): number =>
  lines.reduce((most, { text, share }) => Math.max(most, wordsWidth(text) * emOf(share * height)), 0);

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
    { id: 'set0', text: `${next}${setLine(first)}`, role: 'set', colour: 'paper', share: 0.4 },
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
    { id: 'round', text: state === '' ? sharedRound(board) : '', role: 'message', colour: 'paper', share: 0.3 },
    { id: 'near', text: near, role: 'detail', colour: 'quiet', share: 0.18 },
    { id: 'notice', text: notice, role: 'notice', colour: 'warn', share: 0.15 },
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
