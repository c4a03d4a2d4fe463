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
import type { Join, Sheet, SheetLane, Step } from './sheet.ts';

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
  /** When the first swimmer left on the step that `position` lies in, where that was before `at`. */
  leftAt: instantSchema.optional(),
});
export type LaneMotion = z.infer<typeof laneMotionSchema>;

/** A stretch of a lane's way: from `at` on it moves or stands, until the next leg. */
export interface Leg {
  readonly at: Instant;
  readonly position: Ms;
  readonly rate: 0 | 1;
  readonly cause: 'vector' | 'join' | 'gate';
}

/** Legs in order of time; the first is the lane's vector. */
export type Trace = readonly Leg[];

interface LaneIndex {
  /** Step indices of the lane's gates. */
  readonly gateSteps: readonly number[];
  /** Indices into `sheet.joins` of the lane's gates. */
  readonly gateJoins: readonly number[];
}

const indices = new WeakMap<Sheet, ReadonlyMap<LaneNumber, LaneIndex>>();

function indexOf(sheet: Sheet): ReadonlyMap<LaneNumber, LaneIndex> {
  const known = indices.get(sheet);
  if (known) return known;
  const made = new Map(
    sheet.lanes.map((lane) => [
      lane.lane,
      {
        gateSteps: lane.steps.flatMap((step, place) => (step.kind === 'gate' ? [place] : [])),
        gateJoins: sheet.joins.flatMap((join, place) => (join.gate && join.lanes.includes(lane.lane) ? [place] : [])),
      },
    ]),
  );
  indices.set(sheet, made);
  return made;
}

const NO_INDEX: LaneIndex = { gateSteps: [], gateJoins: [] };
const laneIndex = (sheet: Sheet, lane: LaneNumber): LaneIndex => indexOf(sheet).get(lane) ?? NO_INDEX;

/** Which join of the sheet is the lane's next shut gate, or null when none is left. */
export const nextGateOf = (sheet: Sheet, motion: LaneMotion): number | null =>
  laneIndex(sheet, motion.lane).gateJoins[motion.gates] ?? null;

/** The steps a lane can be in while `gates` of its gates are open: from `first` up to, not including, `end`. */
export function stretchOf(sheet: Sheet, lane: SheetLane, gates: number): { first: number; end: number } {
  const { gateSteps } = laneIndex(sheet, lane.lane);
  const before = gateSteps[gates - 1];
  return { first: before === undefined ? 0 : before + 1, end: gateSteps[gates] ?? lane.steps.length };
}

/** The last of the steps `first … end − 1` that begins at or before `position`; `first` when none does. */
export function stepBefore(steps: readonly Step[], position: number, first: number, end: number): number {
  let low = first;
  let high = end - 1;
  while (low < high) {
    const middle = Math.ceil((low + high) / 2);
    const step = steps[middle];
    if (step && step.atMs <= position) low = middle;
    else high = middle - 1;
  }
  return low;
}

interface Traveller {
  readonly motion: LaneMotion;
  /** Joins before this index are behind the lane whatever their place. */
  readonly joinsFrom: number;
  readonly legs: Leg[];
  last: Leg;
  stopped: boolean;
}

/** When a lane comes to `atMs`: an instant, null when it has passed, or 'never' when it stands before it. */
function arrivalAt(traveller: Traveller, joinIndex: number, atMs: Ms): Instant | null | 'never' {
  const { last } = traveller;
  if (joinIndex < traveller.joinsFrom || last.position > atMs) return null;
  if (traveller.stopped) return 'never';
  return instant(last.at + (atMs - last.position));
}

function addLeg(traveller: Traveller, leg: Leg): void {
  traveller.legs.push(leg);
  traveller.last = leg;
  if (leg.rate === 0) traveller.stopped = true;
}

function meet(join: Join, joinIndex: number, travellers: readonly Traveller[], open: (t: Traveller) => boolean): void {
  const arrivals = travellers.map((traveller) => ({ traveller, at: arrivalAt(traveller, joinIndex, join.atMs) }));
  const coming = arrivals.filter(({ at }) => at !== null);
  const instants = coming.flatMap(({ at }) => (at === null || at === 'never' ? [] : [at]));
  const someNever = coming.length > instants.length;
  const departsAt = instants.length > 0 ? instant(Math.max(...instants)) : null;
  for (const { traveller, at } of coming) {
    if (at === null || at === 'never' || departsAt === null) continue;
    const cause = join.gate ? 'gate' : 'join';
    const shut = join.gate && !open(traveller);
    if (shut || someNever) {
      addLeg(traveller, { at, position: join.atMs, rate: 0, cause });
    } else if (at < departsAt) {
      addLeg(traveller, { at, position: join.atMs, rate: 0, cause });
      traveller.stopped = false;
      addLeg(traveller, { at: departsAt, position: join.atMs, rate: 1, cause });
    }
  }
}

const traces = new WeakMap<readonly LaneMotion[], { sheet: Sheet; made: ReadonlyMap<LaneNumber, Trace> }>();

/**
 * Every lane's way from its vector on, through joins (left when the last lane has come) up to the first shut gate.
 * Made once for a set of motions and kept.
 */
export function tracesOf(sheet: Sheet, motions: readonly LaneMotion[]): ReadonlyMap<LaneNumber, Trace> {
  const known = traces.get(motions);
  if (known?.sheet === sheet) return known.made;
  const travellers = new Map(motions.map((motion) => [motion.lane, travellerFor(sheet, motion)]));
  sheet.joins.forEach((join, joinIndex) => {
    const here = join.lanes.flatMap((lane) => travellers.get(lane) ?? []);
    meet(join, joinIndex, here, ({ motion }) => joinIndex !== nextGateOf(sheet, motion));
  });
  const made = new Map([...travellers].map(([lane, { legs }]) => [lane, legs]));
  traces.set(motions, { sheet, made });
  return made;
}

function travellerFor(sheet: Sheet, motion: LaneMotion): Traveller {
  const opened = laneIndex(sheet, motion.lane).gateJoins[motion.gates - 1];
  const first: Leg = { at: motion.at, position: motion.position, rate: motion.rate, cause: 'vector' };
  return {
    motion,
    joinsFrom: opened === undefined ? 0 : opened + 1,
    legs: [first],
    last: first,
    stopped: motion.rate === 0,
  };
}

/** The leg a lane is on at `t`: the last one begun, or the first while it has yet to begin. */
export function legAt(trace: Trace, t: Instant): Leg | undefined {
  let found = trace[0];
  for (const leg of trace) {
    if (leg.at > t) break;
    found = leg;
  }
  return found;
}

/** When the lane leaves `position` (or passes it), or null when, as things are, it does not get that far. */
export function departureFrom(trace: Trace, position: number): Instant | null {
  for (let place = trace.length - 1; place >= 0; place -= 1) {
    const leg = trace[place];
    if (!leg || leg.position > position) continue;
    return leg.rate === 1 ? instant(leg.at + (position - leg.position)) : null;
  }
  return null;
}

/** Where a lane is at an instant. */
export interface Place {
  readonly position: Ms;
  /** Why it stands, or that it moves. `lead-in`: it will move from a set instant on. */
  readonly state: 'standing' | 'lead-in' | 'moving' | 'at join' | 'at gate' | 'done';
  /** Index of the step it is in (at a gate the gate's, in a lead-in the step about to begin or go on). */
  readonly step: number;
}

/**
 * [RUN1] Where `lane` is at `t`: `position + rate · (t − at)`, held up at joins and shut gates; before `at` the lane
 * stands at `position`. Pure in the sheet, the vectors (with their gate counts) and the instant.
 */
export function placeAt(sheet: Sheet, motions: readonly LaneMotion[], lane: SheetLane, t: Instant): Place {
  const motion = motions.find((candidate) => candidate.lane === lane.lane);
  const trace = motion && tracesOf(sheet, motions).get(lane.lane);
  const leg = trace && legAt(trace, t);
  if (!motion || !leg) return { position: ms(0), state: 'standing', step: 0 };
  const travelled = leg.rate === 1 ? Math.max(0, t - leg.at) : 0;
  const position = ms(leg.position + travelled);
  const { first, end } = stretchOf(sheet, lane, motion.gates);
  if (leg.cause === 'gate' && leg.rate === 0) return { position, state: 'at gate', step: end };
  if (position >= lane.durationMs && end === lane.steps.length && (leg.rate === 1 || end === first)) {
    const state = t < leg.at ? 'lead-in' : 'done';
    return { position: lane.durationMs, state, step: Math.max(0, lane.steps.length - 1) };
  }
  const leadIn = leg.rate === 1 && t < leg.at;
  const step = leadIn ? stepLedInto(lane, position, first, end) : stepBefore(lane.steps, position, first, end);
  return { position, state: stateOn(leg, leadIn), step };
}

const stateOn = (leg: Leg, leadIn: boolean): Place['state'] => {
  if (leadIn) return 'lead-in';
  if (leg.rate === 1) return 'moving';
  return leg.cause === 'join' ? 'at join' : 'standing';
};

/** The step a lead-in leads into: the first that begins exactly there, else the one it goes on in. */
function stepLedInto(lane: SheetLane, position: number, first: number, end: number): number {
  for (let place = first; place < end; place += 1) {
    const step = lane.steps[place];
    if (!step || step.atMs > position) break;
    if (step.atMs === position) return place;
  }
  return stepBefore(lane.steps, position, first, end);
}
