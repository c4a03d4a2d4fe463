import type { Board } from '../../shared-types/board/board.ts';
import type { LaneBoard } from '../../shared-types/board/lane.ts';
import { type BandColumns, columnsOf } from './band-columns.ts';
import { type BandGrid, bandGridFor, cellWidthOf, linesOf } from './band-grid.ts';
import { type Box, capToFit, type Rect, type Track, words } from './boxes.ts';
import { cellBoxes } from './lay-out-cells.ts';
import { ownLine, type Place } from './lay-out-own-line.ts';
import type { Screen } from './legibility.ts';
import { gapsText, restText } from './words.ts';

/** Height of the strip over the bands that says what the columns are, as a share of all. */
const CAPTION_SHARE = { ofHeight: 0.034, ofWidth: 0.018 } as const;
/** Size of a swimmer's disc, as a share of a lane's height and of all bands. */
const MARKER_SHARE = 0.17;
const MOST_MARKER_SHARE = 0.036;
/** Between two panels lies the water that the discs run along, a little narrower than they are. */
const GAP_SHARE = 0.7;
/** So much of a disc reaches over the edges of the panels beside it: no writing stands there, nor quite so near. */
const REACH_SHARE = (1 - GAP_SHARE) / 2;
const CLEAR_SHARE = REACH_SHARE * 2;

export interface Bands {
  readonly grid: BandGrid;
  readonly boxes: Box[];
  readonly tracks: Track[];
}

/** A band per lane, in the board's order, from top to bottom of `rect`, under a line of captions. */
export function layOutBands(rect: Rect, board: Board, screen: Screen): Bands {
  const strip = Math.min(rect.height * CAPTION_SHARE.ofHeight, rect.width * CAPTION_SHARE.ofWidth);
  const whole = (rect.height - strip) / board.lanes.length;
  const marker = Math.min(whole * MARKER_SHARE, rect.height * MOST_MARKER_SHARE, rect.width * MOST_MARKER_SHARE);
  const pitch = whole - (marker * REACH_SHARE) / board.lanes.length;
  const height = pitch - marker * GAP_SHARE;
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
      ...captions({ ...rect, height: strip }, grid, columns, board, screen),
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

/** Writing in the panel, clear of the discs that run along the water under it and of those of the lane above. */
function divide(panel: Rect, marker: number): { room: Rect; track: Rect } {
  const padX = Math.max(Math.min(panel.height * 0.18, 40), panel.width * 0.012);
  const padY = Math.max(panel.height * 0.05, marker * CLEAR_SHARE);
  const bottom = panel.y + panel.height;
  return {
    room: {
      x: panel.x + padX,
      width: panel.width - padX * 2,
      y: panel.y + padY,
      height: panel.height - padY - marker * CLEAR_SHARE,
    },
    track: { x: panel.x, width: panel.width, y: bottom - marker * REACH_SHARE, height: marker },
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
  readonly room: Rect;
  readonly track: Rect;
  readonly grid: BandGrid;
  readonly columns: BandColumns;
  readonly screen: Screen;
  readonly board: Board;
}

function bandBoxes(band: Band, grown: { x: number; y: number }): Box[] {
  const { lane, panel, room, track, grid, columns, screen, board } = band;
  const inverted = isLit(lane, board);
  const radius = Math.min(panel.height * 0.14, 28);
  // It also steps out of the row.
  const large: Rect = {
    x: panel.x - grown.x,
    y: panel.y - grown.y,
    width: panel.width + grown.x * 2,
    height: panel.height + grown.y * 2,
  };
  const reach = panel.y + panel.height - track.y;
  const within = inverted ? { ...room, y: panel.y + reach, height: panel.height - reach * 2 } : room;
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
function captions(strip: Rect, grid: BandGrid, columns: BandColumns, { lanes, phase }: Board, screen: Screen): Box[] {
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
  // What the others of a lane take off its time.
  const lanesTime = ['time', gapsText(lanes)].filter(Boolean).join(' ');
  const rest = grid.shared
    ? [...(lanes.some((lane) => restText(lane) !== '') ? ['rest'] : []), lanesTime].join(' · ')
    : 'rest';
  // No other caption stands between the first cell's and the lane's time.
  const [cellLeft = 0] = columns.cellLefts;
  const cellCaptions = cellLeft + (widths.own > 0 ? cellWidthOf(widths, grid.gap) : widths.target);
  const timeLeft = (grid.stacked ? columns.readingLeft + widths.reading : cellCaptions) + grid.gap;
  return [
    ...(waits
      ? [
          caption(
            'countdown',
            phase === 'held' ? 'after hold' : 'leave in',
            columns.countdownRight,
            widths.countdown,
            'right',
          ),
        ]
      : []),
    ...(lanes.some(({ nextReading }) => nextReading !== null)
      ? [caption('reading', 'at', columns.readingLeft, widths.reading, 'left')]
      : []),
    ...(held ? [caption('target', 'hold', columns.cellLefts[0] ?? 0, widths.target, 'left')] : []),
    ...(widths.own > 0 && !grid.stacked
      ? [caption('own', grid.detail === 'everyone' ? 'time' : lanesTime, cellCaptions, widths.own, 'right')]
      : []),
    ...(widths.time > 0 ? [caption('time', lanesTime, columns.timeRight, columns.timeRight - timeLeft, 'right')] : []),
    ...(widths.rest > 0
      ? [caption('rest', rest, columns.restRight, grid.shared ? columns.restRight - timeLeft : widths.rest, 'right')]
      : []),
    ...(widths.rep > 0 ? [caption('rep', 'rep', columns.repRight, widths.rep, 'right')] : []),
  ];
}
