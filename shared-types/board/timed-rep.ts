import type { Instant, SwimmerId } from '../brand.ts';
import { type LaneRun, sendOffOf, sendOffsOf } from '../motion.ts';
import { departuresOf, lastSplitOf, type RepStep, type Sheet, type Target, targetsOf } from '../sheet.ts';
import type { Labels } from '../wire/from-server.ts';

/** A swimmer of the lane on the rep the band is about. */
export interface LaneSwimmer {
  readonly swimmer: SwimmerId;
  /** What the board may call the swimmer; by the place in the lane, `3rd`, whose name it is not told. */
  readonly label: string;
  /** Place in the lane, from 1. */
  readonly order: number;
  /** When the swimmer leaves, or left; null while that depends on the coach. */
  readonly leavesAt: Instant | null;
  /** Delay after the lane's send-off. */
  readonly afterMs: number;
  readonly target: Target | null;
}

/** A rep and when its swimmers leave or left, in order. */
export interface TimedRep {
  readonly step: RepStep;
  readonly index: number;
  /** When its first swimmer leaves; null while that depends on the coach. */
  readonly leavesAt: Instant | null;
  readonly swimmers: readonly LaneSwimmer[];
}

/** What of a moment decides when reps are swum and what swimmers are called. */
export interface Timetable {
  readonly sheet: Sheet;
  readonly labels: Labels;
}

interface TimedReps {
  readonly labels: Labels;
  readonly byIndex: Map<number, TimedRep | null>;
}

const timedReps = new WeakMap<LaneRun, TimedReps>();

/**
 * The rep at `index` with its departures, or null when there is none. Nothing in it depends on the instant, so it is
 * made once and kept until the run changes: a wall asks sixty times a second.
 */
export function timedRep({ sheet, labels }: Timetable, run: LaneRun, index: number): TimedRep | null {
  let kept = timedReps.get(run);
  if (kept?.labels !== labels) {
    kept = { labels, byIndex: new Map() };
    timedReps.set(run, kept);
  }
  let timed = kept.byIndex.get(index);
  if (timed === undefined) {
    timed = timeRep(sheet, labels, run, index);
    kept.byIndex.set(index, timed);
  }
  return timed;
}

/** The rep before the one at `index` that the lane has swum in this run; null when there is none. */
export function timedRepBefore(timetable: Timetable, run: LaneRun, index: number): TimedRep | null {
  for (let before = index - 1; before >= run.first; before -= 1) {
    const timed = timedRep(timetable, run, before);
    if (timed) return timed;
  }
  return null;
}

/** `1st`, `2nd`, `3rd`, `4th`: a lane has no more than twelve. */
const placeText = (place: number): string => `${place}${['st', 'nd', 'rd'][place - 1] ?? 'th'}`;

function timeRep(sheet: Sheet, labels: Labels, run: LaneRun, index: number): TimedRep | null {
  const step = run.lane.steps[index];
  if (step?.kind !== 'rep') return null;
  const sendOffs = sendOffsOf(run, index);
  const targets = targetsOf(sheet, step);
  const swimmers = departuresOf(run.lane, step).map(({ swimmer, afterMs }, place) => ({
    swimmer,
    label: labels[swimmer] ?? placeText(step.heat ?? place + 1),
    order: step.heat ?? place + 1,
    leavesAt: sendOffs[place] ?? null,
    afterMs,
    target: targets.find((target) => target.swimmer === swimmer) ?? null,
  }));
  return { step, index, leavesAt: sendOffOf(run, index), swimmers };
}

/** The whole rep at its target, easy parts included, from the own send-off, ms; undefined where it is not known. */
export const wholeMsOf = (target: Target | null): number | undefined => lastSplitOf(target)?.ms;
