import type { Board } from '../../shared-types/board/board.ts';
import type { LaneBoard } from '../../shared-types/board/lane.ts';
import { type BandColumns, columnsOf } from './band-columns.ts';
import { type BandGrid, type BandRoom, bandGridFor, linesOf } from './band-grid.ts';
import { type Box, capToFit, type Rect, type Track, words } from './boxes.ts';
import { cellBoxes } from './lay-out-cells.ts';
import { ownLine, type Place } from './lay-out-own-line.ts';
import type { Screen } from './legibility.ts';

/** Height of the strip over the bands that says what the columns are, as a share of all. */
const CAPTION_SHARE = { ofHeight: 0.034, ofWidth: 0.018 } as const;
/** A panel takes this much of its lane's height; the swimmers run along its lower edge. */
const PANEL_SHARE = 0.9;
const MARKER_SHARE = 0.19;
const MOST_MARKER_SHARE = 0.036;

export interface Bands {
  readonly grid: BandGrid;
  readonly boxes: Box[];
  readonly tracks: Track[];
}

/** A band per lane, in the board's order, from top to bottom of `rect`, under a line of captions. */
export function layOutBands(rect: Rect, board: Board, screen: Screen): Bands {
  const strip = Math.min(rect.height * CAPTION_SHARE.ofHeight, rect.width * CAPTION_SHARE.ofWidth);
  const pitch = (rect.height - strip) / board.lanes.length;
  const marker = Math.min(pitch * MARKER_SHARE, rect.height * MOST_MARKER_SHARE, rect.width * MOST_MARKER_SHARE);
  const height = Math.max(pitch * PANEL_SHARE, pitch - marker * 0.55);
  const inset = Math.min(rect.width * 0.008, height * 0.1);
  const panelOf = (place: number): Rect => ({
    x: rect.x + inset,
    y: rect.y + strip + pitch * place,
    width: rect.width - inset * 2,
    height,
  });
  const { room } = divide(panelOf(0), marker);
  const grid = bandGridFor(board.lanes, room, screen);
  const columns = columnsOf(grid, room);
  const grown = { x: inset, y: Math.min(inset, (pitch - height) * 0.45) };
  const bands = board.lanes.map((lane, place) => {
    const panel = panelOf(place);
    return { lane, panel, ...divide(panel, marker) };
  });
  return {
    grid,
    boxes: [
      ...captions({ ...rect, height: strip }, grid, columns, board.lanes, screen),
      ...bands.flatMap((band) => bandBoxes({ ...band, grid, columns, screen, board }, grown)),
    ],
    tracks: bands
      .filter(({ lane }) => !isLit(lane, board))
      .map(({ lane: { lane }, panel, track }) => {
        const tile = tileWidth(panel, columns, grid);
        return { lane, ...track, x: track.x + tile, width: track.width - tile };
      }),
  };
}

/** Writing in the panel; the water that the markers run along is its lower edge. */
function divide(panel: Rect, marker: number): { room: Rect & BandRoom; track: Rect } {
  const padX = Math.max(Math.min(panel.height * 0.18, 40), panel.width * 0.012);
  const padY = panel.height * 0.06;
  const bottom = panel.y + panel.height;
  return {
    room: {
      x: panel.x + padX,
      width: panel.width - padX * 2,
      y: panel.y + padY,
      height: panel.height - padY - marker * 0.58,
      below: Math.min(marker * 0.58, (padY + marker * 0.58) / 2),
    },
    track: { x: panel.x, width: panel.width, y: bottom - marker / 2, height: marker },
  };
}

/** In the last seconds before its first swimmer leaves a band turns light; its water is not needed then. */
const isLit = ({ phase }: LaneBoard, board: Board): boolean => phase === 'leaving' && board.phase === 'running';

/** The lane's number stands on a tile at the left end, like the block at the head of a lane. */
const tileWidth = (panel: Rect, { laneRight }: BandColumns, { gap }: BandGrid): number =>
  laneRight + Math.min(gap * 0.45, laneRight - panel.x) - panel.x;

interface Band {
  readonly lane: LaneBoard;
  readonly panel: Rect;
  readonly room: Rect & BandRoom;
  readonly grid: BandGrid;
  readonly columns: BandColumns;
  readonly screen: Screen;
  readonly board: Board;
}

function bandBoxes(band: Band, grown: { x: number; y: number }): Box[] {
  const { lane, panel, room, grid, columns, screen, board } = band;
  const inverted = isLit(lane, board);
  const radius = Math.min(panel.height * 0.14, 28);
  // It also steps out of the row.
  const large: Rect = {
    x: panel.x - grown.x,
    y: panel.y - grown.y,
    width: panel.width + grown.x * 2,
    height: panel.height + grown.y * 2,
  };
  const within = inverted ? { ...room, y: panel.y, height: panel.height, below: 0 } : room;
  const place: Place = {
    lane,
    grid,
    columns,
    screen,
    inverted,
    held: board.phase === 'held',
    at: board.at,
    within,
    tile: { x: panel.x + tileWidth(panel, columns, grid) / 2, y: panel.y + panel.height / 2 },
    ...linesOf(grid, within),
  };
  return [
    inverted
      ? { kind: 'panel', id: `lane${lane.lane}.lit`, ...large, radius: radius * 1.2, colour: 'leave' }
      : { kind: 'panel', id: `lane${lane.lane}.panel`, ...panel, radius, colour: 'well' },
    {
      kind: 'panel',
      id: `lane${lane.lane}.tile${inverted ? '.lit' : ''}`,
      ...panel,
      width: tileWidth(panel, columns, grid),
      radius,
      colour: inverted ? 'ink' : 'quiet',
    },
    ...ownLine(place),
    ...cellBoxes(place),
  ];
}

/** What the columns are, once for all lanes; small, since it is learned once. */
function captions(
  strip: Rect,
  grid: BandGrid,
  columns: BandColumns,
  lanes: readonly LaneBoard[],
  screen: Screen,
): Box[] {
  const { widths } = grid;
  const most = strip.height * 0.58;
  const caption = (id: string, text: string, x: number, width: number, align: 'left' | 'right'): Box => {
    const cap = capToFit(text, most, width);
    return words(screen, {
      id: `caption.${id}`,
      role: 'caption',
      text,
      cap,
      x,
      y: strip.y + (most - cap),
      align,
      colour: 'quiet',
    });
  };
  const waits = lanes.some(({ countdownMs }) => countdownMs !== null);
  const held = widths.target > 0 && !grid.stacked;
  return [
    ...(waits ? [caption('countdown', 'leave in', columns.countdownRight, widths.countdown, 'right')] : []),
    ...(lanes.some(({ nextReading }) => nextReading !== null)
      ? [caption('reading', 'at', columns.readingLeft, widths.reading, 'left')]
      : []),
    ...(held ? [caption('target', 'hold', columns.cellLefts[0] ?? 0, widths.target, 'left')] : []),
    ...(widths.rest > 0 ? [caption('rest', 'rest', columns.restRight, widths.rest, 'right')] : []),
    ...(widths.rep > 0 ? [caption('rep', 'rep', columns.repRight, widths.rep, 'right')] : []),
  ];
}
