import { z } from 'zod';
import {
  type Instant,
  instant,
  instantSchema,
  type LaneNumber,
  laneNumberSchema,
  type Ms,
  ms,
  msSchema,
} from './brand.ts';
import { departuresOf, type RepStep, type Sheet, type SheetLane } from './sheet.ts';
import { legAt, sendOffFrom, stepBefore, stepFrom, stretchOf, type Trace, tracesOf, waitsAtJoin } from './trace.ts';

export { departureFrom, legAt, nextGateOf, tracesOf } from './trace.ts';

/**
 * Motion along the sheet. A lane's motion is a vector in the sense of the W3C Timing Object draft: where it was
 * at an instant and whether it moves. Everything else is worked out from it and the sheet's joins; nothing is
 * summed up from ticks.
 */
export const laneMotionSchema = z.object({
  lane: laneNumberSchema,
  /** Place on the lane's axis at `at`. */
  position: msSchema,
  /** 1: moves from `at` on (before that it stands: the lead-in); 0: stands. */
  rate: z.union([z.literal(0), z.literal(1)]),
  at: instantSchema,
  /** How many of the lane's gates have been opened. */
  gates: z.number().int().min(0),
  /**
   * Joins before this index of the sheet's are behind the lane. Needed only where it stands at the very place of a
   * join: it tells whether it still waits for the others there.
   */
  behind: z.number().int().min(0).optional(),
  /** [RUN3] Index of the last rep begun before this vector; absent when its swimmers are no longer looked for. */
  leftOn: z.number().int().min(0).optional(),
  /** When the first swimmer left on it; there whenever `leftOn` is. */
  leftAt: instantSchema.optional(),
  /**
   * By how much the second, third … who had left by then left later than the gap says. Absent when none did and the
   * place alone tells who had left.
   */
  lateMs: z.array(z.number().int()).optional(),
  /** While held: how much later than the first the lane goes on, because it was put off when the hold came. */
  lagMs: z.number().int().positive().optional(),
});
export type LaneMotion = z.infer<typeof laneMotionSchema>;

/** A lane as it is being swum: its steps, its vector and its way from there. */
export interface LaneRun {
  readonly lane: SheetLane;
  readonly motion: LaneMotion;
  readonly trace: Trace;
  /** The steps between the last gate opened and the next: `first … end − 1`. */
  readonly first: number;
  readonly end: number;
  /** Whether the lane, where its vector begins, waits for other lanes. */
  readonly waits: boolean;
}

const laneRuns = new WeakMap<readonly LaneMotion[], { sheet: Sheet; made: ReadonlyMap<LaneNumber, LaneRun> }>();

function laneRunsOf(sheet: Sheet, motions: readonly LaneMotion[]): ReadonlyMap<LaneNumber, LaneRun> {
  const known = laneRuns.get(motions);
  if (known?.sheet === sheet) return known.made;
  const made = new Map<LaneNumber, LaneRun>();
  for (const lane of sheet.lanes) {
    const motion = motions.find((candidate) => candidate.lane === lane.lane);
    const trace = tracesOf(sheet, motions).get(lane.lane);
    if (!motion || !trace) continue;
    const waits = waitsAtJoin(sheet, motions, motion);
    made.set(lane.lane, { lane, motion, trace, ...stretchOf(sheet, lane, motion.gates), waits });
  }
  laneRuns.set(motions, { sheet, made });
  return made;
}

/** A lane of a run, or undefined when the run has no vector for it. Made once for a set of motions and kept. */
export const laneRunOf = (sheet: Sheet, motions: readonly LaneMotion[], lane: LaneNumber): LaneRun | undefined =>
  laneRunsOf(sheet, motions).get(lane);

/**
 * Where the lane stops: at its next gate, or at its end. Swimmers who are still to leave on the last rep then leave
 * by the clock, whatever happens.
 */
export const endOf = ({ lane, end }: LaneRun): Ms => lane.steps[end]?.atMs ?? lane.durationMs;

/** Whether the swimmer who leaves at `position` on the rep in hand had left when the vector was made. */
const hadLeft = (run: LaneRun, position: number, place: number): boolean =>
  place === 0 ||
  position < run.motion.position ||
  place <= (run.motion.lateMs?.length ?? 0) ||
  run.motion.position >= endOf(run);

/** When the swimmer with this place in the departures leaves, or left; null while unknown. */
function sendOffIn(run: LaneRun, index: number, step: RepStep, afterMs: number, place: number): Instant | null {
  const { motion, trace, first, end } = run;
  if (index < first || index >= end) return null;
  const position = step.atMs + afterMs;
  if (index === motion.leftOn && hadLeft(run, position, place)) {
    const lateMs = place === 0 ? 0 : (motion.lateMs?.[place - 1] ?? 0);
    return motion.leftAt === undefined ? null : instant(motion.leftAt + afterMs + lateMs);
  }
  return position < motion.position ? null : sendOffFrom(trace, step.atMs, afterMs);
}

/**
 * [RUN3] When the lane sets off on step `index`, or did.
 * @returns null when it is no rep, lies beyond a shut gate, depends on the coach, or is too long ago to be known
 */
export function sendOffOf(run: LaneRun, index: number): Instant | null {
  const step = run.lane.steps[index];
  return step?.kind === 'rep' ? sendOffIn(run, index, step, 0, 0) : null;
}

/** [RUN3] The same for each swimmer who leaves on it, in the order of `departuresOf`. */
export function sendOffsOf(run: LaneRun, index: number): (Instant | null)[] {
  const step = run.lane.steps[index];
  if (step?.kind !== 'rep') return [];
  return departuresOf(run.lane, step).map(({ afterMs }, place) => sendOffIn(run, index, step, afterMs, place));
}

/** Where a lane is at an instant. */
export interface Place {
  readonly position: Ms;
  /** Why it stands, or that it moves. `lead-in`: it will move from a set instant on. */
  readonly state: 'standing' | 'lead-in' | 'moving' | 'at join' | 'at gate' | 'done';
  /** Index of the step it is in (at a gate the gate's, in a lead-in the step about to begin or go on). */
  readonly step: number;
  /** Index of the last rep whose first swimmer has left, of those since the last gate; −1 when none has. */
  readonly begun: number;
  /** Index of the first step that has not begun; at the next gate that gate's, at the end the number of steps. */
  readonly ahead: number;
}

/** The last rep since the gate whose send-off has been, looking back from `position`. */
function begunIn(run: LaneRun, position: number, t: Instant): number {
  const { lane, motion, first, end } = run;
  for (let index = stepBefore(lane.steps, position, first, end); index >= first; index -= 1) {
    const step = lane.steps[index];
    if (step?.kind !== 'rep') continue;
    const leftAt = sendOffOf(run, index);
    if (leftAt !== null && leftAt <= t) return index;
    if (leftAt === null && step.atMs < motion.position) return -1;
  }
  return -1;
}

/** The first rep of `from … to − 1`, or `to` when there is none. */
export function repFrom(lane: SheetLane, from: number, to: number): number {
  for (let index = from; index < to; index += 1) if (lane.steps[index]?.kind === 'rep') return index;
  return to;
}

/** Where the lane is at `t`; see {@link placeAt}. */
export function placeIn(run: LaneRun, t: Instant): Place {
  const { lane, motion, trace, first, end } = run;
  const leg = legAt(trace, t) ?? { ...motion, cause: 'vector' };
  const position = ms(leg.position + (leg.rate === 1 ? Math.max(0, t - leg.at) : 0));
  const begun = begunIn(run, position, t);
  const ahead = Math.max(begun + 1, stepFrom(lane.steps, position, first, end));
  const repsLeft = repFrom(lane, ahead, end) < end;
  if (!repsLeft && end === lane.steps.length && position >= lane.durationMs)
    return { position: lane.durationMs, state: 'done', step: Math.max(0, end - 1), begun, ahead: end };
  const isMoving = leg.rate === 1 && t >= leg.at;
  const here = { position, begun, ahead };
  const step = stepBefore(lane.steps, position, first, end);
  if (isMoving) return { ...here, state: 'moving', step };
  if (leg.cause === 'join' || (leg.cause === 'vector' && run.waits)) return { ...here, state: 'at join', step };
  if (leg.cause === 'gate' || (!repsLeft && position === endOf(run))) return { ...here, state: 'at gate', step: end };
  if (leg.rate === 0) return { ...here, state: 'standing', step };
  return { ...here, state: 'lead-in', step: lane.steps[ahead]?.atMs === position && ahead < end ? ahead : step };
}

const NOWHERE: Place = { position: ms(0), state: 'standing', step: 0, begun: -1, ahead: 0 };

/**
 * [RUN1] Where `lane` is at `t`: `position + rate · (t − at)`, held up at joins and shut gates; before `at` the lane
 * stands at `position`. Pure in the sheet, the vectors (with their gate counts) and the instant.
 */
export function placeAt(sheet: Sheet, motions: readonly LaneMotion[], lane: SheetLane, t: Instant): Place {
  const run = laneRunOf(sheet, motions, lane.lane);
  return run ? placeIn(run, t) : NOWHERE;
}
