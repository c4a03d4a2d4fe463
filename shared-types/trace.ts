import { type Instant, instant, type LaneNumber, type Ms, ms } from './brand.ts';
import type { Join, Sheet, SheetLane, Step } from './sheet.ts';

/** Where a lane is at an instant, whether it moves from then on, and which gates and joins it has behind it. */
export interface Vector {
  readonly lane: LaneNumber;
  readonly position: Ms;
  readonly rate: 0 | 1;
  readonly at: Instant;
  readonly gates: number;
  readonly behind?: number | undefined;
}

/** A stretch of a lane's way: from `at` on it moves or stands, until the next leg. */
export interface Leg {
  readonly at: Instant;
  readonly position: Ms;
  readonly rate: 0 | 1;
  readonly cause: 'vector' | 'join' | 'gate';
  /** For a join or gate its index in `sheet.joins`. */
  readonly join?: number;
}

/** Legs in order of time; the first is the lane's vector. */
export type Trace = readonly Leg[];

/** What a lane's steps say of gates and joins. */
interface LaneJoins {
  /** Step indices of the lane's gates. */
  readonly gateSteps: readonly number[];
  /** Indices into `sheet.joins` of the lane's gates. */
  readonly gates: readonly number[];
  /** For each join of the lane, by its index: from which place on the lane only waits for it. */
  readonly waitsFrom: ReadonlyMap<number, number>;
}

const joinsOfSheets = new WeakMap<Sheet, ReadonlyMap<LaneNumber, LaneJoins>>();
const NO_JOINS: LaneJoins = { gateSteps: [], gates: [], waitsFrom: new Map() };

function joinsOf(sheet: Sheet, lane: LaneNumber): LaneJoins {
  let known = joinsOfSheets.get(sheet);
  if (!known) {
    known = new Map(sheet.lanes.map((each) => [each.lane, listJoins(sheet, each)]));
    joinsOfSheets.set(sheet, known);
  }
  return known.get(lane) ?? NO_JOINS;
}

function listJoins(sheet: Sheet, lane: SheetLane): LaneJoins {
  const gateSteps = lane.steps.flatMap((step, index) => (step.kind === 'gate' ? [index] : []));
  const gates: number[] = [];
  const waitsFrom = new Map<number, number>();
  sheet.joins.forEach((join, index) => {
    if (!join.lanes.includes(lane.lane)) return;
    if (join.gate) gates.push(index);
    waitsFrom.set(index, waitingFrom(lane, join, gateSteps, gates.length));
  });
  return { gateSteps, gates, waitsFrom };
}

/** @param gatesPassed how many of the lane's gates lie before the join, it included */
function spotIn({ steps }: SheetLane, join: Join, gateSteps: readonly number[], gatesPassed: number): number {
  const before = gateSteps[gatesPassed - 1];
  const first = before === undefined ? 0 : before + 1;
  return join.gate ? first : stepFrom(steps, join.atMs, first, gateSteps[gatesPassed] ?? steps.length);
}

/**
 * Who is early rests before a join, but that rest is only waiting: it is over when the last lane has come, however
 * much of it is left, and who is put off within it keeps nobody waiting.
 */
function waitingFrom(lane: SheetLane, join: Join, gateSteps: readonly number[], gatesPassed: number): number {
  const spot = spotIn(lane, join, gateSteps, gatesPassed);
  const before = lane.steps[join.gate ? spot - 2 : spot - 1];
  const waits = before?.kind === 'rest' && before.reason === 'join' && before.atMs + before.durationMs === join.atMs;
  return waits ? before.atMs : join.atMs;
}

/** Which join of the sheet is the lane's next shut gate, or null when none is left. */
export const nextGateOf = (sheet: Sheet, motion: Vector): number | null =>
  joinsOf(sheet, motion.lane).gates[motion.gates] ?? null;

/** How many of the lane's gates come before step `index`. */
export const gatesBefore = (sheet: Sheet, lane: LaneNumber, index: number): number =>
  joinsOf(sheet, lane).gateSteps.filter((gate) => gate < index).length;

/** The steps a lane can be in while `gates` of its gates are open: from `first` up to, not including, `end`. */
export function stretchOf(sheet: Sheet, lane: SheetLane, gates: number): { first: number; end: number } {
  const { gateSteps } = joinsOf(sheet, lane.lane);
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
  const { gates, gateSteps } = joinsOf(sheet, lane.lane);
  const join = sheet.joins[joinIndex];
  return join ? spotIn(lane, join, gateSteps, gates.filter((gate) => gate <= joinIndex).length) : lane.steps.length;
}

/** The first join (by index) that is not behind the lane, whatever its place. */
export const joinsFrom = (sheet: Sheet, { lane, gates, behind }: Vector): number =>
  Math.max(behind ?? 0, (joinsOf(sheet, lane).gates[gates - 1] ?? -1) + 1);

/** Whether a vector lies before a join that is no gate: by its place, or because a gate in between is shut. */
function isBefore(sheet: Sheet, vector: Vector, join: Join, joinIndex: number): boolean {
  const gate = nextGateOf(sheet, vector);
  return vector.position < join.atMs || (gate !== null && gate < joinIndex);
}

/** Whether a lane that stands at its vector's place waits there for lanes that have yet to come. */
export function waitsAtJoin(sheet: Sheet, vectors: readonly Vector[], vector: Vector): boolean {
  const from = joinsFrom(sheet, vector);
  const { waitsFrom } = joinsOf(sheet, vector.lane);
  const gate = nextGateOf(sheet, vector) ?? Number.POSITIVE_INFINITY;
  return sheet.joins.some(
    (join, joinIndex) =>
      joinIndex >= from &&
      joinIndex < gate &&
      !join.gate &&
      (waitsFrom.get(joinIndex) ?? Number.POSITIVE_INFINITY) <= vector.position &&
      vector.position <= join.atMs &&
      vectors.some(
        (other) =>
          other.lane !== vector.lane && join.lanes.includes(other.lane) && isBefore(sheet, other, join, joinIndex),
      ),
  );
}

interface Traveller {
  readonly joinsFrom: number;
  readonly waitsFrom: LaneJoins['waitsFrom'];
  readonly legs: Leg[];
  last: Leg;
}

function travellerFor(sheet: Sheet, vector: Vector): Traveller {
  const first: Leg = { at: vector.at, position: vector.position, rate: vector.rate, cause: 'vector' };
  const { waitsFrom } = joinsOf(sheet, vector.lane);
  return { joinsFrom: joinsFrom(sheet, vector), waitsFrom, legs: [first], last: first };
}

function addLeg(traveller: Traveller, leg: Leg): void {
  traveller.legs.push(leg);
  traveller.last = leg;
}

interface Arrival {
  readonly traveller: Traveller;
  /** Where it waits. */
  readonly position: Ms;
  /** Null when, as things are, the lane never comes. */
  readonly at: Instant | null;
}

/** The lanes that a join is still ahead of, and when each has nothing left to do but wait for it. */
function arrivalsAt(join: Join, joinIndex: number, travellers: readonly Traveller[]): Arrival[] {
  return travellers.flatMap((traveller) => {
    const { last, waitsFrom } = traveller;
    if (joinIndex < traveller.joinsFrom || last.position > join.atMs) return [];
    const position = ms(Math.max(last.position, waitsFrom.get(joinIndex) ?? join.atMs));
    return [{ traveller, position, at: last.rate === 0 ? null : instant(last.at + position - last.position) }];
  });
}

function stopAtGate(join: number, arrivals: readonly Arrival[]): void {
  for (const { traveller, position, at } of arrivals) {
    if (at !== null) addLeg(traveller, { at, position, rate: 0, cause: 'gate', join });
  }
}

/**
 * All wait for the last; when one never comes the others stay. A lane that need not wait begins a leg here too, so
 * that its way from here on can be told without the joins behind it.
 */
function meetAtJoin({ atMs }: Join, join: number, arrivals: readonly Arrival[]): void {
  const departsAt = arrivals.reduce<number | null>(
    (latest, { at }) => (at === null || latest === null ? null : Math.max(latest, at)),
    Number.NEGATIVE_INFINITY,
  );
  for (const { traveller, position, at } of arrivals) {
    if (at === null) continue;
    if (at !== departsAt) addLeg(traveller, { at, position, rate: 0, cause: 'join', join });
    if (departsAt !== null) addLeg(traveller, { at: instant(departsAt), position: atMs, rate: 1, cause: 'join', join });
  }
}

const traces = new WeakMap<readonly Vector[], { sheet: Sheet; made: ReadonlyMap<LaneNumber, Trace> }>();

/**
 * Every lane's way from its vector on, through joins (left when the last lane has come) up to the first shut gate.
 * Made once for a set of vectors and kept.
 */
export function tracesOf(sheet: Sheet, vectors: readonly Vector[]): ReadonlyMap<LaneNumber, Trace> {
  const known = traces.get(vectors);
  if (known?.sheet === sheet) return known.made;
  const travellers = new Map(vectors.map((vector) => [vector.lane, travellerFor(sheet, vector)]));
  sheet.joins.forEach((join, joinIndex) => {
    const here = join.lanes.flatMap((lane) => travellers.get(lane) ?? []);
    const arrivals = arrivalsAt(join, joinIndex, here);
    if (join.gate) stopAtGate(joinIndex, arrivals);
    else meetAtJoin(join, joinIndex, arrivals);
  });
  const made = new Map([...travellers].map(([lane, { legs }]) => [lane, legs]));
  traces.set(vectors, { sheet, made });
  return made;
}

/** The last leg that fits; the oldest browsers we draw in cannot search arrays from their end. */
function lastLeg(trace: Trace, fits: (leg: Leg) => boolean): Leg | undefined {
  for (let index = trace.length - 1; index >= 0; index -= 1) {
    const leg = trace[index];
    if (leg && fits(leg)) return leg;
  }
  return undefined;
}

/** The leg a lane is on at `t`: the last one begun, or the first while it has yet to begin. */
export const legAt = (trace: Trace, t: Instant): Leg | undefined => lastLeg(trace, ({ at }) => at <= t) ?? trace[0];

/** When the lane leaves `position` (or passes it), or null when, as things are, it does not get that far. */
export function departureFrom(trace: Trace, position: number): Instant | null {
  const leg = lastLeg(trace, (each) => each.position <= position);
  return leg?.rate === 1 ? instant(leg.at + (position - leg.position)) : null;
}

/**
 * When a swimmer leaves `afterMs` behind the first (0) on a rep that begins at `atMs`, before the next gate: the lane's
 * first as the lane goes on from there, the others as soon as it comes there. Gaps may reach beyond the rep's own
 * time, where the lane already waits at a gate or for other lanes: who is left leaves as the clock goes on from there.
 */
export function sendOffFrom(trace: Trace, atMs: number, afterMs: number): Instant | null {
  const position = atMs + afterMs;
  const leg =
    lastLeg(trace, (each) => (afterMs === 0 ? each.position <= position : each.position < position)) ?? trace[0];
  if (!leg || leg.position > position) return null;
  const stands = leg.rate === 0 && (leg.cause === 'vector' || (leg.cause === 'join' && leg.position <= atMs));
  return stands ? null : instant(leg.at + (position - leg.position));
}
