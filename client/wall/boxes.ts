import type { LanePhase } from '../../shared-types/board/phase.ts';
import type { ColourRole } from '../common/palette.ts';
import { drawnOf } from './drawn-text.ts';
import { angleOnScreen, type Screen, type TextRole } from './legibility.ts';
import { CAP_HEIGHT, emOf, figuresWidth, TAIL, wordsWidth } from './type-metrics.ts';

/** A rectangle of the page, CSS pixels. */
export interface Rect {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface TextBox extends Rect {
  readonly kind: 'text';
  /** Unique on the page and stable from picture to picture. */
  readonly id: string;
  readonly role: TextRole;
  readonly text: string;
  /** Figures stand in fixed cells; words run. */
  readonly set: 'figures' | 'words';
  /** Height of capitals and digits, CSS pixels; the box begins at their top. */
  readonly cap: number;
  /** Under which that height is seen from the screen's farthest reader. */
  readonly arcMinutes: number;
  readonly align: 'left' | 'centre' | 'right';
  readonly colour: ColourRole;
}

/** A lane's phases, each with a drawing of its own. */
export type MarkName = LanePhase;

/** A small drawing that says what a word says too. */
export interface MarkBox extends Rect {
  readonly kind: 'mark';
  readonly id: string;
  readonly mark: MarkName;
  readonly colour: ColourRole;
}

/** A surface that texts stand on. */
interface PanelBox extends Rect {
  readonly kind: 'panel';
  readonly id: string;
  readonly radius: number;
  readonly colour: ColourRole;
}

/** The minute as a rope of sixty beads, lit one a second. */
interface RopeBox extends Rect {
  readonly kind: 'rope';
  readonly id: string;
  readonly lit: number;
}

/** Points at a bead from below: lanes leave then. */
export interface FlagBox extends Rect {
  readonly kind: 'flag';
  readonly id: string;
  readonly colour: ColourRole;
}

export type Box = TextBox | MarkBox | PanelBox | RopeBox | FlagBox;

/** Where a lane's markers run, from wall to wall. */
export interface Track extends Rect {
  readonly lane: number;
}

/** How much of the lanes there was room for. */
export type Detail = 'clock' | 'everyone' | 'leader' | 'line';

export interface WallLayout {
  readonly detail: Detail;
  readonly boxes: readonly Box[];
  readonly tracks: readonly Track[];
  /** From how far everything that must be read can be, metres. */
  readonly readableToM: number;
}

/** Where a text goes: the top of its capitals, and either edge or the middle. */
export interface TextSpot {
  readonly id: string;
  readonly role: TextRole;
  readonly text: string;
  readonly cap: number;
  readonly x: number;
  readonly y: number;
  readonly align?: 'left' | 'centre' | 'right';
  readonly colour?: ColourRole;
}

const SHARE_LEFT_OF_SPOT = { left: 0, centre: 0.5, right: 1 } as const;

/** How far a text hangs below its base line. */
export const tailOf = (text: string, cap: number): number => (TAILED.test(text) ? cap * TAIL : 0);
/** Letters that reach below the base line; of those beyond ASCII any may. */
const TAILED = /[gjpqyQ,;()]|[^\x20-\x7E×·–é]/;

function textBox(screen: Screen, set: 'figures' | 'words', spot: TextSpot): TextBox {
  const { cap, align = 'left', colour = 'paper', x, y, id, role, text } = spot;
  const width = (set === 'figures' ? figuresWidth(text) : wordsWidth(text)) * emOf(cap);
  const height = set === 'figures' ? cap : cap + tailOf(text, cap);
  const left = x - width * SHARE_LEFT_OF_SPOT[align];
  const arcMinutes = angleOnScreen(cap, screen);
  return { kind: 'text', set, id, role, text, cap, arcMinutes, align, colour, x: left, y, width, height };
}

export const figures = (screen: Screen, spot: TextSpot): TextBox => textBox(screen, 'figures', spot);
export const words = (screen: Screen, spot: TextSpot): TextBox =>
  textBox(screen, 'words', { ...spot, text: drawnOf(spot.text) });

/** The largest capitals, at most `cap`, with which `text` takes at most `width`. */
export const capToFit = (text: string, cap: number, width: number): number =>
  Math.min(cap, (width / Math.max(0.01, wordsWidth(text))) * CAP_HEIGHT);
