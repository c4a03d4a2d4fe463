import type { Board } from '../../shared-types/board/board.ts';
import type { WallSetUp } from '../../shared-types/wire/walls.ts';
import type { Box, Rect, TextBox, WallLayout } from './boxes.ts';
import { layOutBands } from './lay-out-bands.ts';
import { layOutHeader } from './lay-out-header.ts';
import { identityBoxes } from './lay-out-identity.ts';
import { layOutIdle, type Said } from './lay-out-idle.ts';
import { isFar, isLargeEnough, readableFrom, type Screen, shortfallText } from './legibility.ts';

/** Televisions cut off the edge of the picture: nothing is drawn in the outer 5 %. */
const UNSAFE_SHARE = 0.05;
/** The picture wanders by at most this much in each direction, so that nothing burns in; CSS pixels. */
export const DRIFT_PIXELS = 8;
/** The header is as high as this many lanes, and takes at most this share of the height. */
const HEADER_LANES = 1.35;
const HEADER_SHARE = 0.24;

/** Where drawing is allowed. */
export function safeArea({ width, height }: Screen): Rect {
  const x = width * UNSAFE_SHARE + DRIFT_PIXELS;
  const y = height * UNSAFE_SHARE + DRIFT_PIXELS;
  return { x, y, width: width - 2 * x, height: height - 2 * y };
}

/**
 * What stands where on a wall, in CSS pixels: pure in the board, the screen and the notice (a plain sentence of the
 * page's own, such as that it has lost the server; empty when there is none). `name` says which wall this is while
 * nothing is loaded. Where not all that must be read from the farthest place can be, the wall says from how far.
 */
export function layOut(board: Board, screen: Screen, notice = '', name = ''): WallLayout {
  const layout = layOutWith(board, screen, { notice, name });
  const shortfall = shortfallText(layout.readableToM, screen);
  if (shortfall === '') return layout;
  return layOutWith(board, screen, { notice: [notice, shortfall].filter(Boolean).join(' · '), name });
}

function layOutWith(board: Board, screen: Screen, { notice, name }: Said): WallLayout {
  const rect = safeArea(screen);
  if (board.phase === 'idle' || board.phase === 'finished' || board.lanes.length === 0) {
    return finished('clock', layOutIdle(rect, board, screen, { notice, name }), [], screen);
  }
  const lanes = board.lanes.length;
  const headerHeight = Math.min(
    (rect.height / (lanes + HEADER_LANES)) * HEADER_LANES,
    rect.height * HEADER_SHARE,
    rect.width * 0.16,
  );
  const gap = headerHeight * 0.08;
  const bandsTop = rect.y + headerHeight + gap;
  const bands = layOutBands({ ...rect, y: bandsTop, height: rect.y + rect.height - bandsTop }, board, screen);
  const header = layOutHeader({ ...rect, height: headerHeight }, board, screen, notice);
  return finished(bands.grid.detail, [...header, ...bands.boxes], bands.tracks, screen);
}

/** A wall that says which one it is: its number and its name as large as they go, and the clock that others wait for. */
export const layOutIdentity = (board: Board, screen: Screen, wall: WallSetUp): WallLayout =>
  finished('clock', identityBoxes(safeArea(screen), board, screen, wall), [], screen);

const isFarText = (box: Box): box is TextBox => box.kind === 'text' && isFar(box.role);
/** What is only for those who come near is left out where even they could not read it. */
const isDrawn = (box: Box): boolean =>
  box.kind !== 'text' || isFar(box.role) || isLargeEnough(box.role, box.arcMinutes);

function finished(
  detail: WallLayout['detail'],
  boxes: readonly Box[],
  tracks: WallLayout['tracks'],
  screen: Screen,
): WallLayout {
  const smallest = boxes.filter(isFarText).reduce((least, { cap }) => Math.min(least, cap), Number.POSITIVE_INFINITY);
  return { detail, boxes: boxes.filter(isDrawn), tracks, readableToM: readableFrom(smallest, screen) };
}
