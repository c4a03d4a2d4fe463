import type { Instant, LaneNumber } from '../../shared-types/brand.ts';
import { type LaneMotion, placeAt } from '../../shared-types/motion.ts';
import type { RepStep, Sheet, SheetLane } from '../../shared-types/sheet.ts';
import { nextGateOf, stretchOf } from '../../shared-types/trace.ts';
import type { LivePractice } from '../common/live.ts';

/** Heats off the blocks: one swimmer of each lane at a time, each heat let go by the coach. Pure. */

/** The lanes that the same go lets off next. */
export interface Heats {
  readonly lanes: readonly LaneNumber[];
  /** Index into the sheet's joins of the gate that the next go opens; null when none is left. */
  readonly gate: number | null;
  /** The heat that was let go last; null before the first. */
  readonly now: RepStep | null;
  /** The heat that the next go lets off; null when all have been. */
  readonly next: RepStep | null;
  /** False while the lead-in of the heat that was let go runs. */
  readonly hasLeft: boolean;
}

/** A lane's part in it. */
export interface LaneHeat extends Pick<Heats, 'gate' | 'now' | 'next' | 'hasLeft'> {
  readonly lane: LaneNumber;
}

/** The reps between the `gates`-th gate of the lane and the one after. */
function repsAfter(sheet: Sheet, lane: SheetLane, gates: number): RepStep[] {
  const { first, end } = stretchOf(sheet, lane, gates);
  return lane.steps.slice(first, end).flatMap((step) => (step.kind === 'rep' ? [step] : []));
}

/** In the last heats of a rep a lane with fewer swimmers has nobody: it waits between them, at no rep. */
function waitsAmongHeats(sheet: Sheet, lane: SheetLane, gates: number): boolean {
  const { first } = stretchOf(sheet, lane, gates);
  const reps = lane.steps.slice(0, first).flatMap((step) => (step.kind === 'rep' ? [step] : []));
  return reps[reps.length - 1]?.heat !== undefined;
}

/** Null where the lane swims no heats now, and stands at the gate of none. */
function laneHeatAt({ sheet, run }: LivePractice, lane: SheetLane, motion: LaneMotion, at: Instant): LaneHeat | null {
  const gate = nextGateOf(sheet, motion);
  const here = repsAfter(sheet, lane, motion.gates);
  const after = gate === null ? [] : repsAfter(sheet, lane, motion.gates + 1);
  const next = after.find(({ heat }) => heat !== undefined) ?? null;
  const { state, begun } = placeAt(sheet, run.motions, lane, at);
  const part = { lane: lane.lane, gate, next };
  const now = here.find(({ heat }) => heat !== undefined) ?? null;
  if (now) return { ...part, now, hasLeft: begun >= lane.steps.indexOf(now) };
  const isThrough = here.length === 0 || state === 'at gate';
  const swimsHeats = next !== null || (here.length === 0 && waitsAmongHeats(sheet, lane, motion.gates));
  return isThrough && swimsHeats ? { ...part, now: null, hasLeft: true } : null;
}

/** Each lane's part in heats, of the lanes that swim them now or stand at the gate of the first. */
export function laneHeatsAt(practice: LivePractice, at: Instant): LaneHeat[] {
  const { sheet, run } = practice;
  if (run.state === 'finished') return [];
  return sheet.lanes.flatMap((lane) => {
    const motion = run.motions.find((each) => each.lane === lane.lane);
    return motion ? (laneHeatAt(practice, lane, motion, at) ?? []) : [];
  });
}

/** The lanes by the go that lets them off next. */
export function heatsOf(lanes: readonly LaneHeat[]): Heats[] {
  const gates = [...new Set(lanes.map(({ gate }) => gate))];
  return gates.map((gate) => {
    const here = lanes.filter((lane) => lane.gate === gate);
    return {
      gate,
      lanes: here.map(({ lane }) => lane),
      now: here.find(({ now }) => now !== null)?.now ?? null,
      next: here.find(({ next }) => next !== null)?.next ?? null,
      hasLeft: here.every(({ hasLeft }) => hasLeft),
    };
  });
}
