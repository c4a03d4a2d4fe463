import type { LaneNumber, Ms } from '../../../shared-types/brand.ts';
import type { End } from '../../../shared-types/pool.ts';

/**
 * What the text comes to before anything has a time: reps and rests of single lanes and the joins between lanes, in
 * the order of the practice. Of two drafts that share a lane, the earlier one happens first.
 */

interface DraftBase {
  readonly id: string;
  readonly line: number;
  readonly section: number;
  /** [CMD7] Of a set that is skipped: it tells what has begun where it stands, but is not swum. */
  readonly skipped?: true;
}

export interface RepDraft extends DraftBase {
  readonly kind: 'rep';
  readonly lane: LaneNumber;
  readonly set: number;
  /** Time to the next send-off; null: the rep lasts until the last swimmer should be back, `lastBackMs`. */
  readonly cycleMs: number | null;
  readonly lastBackMs: number;
  readonly outerRound?: number;
  readonly outerRounds?: number;
  readonly round?: number;
  readonly rounds?: number;
  readonly rep: number;
  readonly reps: number;
  readonly heat?: number;
  readonly heats?: number;
  readonly distance?: number;
  readonly timedMs?: Ms;
  readonly stroke: string;
  readonly effort?: string;
  readonly start: 'push' | 'dive';
  readonly fromEnd: End;
  readonly toEnd: End;
  readonly apartMs: Ms;
  readonly targets: readonly number[];
}

export interface RestDraft extends DraftBase {
  readonly kind: 'rest';
  readonly lane: LaneNumber;
  readonly reason: 'rest' | 'between';
  readonly restMs: number;
}

export interface JoinDraft extends DraftBase {
  readonly kind: 'join';
  readonly lanes: readonly LaneNumber[];
  /** `gate`: stays shut until the coach says go. `after set`: the gate that ends a set the coach releases. */
  readonly gate: false | 'gate' | 'after set';
}

export type Draft = RepDraft | RestDraft | JoinDraft;

export const draftLanes = (draft: Draft): readonly LaneNumber[] => (draft.kind === 'join' ? draft.lanes : [draft.lane]);
