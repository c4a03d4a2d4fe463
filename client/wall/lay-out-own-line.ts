import type { LaneBoard } from '../../shared-types/board/lane.ts';
import type { LanePhase } from '../../shared-types/board/phase.ts';
import type { Instant } from '../../shared-types/brand.ts';
import type { ColourRole } from '../common/palette.ts';
import type { BandColumns } from './band-columns.ts';
import type { BandGrid } from './band-grid.ts';
import { type Box, capToFit, figures, type Rect, tailOf, words } from './boxes.ts';
import type { Screen } from './legibility.ts';
import { emOf, figuresWidth, TAIL } from './type-metrics.ts';
import { countdownText, laneLeftAt, PHASE_WORDS, repText, restText, runningText } from './words.ts';

const PHASE_COLOURS: Readonly<Record<LanePhase, ColourRole>> = {
  ready: 'paper',
  leaving: 'leave',
  swimming: 'swim',
  easy: 'easy',
  resting: 'rest',
  joining: 'rest',
  gate: 'gate',
  done: 'quiet',
};

/** One lane's band, with everything that is the same for all lanes. */
export interface Place {
  readonly lane: LaneBoard;
  readonly grid: BandGrid;
  readonly columns: BandColumns;
  readonly screen: Screen;
  /** In the last seconds before the first swimmer leaves: dark on light. */
  readonly inverted: boolean;
  readonly held: boolean;
  readonly at: Instant;
  /** Where writing may stand. */
  readonly within: Rect;
  /** Vertical middle of the lane's own line. */
  readonly middle: number;
  readonly targetsTop: number;
  /** Middle of the tile with the lane's number. */
  readonly tile: { readonly x: number; readonly y: number };
}

export const shade = ({ inverted }: Place, colour: ColourRole): ColourRole => (inverted ? 'ink' : colour);

/** What all figures of the lane's own line stand on. */
const baseOf = ({ middle, grid }: Place): number => middle + grid.heroCap / 2;

/** Lane, phase, countdown and reading; at the other end rest and rep. */
export function ownLine(place: Place): Box[] {
  const { lane, grid, columns, screen, middle } = place;
  const { widths, heroCap } = grid;
  const number = figures(screen, {
    id: `lane${lane.lane}.lane`,
    role: 'lane',
    text: String(lane.lane),
    cap: heroCap,
    x: place.tile.x,
    y: place.tile.y - heroCap / 2,
    align: 'centre',
    colour: place.inverted ? 'leave' : 'ink',
  });
  const phase: Rect = { x: columns.phaseLeft, y: middle - heroCap / 2, width: widths.phase, height: heroCap };
  const waits = lane.countdownMs !== null;
  return [
    number,
    ...phaseBoxes(place, phase, waits),
    ...(waits ? waitBoxes(place, lane.countdownMs) : waitingWord(place)),
    ...timeBox(place),
    ...restBox(place),
    ...repBoxes(place),
  ];
}

/** The phase as a drawing, with its word under it unless that stands elsewhere. */
function phaseBoxes(place: Place, at: Rect, withWord: boolean): Box[] {
  const { lane, screen } = place;
  const id = `lane${lane.lane}`;
  const colour = shade(place, PHASE_COLOURS[lane.phase]);
  const size = at.height * (withWord ? 0.56 : 0.8);
  const top = withWord ? at.y : at.y + (at.height - size) / 2;
  const square = { x: at.x + (at.width - size) / 2, y: top, width: size, height: size };
  const mark: Box = { kind: 'mark', id: `${id}.mark`, mark: lane.phase, colour, ...square };
  if (!withWord) return [mark];
  const text = PHASE_WORDS[lane.phase];
  const cap = capToFit(text, at.height * 0.25, at.width);
  const spot = { x: at.x + at.width / 2, y: at.y + at.height - cap * (1 + TAIL), align: 'centre', colour } as const;
  return [mark, words(screen, { id: `${id}.phase`, role: 'phase', text, cap, ...spot })];
}

/** Time to the send-off, and what the clock will show then. In the last seconds the figure is as large as it goes. */
function waitBoxes(place: Place, countdownMs: number): Box[] {
  const { lane, grid, columns, screen, inverted, held, middle, within, targetsTop } = place;
  const { widths, heroCap, readingCap } = grid;
  const id = `lane${lane.lane}`;
  const text = countdownText(countdownMs);
  const widthFits = (widths.countdown / (figuresWidth(text) * emOf(1))) * 0.98;
  const room = grid.stacked ? Math.min(heroCap * 1.25, (targetsTop - middle) * 1.96) : within.height * 0.84;
  const most = Math.min(room, (middle - within.y) * 1.9);
  const cap = inverted ? Math.max(heroCap, Math.min(most, heroCap * 1.7, widthFits)) : heroCap;
  const count = figures(screen, {
    id: `${id}.countdown`,
    role: 'countdown',
    text,
    cap,
    x: columns.countdownRight,
    y: middle - cap / 2,
    align: 'right',
    colour: shade(place, held ? 'held' : 'paper'),
  });
  if (lane.nextReading === null) return [count];
  const reading = figures(screen, {
    id: `${id}.reading`,
    role: 'reading',
    text: lane.nextReading,
    cap: readingCap,
    x: columns.readingLeft,
    y: baseOf(place) - readingCap,
    colour: shade(place, 'quiet'),
  });
  return [count, reading];
}

/** Where there is no time to wait for, the word stands in its place, large. */
function waitingWord(place: Place): Box[] {
  const { lane, grid, columns, screen, within } = place;
  const text = PHASE_WORDS[lane.phase];
  const width = columns.readingLeft + grid.widths.reading - columns.waitLeft;
  const cap = capToFit(text, grid.heroCap * 0.7, width);
  // On the figures' base, unless tails of letters would hang out of the band.
  const floor = grid.stacked ? place.targetsTop : within.y + within.height;
  const lowest = floor - cap - tailOf(text, cap);
  const colour = shade(place, PHASE_COLOURS[lane.phase]);
  const spot = { x: columns.waitLeft, y: Math.min(baseOf(place) - cap, lowest), colour } as const;
  return [words(screen, { id: `lane${lane.lane}.phase`, role: 'phase', text, cap, ...spot })];
}

/** The time of who is first on the way, until the next are about to leave; the others take off their gap. */
function runningOf({ lane, at, inverted }: Place): string {
  const leftAt = inverted ? null : laneLeftAt(lane);
  return leftAt === null ? '' : runningText(at - leftAt);
}

function timeBox(place: Place): Box[] {
  const { lane, grid, columns, screen } = place;
  const text = grid.shared || grid.widths.time > 0 ? runningOf(place) : '';
  if (text === '') return [];
  const cap = grid.targetCap;
  const x = grid.shared ? columns.restRight : columns.timeRight;
  const spot = { cap, x, y: baseOf(place) - cap, align: 'right', colour: 'swim' } as const;
  return [figures(screen, { id: `lane${lane.lane}.time`, role: 'target', text, ...spot })];
}

function restBox(place: Place): Box[] {
  const { lane, grid, columns, screen } = place;
  const isTaken = grid.shared && runningOf(place) !== '';
  const text = grid.widths.rest > 0 && !isTaken ? restText(lane) : '';
  if (text === '') return [];
  const cap = grid.targetCap;
  const spot = {
    cap,
    x: columns.restRight,
    y: baseOf(place) - cap,
    align: 'right',
    colour: shade(place, 'rest'),
  } as const;
  return [figures(screen, { id: `lane${lane.lane}.rest`, role: 'target', text, ...spot })];
}

/** Which rep, strongly; of how many, quietly. */
function repBoxes(place: Place): Box[] {
  const { lane, grid, columns, screen } = place;
  const text = lane.rep ? repText(lane.rep) : '';
  if (text === '') return [];
  const cap = grid.targetCap;
  const [rep = '', reps = ''] = text.split('/');
  const spot = { role: 'rep', cap, y: baseOf(place) - cap, align: 'right' } as const;
  const ofMany = figures(screen, {
    ...spot,
    id: `lane${lane.lane}.reps`,
    text: `/${reps}`,
    x: columns.repRight,
    colour: shade(place, 'quiet'),
  });
  return [
    figures(screen, { ...spot, id: `lane${lane.lane}.rep`, text: rep, x: ofMany.x, colour: shade(place, 'paper') }),
    ofMany,
  ];
}
