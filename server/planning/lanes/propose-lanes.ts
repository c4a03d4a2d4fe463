import { type LaneNumber, laneNumber, type SwimmerId } from '../../../shared-types/brand.ts';
import { LIMITS } from '../../../shared-types/practice.ts';
import { type LaneRoom, splitInRuns } from './split-in-runs.ts';
import { suggestGroups } from './suggest-groups.ts';

/** A swimmer with the time the lanes go by. */
export interface PacedSwimmer {
  readonly id: SwimmerId;
  /** Time for the event, ms. */
  readonly paceMs: number;
}

export interface LaneOptions {
  /** Lanes to fill, 1 to 12. */
  readonly lanes: number;
  /** Most swimmers in a lane. */
  readonly capacity: number;
  /** Distance the times are for, in the course's unit. */
  readonly distance: number;
  /**
   * Swimmers whose lane is settled. One that is not among the swimmers has no time: that one takes a place and counts
   * in no mean.
   */
  readonly fixed?: ReadonlyMap<SwimmerId, LaneNumber>;
}

export interface PlacedSwimmer {
  readonly id: SwimmerId;
  /** Null: has no time. */
  readonly paceMs: number | null;
  readonly fixed: boolean;
}

export interface LaneFigures {
  readonly lane: LaneNumber;
  /** Suggested pace group; null where nobody has a time. */
  readonly group: string | null;
  /** Mean time for the event, ms, not rounded; null where nobody has a time. */
  readonly meanMs: number | null;
  /** Slowest less fastest, ms. */
  readonly spreadMs: number | null;
  /** Squared differences from the mean, ms². */
  readonly sumOfSquares: number;
}

export interface ProposedLane extends LaneFigures {
  /** Fastest first; who has no time last. */
  readonly swimmers: readonly PlacedSwimmer[];
}

export interface Proposal {
  readonly kind: 'proposal';
  /** Every lane asked for, empty ones too. */
  readonly lanes: readonly ProposedLane[];
  /** Over all lanes, ms². */
  readonly sumOfSquares: number;
}

/** Why there can be no proposal, as a sentence, and what to do about it. */
export interface LaneRefusal {
  readonly kind: 'too-many' | 'lane-too-full' | 'no-such-lane';
  readonly text: string;
  readonly fix: string;
}

export type LaneProposal = Proposal | LaneRefusal;

/**
 * Lanes for swimmers by their time. Those free to move are put in order of speed into runs, lane 1 the fastest, so
 * that the sum over lanes of squared differences from the lane's mean is the least there is; fixed swimmers count in
 * their lane's mean and room. Swimmers of equal time keep the order they are given in; how equal sums are decided is
 * said at {@link splitInRuns}.
 * @throws RangeError when the number of lanes is not 1 to 12
 */
export function proposeLanes(swimmers: readonly PacedSwimmer[], options: LaneOptions): LaneProposal {
  const fixed = options.fixed ?? new Map<SwimmerId, LaneNumber>();
  const rooms = roomsOf(swimmers, fixed, options);
  const sorted = [...swimmers].sort((a, b) => a.paceMs - b.paceMs);
  const free = sorted.filter(({ id }) => !fixed.has(id));
  const refusal = refusalOf(rooms, fixed, options);
  if (refusal) return refusal;
  const runs = splitInRuns(
    free.map(({ paceMs }) => paceMs),
    rooms,
  );
  if (runs === null) return tooMany(free.length + fixed.size, options);
  const laneOf = new Map([...fixed, ...laneOfFree(free, runs)]);
  return proposalOf(sorted, laneOf, fixed, options);
}

interface Room extends LaneRoom {
  readonly lane: LaneNumber;
}

function roomsOf(
  swimmers: readonly PacedSwimmer[],
  fixed: ReadonlyMap<SwimmerId, LaneNumber>,
  { lanes, capacity }: LaneOptions,
): Room[] {
  return Array.from({ length: lanes }, (_, place) => {
    const lane = laneNumber(place + 1);
    const fixedMs = swimmers.filter(({ id }) => fixed.get(id) === lane).map(({ paceMs }) => paceMs);
    const taken = [...fixed.values()].filter((one) => one === lane).length;
    return { lane, fixedMs, taken, free: capacity - taken };
  });
}

function refusalOf(
  rooms: readonly Room[],
  fixed: ReadonlyMap<SwimmerId, LaneNumber>,
  { lanes, capacity }: LaneOptions,
): LaneRefusal | null {
  const outside = [...fixed.values()].find((lane) => lane > lanes);
  if (outside !== undefined) {
    const text = `a swimmer is fixed in lane ${outside}; there ${lanes === 1 ? 'is 1 lane' : `are ${lanes} lanes`}`;
    return { kind: 'no-such-lane', text, fix: `take lane 1 to ${lanes}, or at least ${outside} lanes` };
  }
  const full = rooms.find((room) => room.free < 0);
  if (!full) return null;
  const text = `lane ${full.lane} has ${full.taken} swimmers fixed in it; a lane takes ${capacity}`;
  const more = full.taken > LIMITS.swimmersPerLane ? '' : `, or allow ${full.taken} swimmers a lane`;
  return { kind: 'lane-too-full', text, fix: `fix at most ${capacity} in lane ${full.lane}${more}` };
}

function tooMany(swimmers: number, { lanes, capacity }: LaneOptions): LaneRefusal {
  const text = `${swimmers} swimmers do not fit into ${lanes} lane${lanes === 1 ? '' : 's'} of ${capacity}`;
  const [moreLanes, moreSwimmers] = [Math.ceil(swimmers / capacity), Math.ceil(swimmers / lanes)];
  const cures = [
    ...(moreLanes > LIMITS.lanes ? [] : [`take ${moreLanes} lanes`]),
    ...(moreSwimmers > LIMITS.swimmersPerLane ? [] : [`allow ${moreSwimmers} swimmers a lane`]),
  ];
  const fix = cures.join(' or ') || `leave out ${swimmers - lanes * capacity} or swim in two shifts`;
  return { kind: 'too-many', text, fix };
}

function laneOfFree(free: readonly PacedSwimmer[], runs: readonly number[]): [SwimmerId, LaneNumber][] {
  const lanes = runs.flatMap((run, place) => Array.from({ length: run }, () => laneNumber(place + 1)));
  return free.flatMap(({ id }, place) => {
    const lane = lanes[place];
    return lane === undefined ? [] : [[id, lane] satisfies [SwimmerId, LaneNumber]];
  });
}

function proposalOf(
  sorted: readonly PacedSwimmer[],
  laneOf: ReadonlyMap<SwimmerId, LaneNumber>,
  fixed: ReadonlyMap<SwimmerId, LaneNumber>,
  { lanes, distance }: LaneOptions,
): Proposal {
  const paced = new Set(sorted.map(({ id }) => id));
  const everyone: PlacedSwimmer[] = [
    ...sorted.map(({ id, paceMs }) => ({ id, paceMs, fixed: fixed.has(id) })),
    ...[...fixed.keys()].filter((id) => !paced.has(id)).map((id) => ({ id, paceMs: null, fixed: true })),
  ];
  const filled = Array.from({ length: lanes }, (_, place) => {
    const lane = laneNumber(place + 1);
    const swimmers = everyone.filter(({ id }) => laneOf.get(id) === lane);
    return { lane, swimmers, ...figuresOf(swimmers.flatMap(({ paceMs }) => (paceMs === null ? [] : [paceMs]))) };
  });
  const groups = suggestGroups(filled, distance);
  return {
    kind: 'proposal',
    lanes: filled.map((lane) => ({ ...lane, group: groups.get(lane.lane) ?? null })),
    sumOfSquares: filled.reduce((sum, { sumOfSquares }) => sum + sumOfSquares, 0),
  };
}

/** @param times of one lane, fastest first, ms */
function figuresOf(times: readonly number[]): Pick<LaneFigures, 'meanMs' | 'spreadMs' | 'sumOfSquares'> {
  const [fastest, slowest] = [times[0], times.at(-1)];
  if (fastest === undefined || slowest === undefined) return { meanMs: null, spreadMs: null, sumOfSquares: 0 };
  // Counted from the fastest, so that equal times have exactly their own mean.
  const meanMs = fastest + times.reduce((sum, time) => sum + (time - fastest), 0) / times.length;
  const sumOfSquares = times.reduce((sum, time) => sum + (time - meanMs) ** 2, 0);
  return { meanMs, spreadMs: slowest - fastest, sumOfSquares };
}
