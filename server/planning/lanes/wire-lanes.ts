import type { LaneNumber, SwimmerId } from '../../../shared-types/brand.ts';
import type { Pool } from '../../../shared-types/pool.ts';
import type { Squad } from '../../../shared-types/squad.ts';
import type { LanesProposal, LanesQuestion, ProposedLane } from '../../../shared-types/wire/lanes.ts';
import { eventTime, isEventTime } from '../pace/event-time.ts';
import { proposeFromSquad, type SquadLane, type SquadPlace } from './propose-from-squad.ts';
import type { LaneRefusal } from './propose-lanes.ts';

/** Who has no time stays in the lane of now: nothing tells of a better one. */
function staying(squad: Squad, { event }: LanesQuestion, pool: Pool): Map<SwimmerId, LaneNumber> {
  const stay = new Map<SwimmerId, LaneNumber>();
  for (const swimmer of squad.swimmers) {
    const { id, lane } = swimmer;
    if (lane !== undefined && lane <= pool.lanes && !isEventTime(eventTime(swimmer, event, pool))) stay.set(id, lane);
  }
  return stay;
}

const wirePlace = ({ swimmer, time }: SquadPlace): ProposedLane['swimmers'][number] => ({
  id: swimmer.id,
  name: swimmer.name,
  timeMs: time?.timeMs ?? null,
  basis: time?.basis ?? null,
  estimate: time?.estimate ?? null,
  laneNow: swimmer.lane ?? null,
});

const wireLane = ({ lane, group, meanMs, spreadMs, swimmers }: SquadLane): ProposedLane => ({
  lane,
  group,
  meanMs,
  spreadMs,
  swimmers: swimmers.map(wirePlace),
});

/** Lanes for the squad in this pool, as the desk shows them before they are taken. */
export function lanesForDesk(squad: Squad, question: LanesQuestion, pool: Pool): LanesProposal | LaneRefusal {
  const inCourse = { ...pool, course: question.course };
  const options = { capacity: question.capacity, fixed: staying(squad, question, inCourse) };
  const proposal = proposeFromSquad(squad, question.event, inCourse, options);
  if (proposal.kind !== 'proposal') return proposal;
  const { lanes, without, sumOfSquares } = proposal;
  return {
    lanes: lanes.map(wireLane),
    without: without.map(({ swimmer, missing }) => ({ name: swimmer.name, missing, laneNow: swimmer.lane ?? null })),
    sumOfSquares,
  };
}
