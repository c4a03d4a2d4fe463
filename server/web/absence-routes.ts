import type { FastifyInstance } from 'fastify';
import { type Absences, setAbsenceSchema } from '../../shared-types/wire/absences.ts';
import { failure } from '../failure.ts';
import { poolDay, presentSquad } from '../running/present-squad.ts';
import { read, sendFailure } from './answers.ts';
import type { WebParts } from './web-parts.ts';

const NO_SWIMMER = failure('no-such-swimmer', 'This swimmer is not in the squad any more.', {
  fix: 'Look at who is in it now.',
});

/** The desk's questions about who is here today. */
export function absenceRoutes(app: FastifyInstance, parts: WebParts): void {
  const { store, keeper } = parts;
  const answer = (): Absences => {
    const day = poolDay(parts);
    const away = store.absences.on(day);
    return { day, away: store.squad.squad().swimmers.flatMap(({ id }) => (away.has(id) ? [id] : [])) };
  };

  app.get('/api/squad/absences', answer);

  app.put('/api/squad/absences', (request, reply) => {
    const asked = read(setAbsenceSchema, request.body, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    const { swimmer, isAway } = asked.value;
    if (!store.squad.squad().swimmers.some(({ id }) => id === swimmer)) return sendFailure(reply, NO_SWIMMER);
    store.absences.set(poolDay(parts), swimmer, isAway);
    // Who comes after all can join what is on the wall.
    if (!isAway) keeper.squadChanged(presentSquad(parts));
    return reply.send(answer());
  });
}
