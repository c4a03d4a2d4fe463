/**
 * Whether the swimmers of one lane get in each other's way on one rep (circle swimming), in closed form.
 * Times are ms from the lane's send-off; swimmers are counted by their place in the order they leave, from 0.
 */

/** Running time, ms from the swimmer's own send-off, `distance` into the rep (course's unit). */
export interface Boundary {
  readonly distance: number;
  readonly ms: number;
}

/** One swimmer's rep: the ends of its parts as far as they are known, the end of the rep last. Empty: not known. */
export type Trip = readonly Boundary[];

/** One rep of one lane. */
export interface LaneRep {
  /** In the order in which they leave. Who has no known time still holds a place and a gap. */
  readonly trips: readonly Trip[];
  readonly apartMs: number;
  /** To the next send-off; null when the coach releases each rep. */
  readonly cycleMs: number | null;
  /** Null for reps that go by time. */
  readonly distance: number | null;
  /** One length, in the unit of `distance`. */
  readonly poolLength: number;
  readonly start: 'push' | 'dive';
  /** Each swimmer is released alone: there is no traffic in the lane. */
  readonly byHeat: boolean;
}

/** What is wrong with a rep, by the code of the message that says so. */
export type Finding =
  | {
      readonly code: 'catches';
      readonly later: number;
      readonly earlier: number;
      readonly distance: number;
      /** How long after the earlier one the later one arrives; negative when before. */
      readonly gapMs: number;
    }
  | { readonly code: 'lane-full'; readonly count: number; readonly fits: number; readonly twoLengthsMs: number }
  | { readonly code: 'send-overflow'; readonly count: number; readonly neededMs: number; readonly cycleMs: number }
  | { readonly code: 'dive-gap'; readonly apartMs: number };

export type Catch = Extract<Finding, { code: 'catches' }>;

/** Who arrives less than this after another has caught up, ms. A convention of ours, no source. */
const CLEAR_MS = 2000;
/** Swimmers of one lane leave the blocks at least this far apart, ms. Common practice, no source. */
export const DIVE_GAP_MS = 15_000;

/** Everything that is wrong with the rep: of each pair of swimmers who meet, only where it is worst. */
export function trafficIn(rep: LaneRep): Finding[] {
  if (rep.byHeat || rep.trips.length < 2) return [];
  return [...catchesIn(rep), ...laneFull(rep), ...sendOverflow(rep), ...diveGap(rep)];
}

/**
 * Arrivals at a boundary are a_i = (i − 1) · apart + t_i; a later swimmer catches an earlier one when a_j < a_i + 2 s.
 * Who leave together (apart 0) swim side by side: then only an arrival before the other counts.
 */
function catchesIn(rep: LaneRep): Catch[] {
  const found: Catch[] = [];
  for (let later = 1; later < rep.trips.length; later += 1) {
    for (let earlier = 0; earlier < later; earlier += 1) {
      const worst = worstMeeting(rep, later, earlier);
      if (worst && worst.gapMs < (rep.apartMs === 0 ? 0 : CLEAR_MS)) found.push(worst);
    }
  }
  return found;
}

function worstMeeting({ trips, apartMs }: LaneRep, later: number, earlier: number): Catch | null {
  let worst: Catch | null = null;
  for (const { distance, ms } of trips[later] ?? []) {
    const ahead = trips[earlier]?.find((boundary) => boundary.distance === distance);
    if (!ahead) continue;
    const gapMs = (later - earlier) * apartMs + ms - ahead.ms;
    if (!worst || gapMs < worst.gapMs) worst = { code: 'catches', later, earlier, distance, gapMs };
  }
  return worst;
}

/**
 * The leader comes back from two lengths (t₂) before all have been gone a gap: n · apart > t₂; floor(t₂ / apart) fit.
 * Reps of at most two lengths, and swimmers who leave when the leader is done (heats), never meet.
 */
function laneFull({ trips, apartMs, distance, poolLength }: LaneRep): Finding[] {
  const leader = trips[0] ?? [];
  const twoLengthsMs = timeAt(leader, 2 * poolLength);
  const knownMs = leader.at(-1)?.ms ?? 0;
  if (distance === null || distance <= 2 * poolLength || twoLengthsMs === null || apartMs >= knownMs) return [];
  if (trips.length * apartMs <= twoLengthsMs) return [];
  return [{ code: 'lane-full', count: trips.length, fits: Math.floor(twoLengthsMs / apartMs), twoLengthsMs }];
}

/** Running time `distance` into the rep, at even speed between boundaries; null beyond what is known. */
function timeAt(trip: Trip, distance: number): number | null {
  let from: Boundary = { distance: 0, ms: 0 };
  for (const to of trip) {
    // Multiplied before divided, so that whole results are exact.
    const share = (to.ms - from.ms) * (distance - from.distance);
    if (distance <= to.distance) return from.ms + share / (to.distance - from.distance);
    from = to;
  }
  return null;
}

function sendOverflow({ trips, apartMs, cycleMs }: LaneRep): Finding[] {
  const neededMs = trips.length * apartMs;
  if (cycleMs === null || neededMs <= cycleMs) return [];
  return [{ code: 'send-overflow', count: trips.length, neededMs, cycleMs }];
}

const diveGap = ({ start, apartMs }: LaneRep): Finding[] =>
  start === 'dive' && apartMs < DIVE_GAP_MS ? [{ code: 'dive-gap', apartMs }] : [];
