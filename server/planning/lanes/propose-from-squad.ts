import type { LaneNumber, SwimmerId } from '../../../shared-types/brand.ts';
import type { Pool } from '../../../shared-types/pool.ts';
import type { Event, Squad, Swimmer } from '../../../shared-types/squad.ts';
import { type EventTime, eventTime, isEventTime } from '../pace/event-time.ts';
import { type LaneFigures, type LaneRefusal, proposeLanes } from './propose-lanes.ts';

export interface SquadOptions {
  /** Most swimmers in a lane. */
  readonly capacity: number;
  /** Swimmers of the squad whose lane is settled. */
  readonly fixed?: ReadonlyMap<SwimmerId, LaneNumber>;
}

export interface SquadPlace {
  readonly swimmer: Swimmer;
  /** Null: has none; only a fixed swimmer is placed without. */
  readonly time: EventTime | null;
  readonly fixed: boolean;
}

export interface SquadLane extends LaneFigures {
  /** Fastest first; who has no time last. */
  readonly swimmers: readonly SquadPlace[];
}

/** A swimmer without a time, and why. */
export interface Untimed {
  readonly swimmer: Swimmer;
  /** As the end of "… has": `no 200 free time (SCM)`. */
  readonly missing: string;
}

export interface SquadProposal {
  readonly kind: 'proposal';
  /** Every lane of the pool, empty ones too. */
  readonly lanes: readonly SquadLane[];
  /** Everybody without a time: not placed, unless fixed. */
  readonly without: readonly Untimed[];
  /** Over all lanes, ms². */
  readonly sumOfSquares: number;
}

/** Lanes of the pool for everybody in the squad, by their time for an event: see {@link proposeLanes}. */
export function proposeFromSquad(
  squad: Squad,
  event: Event,
  pool: Pool,
  { capacity, fixed = new Map() }: SquadOptions,
): SquadProposal | LaneRefusal {
  const times = new Map<SwimmerId, EventTime>();
  const without: Untimed[] = [];
  for (const swimmer of squad.swimmers) {
    const time = eventTime(swimmer, event, pool);
    if (isEventTime(time)) times.set(swimmer.id, time);
    else without.push({ swimmer, missing: time.missing });
  }
  const paced = [...times].map(([id, { timeMs }]) => ({ id, paceMs: timeMs }));
  const options = { lanes: pool.lanes, capacity, distance: event.distance, fixed };
  const proposal = proposeLanes(paced, options);
  if (proposal.kind !== 'proposal') return proposal;
  const byId = new Map(squad.swimmers.map((swimmer) => [swimmer.id, swimmer]));
  const lanes = proposal.lanes.map((lane) => ({
    ...lane,
    swimmers: lane.swimmers.flatMap((place) => {
      const swimmer = byId.get(place.id);
      return swimmer ? [{ swimmer, time: times.get(place.id) ?? null, fixed: place.fixed }] : [];
    }),
  }));
  return { ...proposal, lanes, without };
}
