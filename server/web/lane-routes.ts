import type { FastifyInstance } from 'fastify';
import type { Pool } from '../../shared-types/pool.ts';
import { LIMITS } from '../../shared-types/practice.ts';
import { eventText, type Swimmer } from '../../shared-types/squad.ts';
import { atPlace, isSamePlace, placeOf } from '../../shared-types/swimmer-place.ts';
import {
  type ChangeLanes,
  changeLanesSchema,
  type LanesQuestion,
  lanesQuestionSchema,
} from '../../shared-types/wire/lanes.ts';
import { failure, type KnownFailure } from '../failure.ts';
import { lanesForDesk } from '../planning/lanes/wire-lanes.ts';
import { presentSquad } from '../running/present-squad.ts';
import { read, sendFailure } from './answers.ts';
import type { WebParts } from './web-parts.ts';

const CHANGED_IN_BETWEEN = failure('saved-in-between', 'Somebody changed these lanes in between; nothing was moved.', {
  fix: 'Look at what is there now, then move them again.',
});

/** The desk's questions about who swims in which lane. */
export function laneRoutes(app: FastifyInstance, parts: WebParts): void {
  const { store } = parts;
  app.post('/api/preview/lanes', (request, reply) => {
    const asked = read(lanesQuestionSchema, request.body, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    const squad = presentSquad(parts);
    const proposal = lanesForDesk(squad, asked.value, store.pool.pool());
    if ('kind' in proposal)
      return sendFailure(reply, failure('no-lanes', sentence(proposal.text), { fix: sentence(proposal.fix) }));
    if (proposal.without.length === squad.swimmers.length) return sendFailure(reply, nobodyTimed(asked.value));
    return reply.send(proposal);
  });

  app.put('/api/squad/lanes', (request, reply) => {
    const asked = read(changeLanesSchema, request.body, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    const moved = movedSwimmers(store.squad.squad().swimmers, asked.value);
    if (!moved) return sendFailure(reply, CHANGED_IN_BETWEEN);
    const refused = refusalOf(store.squad.squad().swimmers, moved, store.pool.pool());
    if (refused) return sendFailure(reply, refused);
    store.squad.saveAll(moved);
    return reply.send(store.squad.squad());
  });
}

const sentence = (text: string): string => `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;

const nobodyTimed = ({ event, course }: LanesQuestion): KnownFailure =>
  failure('no-lanes', `Nobody has a ${eventText(event)} time (${course}).`, {
    fix: 'Add times, or choose another event or course.',
  });

/** @returns null when one of them is not where it was seen any more */
function movedSwimmers(swimmers: readonly Swimmer[], { places, instead }: ChangeLanes): Swimmer[] | null {
  const byId = new Map(swimmers.map((swimmer) => [swimmer.id, swimmer]));
  const seen = new Map(instead.map((place) => [place.swimmer, place]));
  const moved = places.flatMap((place) => {
    const [swimmer, before] = [byId.get(place.swimmer), seen.get(place.swimmer)];
    return swimmer && before && isSamePlace(placeOf(swimmer), before) ? [atPlace(swimmer, place)] : [];
  });
  return moved.length === places.length ? moved : null;
}

/** Lanes that nobody is moved into are not looked at: what is wrong there was so before. */
function refusalOf(swimmers: readonly Swimmer[], moved: readonly Swimmer[], pool: Pool): KnownFailure | null {
  const byId = new Map(moved.map((swimmer) => [swimmer.id, swimmer]));
  const after = swimmers.map((swimmer) => byId.get(swimmer.id) ?? swimmer);
  for (const { id, lane } of moved) {
    if (lane === undefined) continue;
    const wasThere = swimmers.some((swimmer) => swimmer.id === id && swimmer.lane === lane);
    if (wasThere) continue;
    if (lane > pool.lanes) return noSuchLane(lane, pool);
    const count = after.filter((swimmer) => swimmer.lane === lane).length;
    if (count > LIMITS.swimmersPerLane) return laneTooFull(lane, count);
  }
  return null;
}

const noSuchLane = (lane: number, { lanes }: Pool): KnownFailure =>
  failure('no-such-lane', `There is no lane ${lane}: the pool has ${lanes === 1 ? 'one lane' : `${lanes} lanes`}.`, {
    fix: lanes === 1 ? 'Give the pool more lanes.' : `Take lane 1 to ${lanes}, or give the pool more lanes.`,
  });

const laneTooFull = (lane: number, count: number): KnownFailure =>
  failure('lane-too-full', `Lane ${lane} would have ${count} swimmers; a lane takes ${LIMITS.swimmersPerLane}.`, {
    fix: 'Move somebody out of it first.',
  });
