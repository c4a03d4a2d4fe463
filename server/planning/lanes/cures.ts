import { LIMITS } from '../../../shared-types/practice.ts';
import { formatClock } from '../../../shared-types/time.ts';
import { cycleWithRest } from './suggest-send-offs.ts';
import { type LaneRep, type Trip, trafficIn } from './traffic.ts';

/** One rep of a lane; `restMs` where its cycle is the lane's slowest time plus this rest, else null. */
export interface CurableRep extends LaneRep {
  readonly restMs: number | null;
}

/**
 * What one lane swims of a set: each rep that differs from those before. The same rep stands at the same place in all
 * lanes of a pace group.
 */
export interface LaneTraffic {
  readonly lane: number;
  readonly group: string;
  readonly reps: readonly CurableRep[];
}

/** Something a coach can change; places are those in the order the swimmers leave, from 0. */
export type Cure =
  /** The lane leaves in this order. */
  | { readonly kind: 'order'; readonly lane: number; readonly order: readonly number[] }
  /** A gap for all lanes of the set. */
  | { readonly kind: 'gap'; readonly apartMs: number }
  | {
      readonly kind: 'order and gap';
      readonly lane: number;
      readonly order: readonly number[];
      readonly apartMs: number;
    }
  /** Each swimmer is released alone, in all lanes of the set. */
  | { readonly kind: 'heats' }
  /** Only the first `count` to leave stay in the lane. */
  | { readonly kind: 'fewer'; readonly lane: number; readonly count: number }
  /** One swimmer goes to another lane, which then leaves in order of speed. */
  | { readonly kind: 'move'; readonly lane: number; readonly place: number; readonly to: number };

/** Gaps that are offered: :05 to :60, ms. */
const GAPS_MS = Array.from({ length: 12 }, (_, place) => (place + 1) * 5000);

const ORDINALS = 'first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth'.split(' ');

/** What to write or do, in words. Swimmers are named by their place, never by name. */
export function cureWords(cure: Cure): string {
  switch (cure.kind) {
    case 'order':
      return `order lane ${cure.lane} by speed`;
    case 'gap':
      return `write ${formatClock(cure.apartMs)} apart`;
    case 'order and gap':
      return `order lane ${cure.lane} by speed and write ${formatClock(cure.apartMs)} apart`;
    case 'heats':
      return 'write on go by heat';
    case 'fewer':
      return `at most ${cure.count} in lane ${cure.lane}, those who leave first`;
    case 'move':
      return `move the ${ORDINALS[cure.place]} swimmer to lane ${cure.to} and order that lane by speed`;
  }
}

/** The lanes of a set as they swim it once the cure is applied. Lanes that it leaves alone stay the same objects. */
export function applyCure(cure: Cure, lanes: readonly LaneTraffic[]): LaneTraffic[] {
  switch (cure.kind) {
    case 'order':
      return changed(lanes, cure.lane, (reps) => reps.map((rep) => inOrder(rep, cure.order)));
    case 'gap':
      return lanes.map((lane) => withReps(lane, (rep) => ({ ...rep, apartMs: cure.apartMs })));
    case 'order and gap':
      return applyCure({ ...cure, kind: 'gap' }, applyCure({ ...cure, kind: 'order' }, lanes));
    case 'heats':
      return lanes.map((lane) => withReps(lane, (rep) => ({ ...rep, byHeat: true, cycleMs: null, restMs: null })));
    case 'fewer':
      return changed(lanes, cure.lane, (reps) => reps.map((rep) => withTrips(rep, rep.trips.slice(0, cure.count))));
    case 'move':
      return moved(cure, lanes);
  }
}

function moved({ lane, place, to }: Extract<Cure, { kind: 'move' }>, lanes: readonly LaneTraffic[]): LaneTraffic[] {
  const from = lanes.find((candidate) => candidate.lane === lane);
  const without = changed(lanes, lane, (reps) =>
    reps.map((rep) => withTrips(rep, [...rep.trips.slice(0, place), ...rep.trips.slice(place + 1)])),
  );
  return changed(without, to, (reps) => {
    const joined = reps.map((rep, at) => withTrips(rep, [...rep.trips, from?.reps[at]?.trips[place] ?? []]));
    const order = speedOrder(joined);
    return joined.map((rep) => inOrder(rep, order));
  });
}

const withReps = (lane: LaneTraffic, change: (rep: CurableRep) => CurableRep): LaneTraffic => ({
  ...lane,
  reps: lane.reps.map(change),
});

const changed = (
  lanes: readonly LaneTraffic[],
  which: number,
  change: (reps: readonly CurableRep[]) => readonly CurableRep[],
): LaneTraffic[] => lanes.map((lane) => (lane.lane === which ? { ...lane, reps: change(lane.reps) } : lane));

const inOrder = (rep: CurableRep, order: readonly number[]): CurableRep => ({
  ...rep,
  trips: order.map((place) => rep.trips[place] ?? []),
});

/** The rep with other swimmers in the lane; a cycle that follows from the slowest of them follows them. */
function withTrips(rep: CurableRep, trips: readonly Trip[]): CurableRep {
  if (rep.restMs === null) return { ...rep, trips };
  const times = trips.flatMap((trip) => wholeMs(rep, trip) ?? []);
  return { ...rep, trips, cycleMs: times.length === 0 ? null : cycleWithRest(Math.max(...times), rep.restMs) };
}

/** Time for the whole rep, ms; null when it is not known. */
function wholeMs({ distance }: LaneRep, trip: Trip): number | null {
  const last = trip.at(-1);
  return last && last.distance === distance ? last.ms : null;
}

/**
 * The lane's swimmers by whole time, on the rep where most have one. Who has none stays behind, in the order they had.
 * @returns places in the present order
 */
function speedOrder(reps: readonly CurableRep[]): number[] {
  const times = reps.map((rep) => rep.trips.map((trip) => wholeMs(rep, trip)));
  const known = (row: readonly (number | null)[]): number => row.filter((time) => time !== null).length;
  const fullest = times.reduce((a, b) => (known(b) > known(a) ? b : a), times[0] ?? []);
  const last = Number.MAX_VALUE;
  return fullest.map((_, place) => place).sort((a, b) => (fullest[a] ?? last) - (fullest[b] ?? last));
}

/** Whether the ill lanes (and one that takes a swimmer in) are clean with the cure, and no other gets a new finding. */
function passes(cure: Cure, ill: readonly LaneTraffic[], lanes: readonly LaneTraffic[]): boolean {
  const cured = new Set(ill.map(({ lane }) => lane));
  if (cure.kind === 'move') cured.add(cure.to);
  return applyCure(cure, lanes).every((after, place) => {
    const before = lanes[place];
    if (after === before) return true;
    if (cured.has(after.lane) || !before) return after.reps.every((rep) => trafficIn(rep).length === 0);
    return after.reps.every((rep, at) => nothingNew(rep, before.reps[at]));
  });
}

function nothingNew(after: CurableRep, before: CurableRep | undefined): boolean {
  const found = trafficIn(after).map(findingKey);
  if (found.length === 0) return true;
  const known = new Set(before ? trafficIn(before).map(findingKey) : []);
  return found.every((key) => known.has(key));
}

const findingKey = (finding: ReturnType<typeof trafficIn>[number]): string =>
  finding.code === 'catches' ? `${finding.code} ${finding.earlier} ${finding.later}` : finding.code;

/** Other gaps for all lanes, the nearest to the present one first (of two as near, the narrower). */
function gapsFrom(lanes: readonly LaneTraffic[]): number[] {
  const now = lanes[0]?.reps[0]?.apartMs ?? 0;
  return GAPS_MS.filter((gap) => gap !== now).sort((a, b) => Math.abs(a - now) - Math.abs(b - now) || a - b);
}

function* gapCures(ill: readonly LaneTraffic[], lanes: readonly LaneTraffic[]): Generator<Cure> {
  for (const apartMs of gapsFrom(ill)) {
    const cure: Cure = { kind: 'gap', apartMs };
    if (passes(cure, ill, lanes)) yield cure;
  }
}

/**
 * What can be written on the set line so that all traffic checks of the ill lanes pass and no other lane of the set
 * gets a new finding, best first: another gap or, from a dive, heats.
 */
export function* lineCures(ill: readonly LaneTraffic[], lanes: readonly LaneTraffic[]): Generator<Cure> {
  yield* gapCures(ill, lanes);
  if (ill.some(({ reps }) => reps.some(({ start }) => start === 'dive'))) yield { kind: 'heats' };
}

/**
 * The cures with which all traffic checks of one lane pass and no other lane gets a new finding, best first: order by
 * speed; what cures every ill lane of the line, another gap or heats; another gap for this lane alone; order and gap
 * when neither alone does it; fewer in the lane; another lane of the group. Worked out as they are asked for.
 * @param lanes all that swim the set, the ill one among them
 */
export function* curesFor(ill: LaneTraffic, lanes: readonly LaneTraffic[]): Generator<Cure> {
  const { lane } = ill;
  const order = speedOrder(ill.reps);
  const works = (cure: Cure): boolean => passes(cure, [ill], lanes);
  const reorder: Cure = { kind: 'order', lane, order };
  if (works(reorder)) yield reorder;
  const forAll = [...lineCures(lanes.filter(isIll), lanes)];
  yield* forAll;
  const gaps = [...gapCures([ill], lanes)];
  const alike = new Set(forAll.map(cureWords));
  yield* gaps.filter((cure) => !alike.has(cureWords(cure)));
  if (gaps.length === 0 && !works(reorder)) {
    const both = gapsFrom([ill]).map((apartMs): Cure => ({ kind: 'order and gap', lane, order, apartMs }));
    yield* both.filter(works);
  }
  const fewer = countsBelow(ill).find(works);
  if (fewer) yield fewer;
  yield* moves(ill, lanes).filter(works);
}

export const isIll = ({ reps }: LaneTraffic): boolean => reps.some((rep) => trafficIn(rep).length > 0);

/** Fewer in the lane, the most first. */
const countsBelow = ({ lane, reps }: LaneTraffic): Cure[] => {
  const count = reps[0]?.trips.length ?? 0;
  return Array.from({ length: Math.max(0, count - 1) }, (_, less) => ({
    kind: 'fewer',
    lane,
    count: count - 1 - less,
  }));
};

const moves = (ill: LaneTraffic, lanes: readonly LaneTraffic[]): Cure[] =>
  movers(ill).flatMap((place) =>
    hosts(ill, lanes).map(({ lane: to }): Cure => ({ kind: 'move', lane: ill.lane, place, to })),
  );

/** Who catches or is caught, those who catch first; where nobody does, the last to leave. */
function movers({ reps }: LaneTraffic): number[] {
  const meetings = reps.flatMap((rep) => trafficIn(rep).filter((finding) => finding.code === 'catches'));
  const last = (reps[0]?.trips.length ?? 0) - 1;
  if (meetings.length === 0) return [last];
  return [...new Set([...meetings.map(({ later }) => later), ...meetings.map(({ earlier }) => earlier)])];
}

/** The other lanes of the pace group that have room and swim the same reps. */
const hosts = (ill: LaneTraffic, lanes: readonly LaneTraffic[]): LaneTraffic[] =>
  lanes.filter(
    ({ lane, group, reps }) =>
      lane !== ill.lane &&
      group === ill.group &&
      reps.length === ill.reps.length &&
      reps.every(({ trips }) => trips.length < LIMITS.swimmersPerLane),
  );
