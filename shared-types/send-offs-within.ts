import type { Instant } from './brand.ts';
import { type LaneMotion, laneRunOf, placeIn, sendOffsOf } from './motion.ts';
import { departuresOf, type Sheet, type SheetLane } from './sheet.ts';

/** A swimmer who leaves on a rep. */
export interface SendOff {
  readonly lane: SheetLane['lane'];
  /** Index of the rep in its lane's steps. */
  readonly step: number;
  readonly swimmer: SheetLane['swimmers'][number];
  /** Place among those who leave on the rep, from 0. */
  readonly place: number;
  readonly at: Instant;
}

/** Swimmers may leave on a rep after the next has begun, but not on one so many reps back. */
const REPS_BACK = 12;

/** Who leaves after `from` and not after `to`, as the lanes move by these vectors, lane by lane in order of the steps. */
export function sendOffsWithin(sheet: Sheet, motions: readonly LaneMotion[], from: Instant, to: Instant): SendOff[] {
  return sheet.lanes.flatMap((lane) => {
    const run = laneRunOf(sheet, motions, lane.lane);
    if (!run) return [];
    const [first, last] = [placeIn(run, from).ahead - 1 - REPS_BACK, placeIn(run, to).ahead];
    return lane.steps.slice(Math.max(run.first, first), last).flatMap((step, offset): SendOff[] => {
      if (step.kind !== 'rep') return [];
      const index = Math.max(run.first, first) + offset;
      const sendOffs = sendOffsOf(run, index);
      return departuresOf(lane, step).flatMap(({ swimmer }, place) => {
        const at = sendOffs[place] ?? null;
        return at !== null && at > from && at <= to ? [{ lane: lane.lane, step: index, swimmer, place, at }] : [];
      });
    });
  });
}
