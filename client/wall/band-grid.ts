import type { LaneBoard, LaneSwimmer } from '../../shared-types/board/lane.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import type { Detail } from './boxes.ts';
import { ANGLES, pixelsForAngle, type Screen } from './legibility.ts';
import { emOf, figuresWidth, TAIL, wordsWidth } from './type-metrics.ts';
import { countdownText, repText, restText } from './words.ts';

/**
 * How the bands of all lanes are divided: the same for each, so that figures stand under each other. Chosen as the
 * richest form whose writing can be read from the screen's farthest place.
 */
export interface BandGrid {
  readonly detail: Exclude<Detail, 'clock'>;
  /** Height of capitals, CSS pixels: lane and countdown; readings; targets, names and reps. */
  readonly heroCap: number;
  readonly readingCap: number;
  readonly targetCap: number;
  /** Targets stand under the lane's own line instead of beside it. */
  readonly stacked: boolean;
  readonly rows: number;
  readonly columns: number;
  /** Widths, CSS pixels. */
  readonly widths: Widths;
  readonly gap: number;
  /** What is kept free under the last line of targets for what hangs below names, CSS pixels. */
  readonly tails: number;
}

export interface Widths {
  readonly lane: number;
  readonly phase: number;
  readonly countdown: number;
  readonly reading: number;
  readonly rest: number;
  readonly rep: number;
  readonly name: number;
  readonly passing: number;
  readonly target: number;
}

/** The room there is in each band. */
export interface BandRoom {
  readonly width: number;
  readonly height: number;
}

/** How much the widest writing of the board takes, in ems, so that nothing moves when a figure changes. */
interface Needs {
  readonly swimmers: number;
  /** Somebody has no target; the name may stand in its place. */
  readonly untimed: boolean;
  readonly lane: number;
  readonly countdown: number;
  readonly rest: number;
  readonly rep: number;
  readonly name: number;
  readonly passing: number;
  readonly target: number;
}

const MOST_NAME_EMS = 4.4;
const MINUTES_EMS = figuresWidth('0:00');
const LONG_EMS = figuresWidth('00:00');

const widest = (texts: readonly string[], widthOf: (text: string) => number): number =>
  texts.reduce((most, text) => Math.max(most, widthOf(text)), 0);

/** A text of figures with every digit the widest, and at least two digits where one may become two. */
const settled = (text: string): string => text.replace(/^\d(?=[./])/, '00');

/** All times a swimmer may be shown on a rep, the widest of which decides the column. */
const holdTexts = ({ target }: LaneSwimmer): string[] =>
  (target?.splits ?? []).filter(({ paced }) => paced).map(({ ms }) => formatSwimTime(ms, 1));
const repShape = ({ rep }: LaneBoard): string =>
  rep && repText(rep) !== '' ? `${String(rep.reps).replace(/\d/g, '0')}/${rep.reps}` : '';

function needsOf(lanes: readonly LaneBoard[]): Needs {
  const swimmers = lanes.flatMap((lane) => lane.swimmers);
  const turns = lanes.flatMap(({ turn }) => turn ?? []);
  const longWait = lanes.some(({ countdownMs }) => countdownMs !== null && countdownText(countdownMs).length > 4);
  return {
    swimmers: Math.max(1, ...lanes.map((lane) => lane.swimmers.length)),
    untimed: swimmers.some((one) => one.label !== '' && holdTexts(one).length === 0),
    lane: widest(
      lanes.map(({ lane }) => String(lane)),
      figuresWidth,
    ),
    countdown: longWait ? LONG_EMS : MINUTES_EMS,
    rest: widest(lanes.map(restText), figuresWidth),
    rep: widest(lanes.map(repShape), figuresWidth),
    name: Math.min(
      MOST_NAME_EMS,
      widest(
        [...swimmers, ...turns].map(({ label }) => label),
        wordsWidth,
      ),
    ),
    passing: widest(
      swimmers.map((one) => holdTexts(one).slice(0, -1).join(' ')),
      figuresWidth,
    ),
    target: widest(swimmers.flatMap(holdTexts).map(settled), figuresWidth),
  };
}

interface Form {
  readonly detail: BandGrid['detail'];
  readonly names: boolean;
  readonly passing: boolean;
  readonly rest: boolean;
  readonly cells: (needs: Needs) => number;
}

/** From the richest to the plainest. */
const FORMS: readonly Form[] = [
  { detail: 'everyone', names: true, passing: true, rest: false, cells: ({ swimmers }) => swimmers },
  { detail: 'everyone', names: true, passing: false, rest: false, cells: ({ swimmers }) => swimmers },
  { detail: 'everyone', names: false, passing: false, rest: false, cells: ({ swimmers }) => swimmers },
  { detail: 'leader', names: true, passing: true, rest: false, cells: ({ swimmers }) => Math.min(2, swimmers) },
  { detail: 'leader', names: true, passing: false, rest: false, cells: ({ swimmers }) => Math.min(2, swimmers) },
  { detail: 'leader', names: true, passing: true, rest: false, cells: () => 1 },
  { detail: 'leader', names: true, passing: false, rest: false, cells: () => 1 },
  { detail: 'line', names: false, passing: false, rest: false, cells: () => 1 },
];

/** Lines of targets are this much higher than their capitals. */
export const LINE_PITCH = 1.45;
/** Columns are at least so far apart, in the targets' capitals. */
const GAP = 0.5;
/** The lane's own line and the targets under it are so far apart, in the targets' capitals. */
const STACK_GAP = 0.6;
/** Lines of targets in a band, at most: the swimmers of a full lane in two columns. */
const MOST_ROWS = 6;
const READING_SHARE = 0.72;
/** Figures of a lane's own line are at least this much larger than the targets, where there is room. */
const HERO_LEAD = ANGLES.countdown.preferred / ANGLES.target.least;
const STEP = 0.97;
/** The rest to come is shown when nothing else gets smaller by more than this for it. */
const WORTH_OF_REST = 0.93;

/** Between the parts of a cell, in gaps. */
export const CELL_GAP = 0.9;

/** Width of a cell of the grid: name, times on the way, time to hold. */
export function cellWidthOf({ name, passing, target }: Widths, gap: number): number {
  const parts = [name, passing, target].filter((width) => width > 0);
  return parts.reduce((sum, width) => sum + width, Math.max(0, parts.length - 1) * gap * CELL_GAP);
}

/** What the lane's own line takes: lane, phase, countdown, reading. */
export const ownWidth = ({ lane, phase, countdown, reading }: Widths, gap: number): number =>
  lane + phase + countdown + reading + gap * 3.2;

/** What stands at the right end: rest and rep, with the gap before each. */
export const endWidth = ({ rest, rep }: Widths, gap: number): number =>
  [rest, rep].filter((width) => width > 0).reduce((sum, width) => sum + width + gap * 1.6, 0);

/** All cells of a line, with the least gaps between them. */
const cellsWidth = ({ widths, gap, columns }: BandGrid): number =>
  columns * cellWidthOf(widths, gap) + (columns - 1) * gap * 1.5;

/** Height of all lines of targets. */
const linesHeight = ({ targetCap, rows }: Pick<BandGrid, 'targetCap' | 'rows'>): number =>
  targetCap * (1 + (rows - 1) * LINE_PITCH);

function widthsOf(needs: Needs, form: Form, heroCap: number, readingCap: number, targetCap: number): Widths {
  const target = emOf(targetCap);
  return {
    lane: needs.lane * emOf(heroCap),
    phase: heroCap * 1.35,
    countdown: needs.countdown * emOf(heroCap),
    reading: figuresWidth(':00') * emOf(readingCap),
    rest: form.rest ? needs.rest * target : 0,
    rep: needs.rep * target,
    name: form.names ? needs.name * target : 0,
    passing: form.passing ? needs.passing * target : 0,
    target: needs.target * target,
  };
}

/** Where targets under the lane's own line begin: after the tile with its number. */
export const underLeft = ({ lane }: Widths, gap: number): number => lane + gap * 1.2;

/** All that a band's writing takes from top to bottom. */
function highOf(grid: BandGrid): number {
  const { heroCap, targetCap, rows, stacked, tails } = grid;
  const lines = linesHeight(grid) + tails;
  if (stacked) return heroCap + targetCap * STACK_GAP + lines;
  return rows === 1 ? heroCap + tails : Math.max(heroCap, lines);
}

/** Vertical places in a band: the middle of the lane's own line, and the top of the first line of targets. */
export function linesOf(grid: BandGrid, room: { y: number; height: number }): { middle: number; targetsTop: number } {
  const { heroCap, targetCap, rows, stacked, tails } = grid;
  const lines = linesHeight(grid);
  const centre = room.y + room.height / 2;
  if (stacked) {
    const between = targetCap * STACK_GAP;
    const top = centre - (heroCap + between + lines + tails) / 2;
    return { middle: top + heroCap / 2, targetsTop: top + heroCap + between };
  }
  if (rows > 1) return { middle: centre, targetsTop: centre - (lines + tails) / 2 };
  // A single line of targets stands on the same base as the lane's own line, which makes room for its tails.
  const middle = Math.min(centre, room.y + room.height - tails - heroCap / 2);
  return { middle, targetsTop: middle + heroCap / 2 - lines };
}

function fits(room: BandRoom, grid: BandGrid): boolean {
  const { widths, gap, stacked } = grid;
  const end = endWidth(widths, gap);
  const own = ownWidth(widths, gap);
  if (highOf(grid) > room.height) return false;
  if (stacked) return own + end <= room.width && underLeft(widths, gap) + cellsWidth(grid) <= room.width;
  return own + gap * 1.6 + cellsWidth(grid) + end <= room.width;
}

interface Shape {
  readonly stacked: boolean;
  readonly rows: number;
}

/** The largest targets, over tails of so many of their capitals, for which a shape is not too high. */
function highestTargets(room: BandRoom, tail: number, { stacked, rows }: Shape, heroCap: number): number {
  if (!stacked && rows === 1) return tail === 0 ? heroCap : (room.height - heroCap) / tail;
  const lines = 1 + (rows - 1) * LINE_PITCH + tail;
  return stacked ? (room.height - heroCap) / (lines + STACK_GAP) : room.height / lines;
}

/** The grid of a form with the largest figures that fit, or null when they would have to be smaller than `least`. */
function largestOf(form: Form, needs: Needs, room: BandRoom, least: number, shape: Shape): BandGrid | null {
  const columns = Math.ceil(form.cells(needs) / shape.rows);
  const tail = form.names || needs.untimed ? TAIL : 0;
  for (let heroCap = Math.max(least, room.height * 0.84); heroCap >= least; heroCap = stepDown(heroCap, least)) {
    const most = Math.min(heroCap / HERO_LEAD, highestTargets(room, tail, shape, heroCap) * 0.999);
    const targetCap = Math.max(least, most);
    const readingCap = Math.max(least, heroCap * READING_SHARE);
    const widths = widthsOf(needs, form, heroCap, readingCap, targetCap);
    const gap = targetCap * GAP;
    const grid = {
      detail: form.detail,
      heroCap,
      readingCap,
      targetCap,
      ...shape,
      columns,
      gap,
      widths,
      tails: targetCap * tail,
    };
    if (fits(room, grid)) return grid;
  }
  return null;
}

/** A little smaller, but the smallest allowed is always tried. */
const stepDown = (cap: number, least: number): number => (cap > least ? Math.max(least, cap * STEP) : 0);

function bestOf(form: Form, needs: Needs, room: BandRoom, least: number): BandGrid | null {
  const rows = Array.from({ length: Math.min(form.cells(needs), MOST_ROWS) }, (_, place) => place + 1);
  const shapes = rows.flatMap((count) => [
    { stacked: false, rows: count },
    { stacked: true, rows: count },
  ]);
  const grids = shapes.flatMap((shape) => largestOf(form, needs, room, least, shape) ?? []);
  // A countdown of the preferred height comes before larger targets.
  const preferred = grids.filter(({ heroCap }) => heroCap >= least * HERO_LEAD * 0.999);
  const eligible = preferred.length > 0 ? preferred : grids;
  return eligible.reduce<BandGrid | null>((best, grid) => (!best || worth(grid) > worth(best) ? grid : best), null);
}

/** With the rest to come, where that costs little. */
function bestWithRest(form: Form, needs: Needs, room: BandRoom, least: number): BandGrid | null {
  const plain = bestOf(form, needs, room, least);
  const rested = plain && bestOf({ ...form, rest: true }, needs, room, least);
  return rested && worth(rested) >= worth(plain) * WORTH_OF_REST ? rested : plain;
}

/** Large targets count as much as a large countdown; one line is calmer than two. */
const worth = ({ heroCap, targetCap, stacked }: BandGrid): number =>
  Math.sqrt(heroCap * targetCap) * (stacked ? 0.85 : 1);

let latest: { readonly key: string; readonly grid: BandGrid } | null = null;

/** The division of all bands for a board on a screen. The latest one is kept: it seldom changes between two seconds. */
export function bandGridFor(lanes: readonly LaneBoard[], room: BandRoom, screen: Screen): BandGrid {
  const needs = needsOf(lanes);
  const least = pixelsForAngle(ANGLES.target.least, screen);
  const key = JSON.stringify([needs, room, least]);
  if (latest?.key !== key) latest = { key, grid: chooseGrid(needs, room, least) };
  return latest.grid;
}

function chooseGrid(needs: Needs, room: BandRoom, least: number): BandGrid {
  // Without any target a form without names would leave the bands empty, whatever the room.
  const forms = FORMS.filter(({ names, detail }) => names || detail === 'line' || needs.target > 0);
  for (const form of forms) {
    const grid = bestWithRest(form, needs, room, least);
    if (grid) return grid;
  }
  return smallGrid(needs, room, least);
}

/** One line a lane, as large as it goes: this screen cannot be read from as far as it should. */
function smallGrid(needs: Needs, room: BandRoom, least: number): BandGrid {
  const [line] = FORMS.slice(-1);
  for (let most = least; line && most >= 1; most *= STEP) {
    const grid = bestWithRest(line, needs, room, most);
    if (grid) return grid;
  }
  throw new RangeError(`no lane can be drawn in ${room.width} × ${room.height}`);
}
