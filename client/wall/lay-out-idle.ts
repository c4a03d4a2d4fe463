import type { Board } from '../../shared-types/board/board.ts';
import { type Box, capToFit, figures, type Rect, words } from './boxes.ts';
import { ropeBox } from './lay-out-header.ts';
import type { Screen } from './legibility.ts';
import { CAP_HEIGHT, clipped, emOf, figuresWidth } from './type-metrics.ts';
import { clockText } from './words.ts';

/** What a wall says beside the clock; each may be empty. */
export interface Said {
  readonly notice: string;
  /** Which wall this is. */
  readonly name: string;
}

/** The pace clock that a wall is before anything is put on it: seconds as large as they go, rope, time of day. */
export function layOutIdle(rect: Rect, board: Board, screen: Screen, said: Said): Box[] {
  const ropeHeight = Math.min(rect.height * 0.05, rect.width * 0.028);
  const rope: Rect = { ...rect, y: rect.y + rect.height * 0.84, height: ropeHeight };
  const seconds = clockText(board.pastMinuteMs);
  const cap = Math.min(rect.height * 0.58, ((rect.width * 0.9) / figuresWidth(seconds)) * CAP_HEIGHT);
  const dayCap = Math.min(rect.height * 0.09, rect.width * 0.06);
  const captionCap = ropeHeight * 0.78;
  return [
    figures(screen, {
      id: 'clock',
      role: 'clock',
      text: seconds,
      cap,
      // The colon's side bearing is taken back, so that the figures stand in the middle.
      x: rect.x + rect.width / 2 - 0.06 * emOf(cap),
      y: rect.y + rect.height * 0.165 + (rect.height * 0.6 - cap) / 2,
      align: 'centre',
    }),
    ropeBox(rope, board),
    ...quarters(rope, captionCap, screen),
    figures(screen, {
      id: 'day',
      role: 'time of day',
      text: board.timeOfDay,
      cap: dayCap,
      x: rect.x,
      y: rect.y,
      colour: 'quiet',
    }),
    ...saidBoxes(rect, dayCap, board, said, screen),
  ];
}

/** The four readings that swimmers leave on, under their beads. */
function quarters(rope: Rect, cap: number, screen: Screen): Box[] {
  const bead = rope.width / 60;
  return [0, 15, 30, 45].map((second) =>
    figures(screen, {
      id: `quarter${second}`,
      role: 'caption',
      text: `:${String(second).padStart(2, '0')}`,
      cap,
      x: rope.x + second * bead,
      y: rope.y + rope.height * 1.65,
      colour: 'quiet',
    }),
  );
}

/** What else is to be said, small, opposite the time of day. */
function saidBoxes(rect: Rect, dayCap: number, board: Board, { notice, name }: Said, screen: Screen): Box[] {
  const finished = board.phase === 'finished';
  const said = [
    { id: 'state', role: 'detail', text: finished ? 'practice finished' : '', colour: 'quiet' },
    { id: 'name', role: 'detail', text: finished ? '' : name, colour: 'quiet' },
    { id: 'notice', role: 'notice', text: notice, colour: 'warn' },
  ] as const;
  const shown = said.filter(({ text }) => text !== '');
  const room = rect.width * 0.58;
  let y = rect.y + (shown.length > 1 ? 0 : dayCap * 0.22);
  return shown.map((line) => {
    const most = line.role === 'detail' ? dayCap * 0.56 : dayCap * 0.34;
    const cap = Math.max(most * 0.5, capToFit(line.text, most, room));
    const box = words(screen, {
      ...line,
      text: clipped(line.text, room, cap),
      cap,
      x: rect.x + rect.width,
      y,
      align: 'right',
    });
    y += cap * 1.55;
    return box;
  });
}
