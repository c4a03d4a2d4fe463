import type { Activity, RaceStroke } from '../../../shared-types/squad.ts';

/** A time for a distance, exact (not rounded), and where it comes from. */
export interface Paced {
  readonly ms: number;
  readonly basis: string;
  /** What makes it an estimate, as `converted from LCM`; null for a time that follows from the swimmer's own alone. */
  readonly estimate: string | null;
}

/** Why there is no time, as the end of "… has": `no 200 fly time (SCM)`. */
export interface NoPace {
  readonly missing: string;
}

export type PaceResult = Paced | NoPace;

export const isPaced = (result: PaceResult): result is Paced => 'ms' in result;

/** What is swum: a distance in the course's unit, of one stroke. */
export interface Stretch {
  readonly distance: number;
  /** Null where no race stroke is fixed (choice). */
  readonly stroke: RaceStroke | null;
  readonly activity: Activity;
  readonly start: 'push' | 'dive';
}
