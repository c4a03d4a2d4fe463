import type { Ms } from './brand.ts';
import type { Activity, RaceStroke } from './squad.ts';

/**
 * The parsed practice: what the coach wrote, before it meets a squad and a pool.
 * Lines and columns count from 1.
 */
export interface Practice {
  readonly title?: string;
  readonly sections: readonly Section[];
}

export const STYLES = [
  'race pace',
  'active rest',
  'best average',
  'stand-up',
  'power',
  'threshold',
  'aerobic',
  'skills',
] as const;
/** What a set is for. */
export type Style = (typeof STYLES)[number];

export interface Section {
  /** Empty for lines before the first section line. */
  readonly name: string;
  readonly style?: Style;
  readonly line: number;
  readonly items: readonly Item[];
  readonly notes: readonly Note[];
}

export interface Note {
  readonly line: number;
  readonly text: string;
}

export type Item = SetItem | RoundsItem | GroupsItem | RestItem | WaitItem | TogetherItem;

interface Placed {
  readonly line: number;
  readonly column: number;
}

export interface RestItem extends Placed {
  readonly kind: 'rest';
  readonly restMs: Ms;
}

/** A gate: all lanes stand until the coach says go. */
export interface WaitItem extends Placed {
  readonly kind: 'wait';
}

/** All lanes wait here for the slowest. */
export interface TogetherItem extends Placed {
  readonly kind: 'together';
}

export interface RoundsItem extends Placed {
  readonly kind: 'rounds';
  readonly count: number;
  /** All lanes meet at the start of each round. */
  readonly together: boolean;
  readonly betweenMs?: Ms;
  readonly items: readonly Item[];
}

export type Who =
  | { readonly kind: 'groups'; readonly groups: readonly string[] }
  | { readonly kind: 'lanes'; readonly from: number; readonly to: number };

export interface GroupsItem extends Placed {
  readonly kind: 'groups';
  readonly who: Who;
  readonly items: readonly Item[];
}

/** A value for everybody (one entry) or one a pace group, A first. */
export type PerGroup<T> = readonly [T, ...T[]];

export type SetStroke = RaceStroke | 'choice' | 'IM order' | 'own';

export const RESISTED = ['cord', 'parachute', 'pulley'] as const;
export const EQUIPMENT_NAMES = [...RESISTED, 'fins', 'paddles', 'buoy', 'snorkel', 'board'] as const;
export interface Equipment {
  readonly name: (typeof EQUIPMENT_NAMES)[number];
  /** Stack mass of a pulley, kilograms. */
  readonly massKg?: number;
}

export type Release =
  | { readonly kind: 'interval'; readonly intervalMs: PerGroup<Ms>; readonly droppingMs?: Ms }
  | { readonly kind: 'rest'; readonly restMs: Ms }
  | { readonly kind: 'go'; readonly byHeat: boolean };

/** Which race a pace comes from; the set's own stroke and the swimmer's own event are looked up later. */
export interface RacePace {
  readonly distance: number;
  /** Absent: the stroke being swum. `own`: the stroke of the swimmer's main event. */
  readonly stroke?: RaceStroke | 'own';
  readonly part?: 'front' | 'middle' | 'back-half';
}

export type Effort =
  | { readonly kind: 'easy' | 'smooth' | 'build' | 'max' | 'best average' }
  /** `over` is the number of reps a descent takes, e.g. 4 in `descend 1-4`; absent: the whole set. */
  | { readonly kind: 'descend'; readonly over?: number }
  | { readonly kind: 'threshold'; readonly plusMsPer100: number }
  /** `percent` of the race's speed or time (a pool setting), 100 when not written. */
  | { readonly kind: 'pace'; readonly race: RacePace; readonly percent: number }
  | {
      readonly kind: 'ramp';
      readonly race: RacePace;
      readonly fromPercent: number;
      readonly toPercent: number;
      readonly by: 'rep' | 'round';
    }
  /** `perDistance` absent: the time is for the rep. */
  | { readonly kind: 'hold'; readonly timeMs: PerGroup<Ms>; readonly perDistance?: number }
  | { readonly kind: 'alternate'; readonly odds: Effort; readonly evens: Effort };

/** One stretch of a rep; its distance may be any length. */
export interface Part {
  readonly distance: number;
  readonly stroke?: SetStroke;
  readonly activity?: Activity;
  readonly effort?: Effort;
  readonly column: number;
}

/** One or more equal reps. */
export interface SetItem extends Placed {
  readonly kind: 'set';
  readonly counts: PerGroup<number>;
  /** Distance in the course's unit, or the time a timed rep lasts. */
  readonly size:
    | { readonly kind: 'distance'; readonly distance: number }
    | { readonly kind: 'timed'; readonly timeMs: Ms };
  readonly sizeColumn: number;
  readonly stroke: SetStroke;
  readonly activity: Activity;
  readonly start: 'push' | 'dive';
  readonly equipment: readonly Equipment[];
  /** Absent with one rep: a gate follows; with more: the coach releases each. */
  readonly release?: Release;
  readonly apartMs?: Ms;
  readonly effort?: Effort;
  readonly parts: readonly Part[];
  readonly finishTogether: boolean;
  readonly notes: readonly Note[];
}

/** Strokes, effort and the like are free of case; a text of more than this is refused before it is read. */
export const LIMITS = {
  bytes: 64 * 1024,
  lines: 400,
  lineLength: 500,
  repsPerLane: 1000,
  lanes: 12,
  swimmersPerLane: 12,
  laneRepSwimmers: 20_000,
  /** Rests, gates and joins, each counted for each of its lanes. */
  pauses: 40_000,
} as const;
