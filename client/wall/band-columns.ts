import { type BandGrid, cellWidthOf, endWidth, ownWidth, underLeft } from './band-grid.ts';
import type { Rect } from './boxes.ts';

/** Where the columns of a band stand, CSS pixels of the page; right edges where figures are right-aligned. */
export interface BandColumns {
  readonly laneRight: number;
  readonly phaseLeft: number;
  readonly waitLeft: number;
  readonly countdownRight: number;
  readonly readingLeft: number;
  readonly cellLefts: readonly number[];
  /** Right edges of the columns of the lane's time, the rest and the rep. */
  readonly timeRight: number;
  readonly restRight: number;
  readonly repRight: number;
}

/** Spare room that goes between two cells, at most, in gaps: further apart a line falls to pieces. */
const MOST_SHARE = 6;

/** The columns in `room`. Spare width goes between the columns, so that the line fills its band. */
export function columnsOf(grid: BandGrid, room: Rect): BandColumns {
  const { widths, gap, columns, stacked } = grid;
  const right = room.x + room.width;
  const cell = cellWidthOf(widths, gap);
  const least = columns * cell + (columns - 1) * gap * 1.5;
  const end = endWidth(widths, gap);
  const beside = stacked ? underLeft(widths, gap) : ownWidth(widths, gap) + gap * 1.6;
  const spare = room.width - beside - least - (stacked ? 0 : end);
  // Gaps between own line, cells, the lane's time, rest and rep share the spare room.
  const ends = [widths.time, widths.rest, widths.rep].filter((width) => width > 0).length;
  const joints = columns - 1 + (stacked ? 0 : 1 + ends);
  const share = Math.min(spare / Math.max(1, joints), gap * (columns > 1 ? MOST_SHARE : Number.POSITIVE_INFINITY));
  const aside = stacked ? 0 : share;
  const phaseLeft = room.x + widths.lane + gap;
  const waitLeft = phaseLeft + widths.phase + gap * 0.6;
  const countdownRight = waitLeft + widths.countdown;
  // One target under its lane's line stands under the countdown.
  const under = Math.max(room.x + beside, countdownRight - cell);
  const cellsLeft = stacked && columns === 1 ? under : room.x + beside + aside;
  const restRight = right - (widths.rep > 0 ? widths.rep + gap * 1.6 + aside : 0);
  return {
    laneRight: room.x + widths.lane,
    phaseLeft,
    waitLeft,
    countdownRight,
    readingLeft: countdownRight + gap,
    cellLefts: Array.from({ length: columns }, (_, place) => cellsLeft + place * (cell + gap * 1.5 + share)),
    timeRight: restRight - (widths.rest > 0 ? widths.rest + gap * 1.6 + aside : 0),
    restRight,
    repRight: right,
  };
}
