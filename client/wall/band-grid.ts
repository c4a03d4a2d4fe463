import type { LaneBoard } from '../../shared-types/board/lane.ts';
import { type Needs, needsOf } from './band-needs.ts';
import type { Detail } from './boxes.ts';
import { ANGLES, pixelsForAngle, type Screen } from './legibility.ts';
import { emOf, figuresWidth, TAIL } from './type-metrics.ts';

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
  /** The rest's column shows the lane's time while that runs: there is no room for both. */
  readonly shared: boolean;
  /** What is kept free under the last line of targets for what hangs below names, CSS pixels. */
  readonly tails: number;
}

export interface Widths {
  readonly lane: number;
  readonly phase: number;
  readonly countdown: number;
  readonly reading: number;
  /** The lane's time. */
  readonly time: number;
  readonly rest: number;
  readonly rep: number;
  readonly name: number;
  readonly passing: number;
  readonly target: number;
  /** Each swimmer's own time. */
  readonly own: number;
}

/** The room there is in each band. */
export interface BandRoom {
  readonly width: number;
  readonly height: number;
}

/** What of times that run and rest to come there is, besides what is held. */
interface Extras {
  /** Each swimmer's own time. */
  readonly own: boolean;
  /** The lane's time and the rest to come, in a column each or in one between them. */
  readonly ends: 'none' | 'rest' | 'shared' | 'both';
}

interface Form {
  readonly detail: BandGrid['detail'];
  readonly names: boolean;
  readonly passing: boolean;
  /** Names are cut to this, in ems. */
  readonly nameEms: number;
  readonly cells: (needs: Needs) => number;
}

/** Enough for most first names; and still enough to tell those of a lane apart. */
const LONG_NAME = 4.4;
const SHORT_NAME = 3.4;

/** From the richest to the plainest. */
const FORMS: readonly Form[] = [
  { detail: 'everyone', names: true, passing: true, nameEms: LONG_NAME, cells: ({ swimmers }) => swimmers },
  { detail: 'everyone', names: true, passing: false, nameEms: LONG_NAME, cells: ({ swimmers }) => swimmers },
  { detail: 'everyone', names: false, passing: false, nameEms: LONG_NAME, cells: ({ swimmers }) => swimmers },
  { detail: 'leader', names: true, passing: true, nameEms: LONG_NAME, cells: ({ swimmers }) => Math.min(2, swimmers) },
  { detail: 'leader', names: true, passing: false, nameEms: LONG_NAME, cells: ({ swimmers }) => Math.min(2, swimmers) },
  { detail: 'leader', names: true, passing: true, nameEms: LONG_NAME, cells: () => 1 },
  { detail: 'leader', names: true, passing: false, nameEms: LONG_NAME, cells: () => 1 },
  { detail: 'leader', names: true, passing: false, nameEms: SHORT_NAME, cells: () => 1 },
  { detail: 'line', names: false, passing: false, nameEms: LONG_NAME, cells: () => 1 },
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
/** From the richest to the plainest; each is shown when the rest gets no smaller than by this for it. */
const EXTRAS: readonly (Extras & { readonly worth: number; readonly details: readonly Detail[] })[] = [
  { own: true, ends: 'rest', worth: 0.8, details: ['everyone'] },
  { own: true, ends: 'none', worth: 0.8, details: ['everyone'] },
  { own: false, ends: 'both', worth: 0.9, details: ['everyone', 'leader', 'line'] },
  { own: false, ends: 'shared', worth: 0.7, details: ['everyone', 'leader', 'line'] },
  // The leader's is the lane's.
  { own: true, ends: 'none', worth: 0.7, details: ['leader'] },
];
/** Where there is no room for times the rest to come is shown when nothing gets smaller by more than this. */
const WORTH_OF_REST = 0.93;
const NO_EXTRAS: Extras = { own: false, ends: 'none' };

/** Between the parts of a cell, in gaps. */
export const CELL_GAP = 0.9;

/** Width of a cell of the grid: name, times on the way, time to hold, own time. */
export function cellWidthOf({ name, passing, target, own }: Widths, gap: number): number {
  const parts = [name, passing, target, own].filter((width) => width > 0);
  return parts.reduce((sum, width) => sum + width, Math.max(0, parts.length - 1) * gap * CELL_GAP);
}

/** What the lane's own line takes: lane, phase, countdown, reading. */
export const ownWidth = ({ lane, phase, countdown, reading }: Widths, gap: number): number =>
  lane + phase + countdown + reading + gap * 3.2;

/** What stands at the right end: the lane's time, rest and rep, with the gap before each. */
export const endWidth = ({ time, rest, rep }: Widths, gap: number): number =>
  [time, rest, rep].filter((width) => width > 0).reduce((sum, width) => sum + width + gap * 1.6, 0);

/** All cells of a line, with the least gaps between them. */
const cellsWidth = ({ widths, gap, columns }: BandGrid): number =>
  columns * cellWidthOf(widths, gap) + (columns - 1) * gap * 1.5;

/** Height of all lines of targets. */
const linesHeight = ({ targetCap, rows }: Pick<BandGrid, 'targetCap' | 'rows'>): number =>
  targetCap * (1 + (rows - 1) * LINE_PITCH);

/** The column of the rest to come, in ems. */
const restEms = ({ rest, time }: Needs, { ends }: Extras): number =>
  ({ none: 0, rest, both: rest, shared: Math.max(rest, time) })[ends];

function widthsOf(needs: Needs, form: Form & Extras, heroCap: number, readingCap: number, targetCap: number): Widths {
  const target = emOf(targetCap);
  return {
    lane: needs.lane * emOf(heroCap),
    phase: heroCap * 1.35,
    countdown: needs.countdown * emOf(heroCap),
    reading: figuresWidth(':00') * emOf(readingCap),
    time: form.ends === 'both' ? needs.time * target : 0,
    rest: restEms(needs, form) * target,
    rep: needs.rep * target,
    name: form.names ? Math.min(needs.name, form.nameEms) * target : 0,
    passing: form.passing ? needs.passing * target : 0,
    target: needs.target * target,
    own: form.own ? needs.time * target : 0,
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
function largestOf(form: Form & Extras, needs: Needs, room: BandRoom, least: number, shape: Shape): BandGrid | null {
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
      shared: form.ends === 'shared',
      tails: targetCap * tail,
    };
    if (fits(room, grid)) return grid;
  }
  return null;
}

/** A little smaller, but the smallest allowed is always tried. */
const stepDown = (cap: number, least: number): number => (cap > least ? Math.max(least, cap * STEP) : 0);

function bestOf(form: Form & Extras, needs: Needs, room: BandRoom, least: number): BandGrid | null {
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

/** With times that run and perhaps the rest to come; null where that would cost too much. */
function bestWithTimes(form: Form, needs: Needs, room: BandRoom, least: number): BandGrid | null {
  const plain = bestOf({ ...form, ...NO_EXTRAS }, needs, room, least);
  if (!plain) return null;
  for (const { worth: share, details, ...extras } of EXTRAS) {
    // Whoever's time it is must be seen beside it.
    if (!details.includes(form.detail) || (extras.own && !form.names)) continue;
    const richer = bestOf({ ...form, ...extras }, needs, room, least);
    if (richer && worth(richer) >= worth(plain) * share) return richer;
  }
  return null;
}

/** With the rest to come, where that costs little. */
function bestWithRest(form: Form, needs: Needs, room: BandRoom, least: number): BandGrid | null {
  const plain = bestOf({ ...form, ...NO_EXTRAS }, needs, room, least);
  const rested = plain && bestOf({ ...form, own: false, ends: 'rest' }, needs, room, least);
  return rested && worth(rested) >= worth(plain) * WORTH_OF_REST ? rested : plain;
}

/** Of forms that say as much of as many swimmers the first with times that run, or else the first that fits. */
function bestOfEqual(forms: readonly Form[], needs: Needs, room: BandRoom, least: number): BandGrid | null {
  for (const choose of [bestWithTimes, bestWithRest]) {
    for (const form of forms) {
      const grid = choose(form, needs, room, least);
      if (grid) return grid;
    }
  }
  return null;
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
  for (const equal of groupsOf(forms, needs)) {
    const grid = bestOfEqual(equal, needs, room, least);
    if (grid) return grid;
  }
  return smallGrid(needs, room, least);
}

/** Neighbours that differ only in the times on the way or the length of names; with nothing to hold a second name is not worth a time. */
function groupsOf(forms: readonly Form[], needs: Needs): Form[][] {
  const groups = new Map<string, Form[]>();
  for (const form of forms) {
    const key = `${form.detail} ${form.names} ${needs.target > 0 ? form.cells(needs) : ''}`;
    groups.set(key, [...(groups.get(key) ?? []), form]);
  }
  return [...groups.values()];
}

/** One line a lane, as large as it goes: this screen cannot be read from as far as it should. */
function smallGrid(needs: Needs, room: BandRoom, least: number): BandGrid {
  const [line] = FORMS.slice(-1);
  for (let most = least; line && most >= 1; most *= STEP) {
    const grid = bestOfEqual([line], needs, room, most);
    if (grid) return grid;
  }
  throw new RangeError(`no lane can be drawn in ${room.width} × ${room.height}`);
}
