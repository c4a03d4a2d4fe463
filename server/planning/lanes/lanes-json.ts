import type { Course } from '../../../shared-types/pool.ts';
import { type Event, eventText } from '../../../shared-types/squad.ts';
import type { SquadLane, SquadPlace, SquadProposal } from './propose-from-squad.ts';

/** What lanes were asked for. */
export interface LanesQuestion {
  readonly event: Event;
  readonly course: Course;
  /** Most swimmers in a lane. */
  readonly capacity: number;
}

/**
 * Proposed lanes as the lanes command prints them: swimmers by name, times in whole milliseconds, the sum of squares
 * in whole ms². `laneNow` is the lane the squad has the swimmer in, absent where it has none.
 */
export function lanesJson(proposal: SquadProposal, { event, course, capacity }: LanesQuestion): unknown {
  return {
    by: eventText(event),
    course,
    capacity,
    lanes: proposal.lanes.map(laneJson),
    without: proposal.without.map(({ swimmer, missing }) => ({ name: swimmer.name, missing })),
    sumOfSquares: Math.round(proposal.sumOfSquares),
  };
}

const rounded = (value: number | null): number | null => (value === null ? null : Math.round(value));

const laneJson = ({ lane, group, meanMs, spreadMs, swimmers }: SquadLane): unknown => ({
  lane,
  group,
  meanMs: rounded(meanMs),
  spreadMs: rounded(spreadMs),
  swimmers: swimmers.map(placeJson),
});

const placeJson = ({ swimmer, time, fixed }: SquadPlace): unknown => ({
  name: swimmer.name,
  ms: rounded(time?.timeMs ?? null),
  basis: time?.basis ?? null,
  estimated: (time?.estimate ?? null) !== null,
  kept: fixed,
  ...(swimmer.lane === undefined ? {} : { laneNow: swimmer.lane }),
});
