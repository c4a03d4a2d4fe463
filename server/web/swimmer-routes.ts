import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { swimmerIdSchema } from '../../shared-types/brand.ts';
import { MOST_SWIMMERS, type Swimmer } from '../../shared-types/squad.ts';
import {
  type SaveSwimmer,
  SWIMMER_SETS_A_PAGE,
  type SwimmerAnswer,
  saveSwimmerSchema,
} from '../../shared-types/wire/swimmer.ts';
import { failure, type KnownFailure } from '../failure.ts';
import { thresholdsOf } from '../planning/pace/thresholds.ts';
import { nameKey } from '../planning/swimmer-names.ts';
import { presentSquad } from '../running/present-squad.ts';
import { read, sendFailure } from './answers.ts';
import { upTo } from './page-size.ts';
import type { WebParts } from './web-parts.ts';

const paramsSchema = z.object({ id: swimmerIdSchema });
const querySchema = z.object({ limit: upTo(SWIMMER_SETS_A_PAGE, 'sets') });

const NO_SWIMMER = failure('no-such-swimmer', 'This swimmer is not in the squad any more.', {
  fix: 'Look at who is in it now.',
});
const OTHER_SWIMMER = failure('bad-request', 'The swimmer is another one than the address says.');
const CHANGED_IN_BETWEEN = failure('saved-in-between', 'Somebody changed this swimmer in between; nothing was saved.', {
  fix: 'Look at what is there now, then change it again.',
});
const DELETED = failure('deleted-for-good', 'This swimmer was deleted for good, so there is nothing to put back.', {
  fix: 'Add them to the squad as somebody new.',
});
const TOO_MANY = failure('squad-is-full', `A squad holds ${MOST_SWIMMERS} swimmers.`, {
  fix: 'Take somebody out of it first.',
});

/** The desk's questions about one swimmer. */
export function swimmerRoutes(app: FastifyInstance, parts: WebParts): void {
  const { store, keeper } = parts;

  app.get('/api/squad/swimmers/:id', async (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    const query = read(querySchema, request.query, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    if (!query.ok) return sendFailure(reply, query);
    const swimmer = swimmerIn(parts, params.value.id);
    if (!swimmer) return sendFailure(reply, NO_SWIMMER);
    await keeper.history.upToDate(null);
    const thresholds = thresholdsOf(swimmer, store.pool.pool());
    const swum = store.history.setsOf(swimmer.id, query.value.limit, { rehearsed: false });
    const answer: SwimmerAnswer = { swimmer, thresholds, ...swum };
    return reply.send(answer);
  });

  app.put('/api/squad/swimmers/:id', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    const asked = read(saveSwimmerSchema, request.body, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    if (!asked.ok) return sendFailure(reply, asked);
    if (asked.value.swimmer.id !== params.value.id) return sendFailure(reply, OTHER_SWIMMER);
    const refused = saved(parts, asked.value);
    if (refused) return sendFailure(reply, refused);
    // Who is new can join what is on the wall.
    keeper.squadChanged(presentSquad(parts));
    return reply.send(store.squad.squad());
  });

  app.delete('/api/squad/swimmers/:id', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    if (!swimmerIn(parts, params.value.id)) return sendFailure(reply, NO_SWIMMER);
    store.squad.remove(params.value.id);
    return reply.send(store.squad.squad());
  });
}

const swimmerIn = ({ store }: WebParts, id: Swimmer['id']): Swimmer | undefined =>
  store.squad.squad().swimmers.find((swimmer) => swimmer.id === id);

/** @returns why nothing was saved; null when it was */
function saved({ store }: WebParts, { swimmer, instead }: SaveSwimmer): KnownFailure | null {
  const { swimmers } = store.squad.squad();
  const now = swimmers.find(({ id }) => id === swimmer.id);
  if (!now && instead) return NO_SWIMMER;
  if (now && (!instead || written(now) !== written(instead))) return CHANGED_IN_BETWEEN;
  const like = swimmers.find(({ id, name }) => id !== swimmer.id && nameKey(name) === nameKey(swimmer.name));
  if (like) return nameIsTaken(like);
  if (now) store.squad.save({ ...withoutPlace(swimmer), ...placeIn(now) });
  else if (store.erasure.isDeleted(swimmer.id)) return DELETED;
  else if (swimmers.length >= MOST_SWIMMERS) return TOO_MANY;
  else store.squad.add(swimmer);
  return null;
}

const nameIsTaken = ({ name }: Swimmer): KnownFailure =>
  failure('name-is-taken', `There is a swimmer called ${name} already.`, {
    fix: 'Write the name so that the two can be told apart.',
  });

const withoutPlace = ({ lane: _, order: _order, ...rest }: Swimmer): Swimmer => rest;

const placeIn = ({ lane, order }: Swimmer): Pick<Swimmer, 'lane' | 'order'> => ({
  ...(lane === undefined ? {} : { lane }),
  ...(order === undefined ? {} : { order }),
});

/** All but the place, which is changed elsewhere: a carried swimmer is still the one that was seen. */
const written = (swimmer: Swimmer): string => JSON.stringify(withoutPlace(swimmer));
