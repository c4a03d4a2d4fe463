import { type Instant, instant, type LaneNumber, type Ms } from './brand.ts';
import type { Join, Sheet, SheetLane, Step } from './sheet.ts';

/** Where a lane is at an instant, whether it moves from then on, and how many of its gates are open. */
export interface Vector {
  readonly lane: LaneNumber;
  readonly position: Ms;
  readonly rate: 0 | 1;
  readonly at: Instant;
  readonly gates: number;
}

/** A stretch of a lane's way: from `at` on it moves or stands, until the next leg. */
export interface Leg {
  readonly at: Instant;
  readonly position: Ms;
  readonly rate: 0 | 1;
  readonly cause: 'vector' | 'join' | 'gate';
}

/** Legs in order of time; the first is the lane's vector. */
export type Trace = readonly Leg[];

interface LaneGates {
  /** Step indices of the lane's gates. */
  readonly steps: readonly number[];
  /** Indices into `sheet.joins` of the lane's gates. */
  readonly joins: readonly number[];
}

const gatesOfSheets = new WeakMap<Sheet, ReadonlyMap<LaneNumber, LaneGates>>();
const NO_GATES: LaneGates = { steps: [], joins: [] };

function gatesOf(sheet: Sheet, lane: LaneNumber): LaneGates {
  let known = gatesOfSheets.get(sheet);
  if (!known) {
    known = new Map(sheet.lanes.map((each) => [each.lane, listGates(sheet, each)]));
    gatesOfSheets.set(sheet, known);
  }
  return known.get(lane) ?? NO_GATES;
}

const listGates = (sheet: Sheet, { lane, steps }: SheetLane): LaneGates => ({
  steps: steps.flatMap((step, index) => (step.kind === 'gate' ? [index] : [])),
  joins: sheet.joins.flatMap((join, index) => (join.gate && join.lanes.includes(lane) ? [index] : [])),
});

/** Which join of the sheet is the lane's next shut gate, or null when none is left. */
export const nextGateOf = (sheet: Sheet, motion: Vector): number | null =>
  gatesOf(sheet, motion.lane).joins[motion.gates] ?? null;

/** How many of the lane's gates come before step `index`. */
export const gatesBefore = (sheet: Sheet, lane: LaneNumber, index: number): number =>
  gatesOf(sheet, lane).steps.filter((gate) => gate < index).length;

/** The steps a lane can be in while `gates` of its gates are open: from `first` up to, not including, `end`. */
export function stretchOf(sheet: Sheet, lane: SheetLane, gates: number): { first: number; end: number } {
  const { steps } = gatesOf(sheet, lane.lane);
  const before = steps[gates - 1];
  return { first: before === undefined ? 0 : before + 1, end: steps[gates] ?? lane.steps.length };
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

/** The first of the steps `first … end − 1` that begins at or after `position`; `end` when none does. */
export function stepFrom(steps: readonly Step[], position: number, first: number, end: number): number {
  let low = first;
  let high = end;
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    const step = steps[middle];
    if (step && step.atMs < position) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Before which step of the lane the join lies: for a gate the step after the gate's own. Joins share their `atMs`
 * with steps that last no time, so a place on the axis alone would not tell.
 * @returns a step's index, or the number of steps for a join at the lane's end
 */
export function spotOf(sheet: Sheet, lane: SheetLane, joinIndex: number): number {
  const gates = gatesOf(sheet, lane.lane);
  const passed = gates.joins.filter((gate) => gate <= joinIndex).length;
  const { first, end } = stretchOf(sheet, lane, passed);
  const join = sheet.joins[joinIndex];
  return !join || join.gate ? first : stepFrom(lane.steps, join.atMs, first, end);
}

/** Whether a vector lies before a join that is no gate: by its place, or because a gate in between is shut. */
function isBefore(sheet: Sheet, motion: Vector, join: Join, joinIndex: number): boolean {
  const gate = nextGateOf(sheet, motion);
  return motion.position < join.atMs || (gate !== null && gate < joinIndex);
}

/** Whether a lane that stands at `position` waits there for other lanes. */
export function waitsAtJoin(sheet: Sheet, motions: readonly Vector[], motion: Vector, position: number): boolean {
  return sheet.joins.some(
    (join, joinIndex) =>
      !join.gate &&
      join.atMs === position &&
      join.lanes.includes(motion.lane) &&
      !isBefore(sheet, { ...motion, position: join.atMs }, join, joinIndex) &&
      motions.some((other) => join.lanes.includes(other.lane) && isBefore(sheet, other, join, joinIndex)),
  );
}

interface Traveller {
  readonly motion: Vector;
  /** Joins before this index are behind the lane whatever their place. */
  readonly joinsFrom: number;
  readonly legs: Leg[];
  last: Leg;
}

function travellerFor(sheet: Sheet, motion: Vector): Traveller {
  const opened = gatesOf(sheet, motion.lane).joins[motion.gates - 1];
  const first: Leg = { at: motion.at, position: motion.position, rate: motion.rate, cause: 'vector' };
  return { motion, joinsFrom: opened === undefined ? 0 : opened + 1, legs: [first], last: first };
}

function addLeg(traveller: Traveller, leg: Leg): void {
  traveller.legs.push(leg);
  traveller.last = leg;
}

interface Arrival {
  readonly traveller: Traveller;
  /** Null when, as things are, the lane never comes. */
  readonly at: Instant | null;
}

/** The lanes that a join is still ahead of, and when each comes to it. */
function arrivalsAt(join: Join, joinIndex: number, travellers: readonly Traveller[]): Arrival[] {
  return travellers.flatMap((traveller) => {
    const { last, joinsFrom } = traveller;
    if (joinIndex < joinsFrom || last.position > join.atMs) return [];
    return [{ traveller, at: last.rate === 0 ? null : instant(last.at + join.atMs - last.position) }];
  });
}

function stopAtGate({ atMs }: Join, arrivals: readonly Arrival[]): void {
  for (const { traveller, at } of arrivals) {
    if (at !== null) addLeg(traveller, { at, position: atMs, rate: 0, cause: 'gate' });
  }
}

/** All wait for the last; when one never comes the others stay. */
function meetAtJoin({ atMs }: Join, arrivals: readonly Arrival[]): void {
  const departsAt = arrivals.reduce<number | null>(
    (latest, { at }) => (at === null || latest === null ? null : Math.max(latest, at)),
    Number.NEGATIVE_INFINITY,
  );
  for (const { traveller, at } of arrivals) {
    if (at === null || at === departsAt) continue;
    addLeg(traveller, { at, position: atMs, rate: 0, cause: 'join' });
    if (departsAt !== null) addLeg(traveller, { at: instant(departsAt), position: atMs, rate: 1, cause: 'join' });
  }
}

const traces = new WeakMap<readonly Vector[], { sheet: Sheet; made: ReadonlyMap<LaneNumber, Trace> }>();

/**
 * Every lane's way from its vector on, through joins (left when the last lane has come) up to the first shut gate.
 * A join that no vector lies before has done its work: it holds nobody, so a lane put off after it goes alone.
 * Made once for a set of motions and kept.
 */
export function tracesOf(sheet: Sheet, motions: readonly Vector[]): ReadonlyMap<LaneNumber, Trace> {
  const known = traces.get(motions);
  if (known?.sheet === sheet) return known.made;
  const travellers = new Map(motions.map((motion) => [motion.lane, travellerFor(sheet, motion)]));
  sheet.joins.forEach((join, joinIndex) => {
    const here = join.lanes.flatMap((lane) => travellers.get(lane) ?? []);
    if (join.gate) stopAtGate(join, arrivalsAt(join, joinIndex, here));
    else if (here.some(({ motion }) => isBefore(sheet, motion, join, joinIndex)))
      meetAtJoin(join, arrivalsAt(join, joinIndex, here));
  });
  const made = new Map([...travellers].map(([lane, { legs }]) => [lane, legs]));
  traces.set(motions, { sheet, made });
  return made;
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
  const leg = trace.findLast((each) => each.position <= position);
  return leg?.rate === 1 ? instant(leg.at + (position - leg.position)) : null;
}

/**
 * When swimmers leave at `position` on a rep before the next gate. A rep whose length is not known lasts no time on
 * the axis, so its later swimmers lie beyond the gate: they leave as the clock goes on from the lane's coming there.
 */
export function sendOffFrom(trace: Trace, position: number): Instant | null {
  const leg = trace.findLast((each) => each.position <= position);
  if (leg?.rate !== 1 && leg?.cause !== 'gate') return null;
  return instant(leg.at + (position - leg.position));
}
