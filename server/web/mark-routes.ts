import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { runIdSchema } from '../../shared-types/brand.ts';
import type { DeparturesAnswer, MarksAnswer } from '../../shared-types/wire/marks.ts';
import { failure } from '../failure.ts';
import { read, sendFailure } from './answers.ts';
import type { WebParts } from './web-parts.ts';

/** So many events are less than 64 KB. */
const MOST_EVENTS = 100;
const HOUR_MS = 60 * 60 * 1000;

const paramsSchema = z.object({ id: runIdSchema });
const querySchema = z.object({ after: z.coerce.number().int().min(0).default(0) });

const NO_SUCH_RUN = failure('no-such-run', 'The server has never had such a practice.');

/** What decks and desks need to catch up with a run's times. */
export function markRoutes(app: FastifyInstance, { keeper: { marks } }: WebParts): void {
  app.get('/api/runs/:id/marks', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    const query = read(querySchema, request.query, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    if (!query.ok) return sendFailure(reply, query);
    const { after } = query.value;
    const events = marks.eventsAfter(params.value.id, after);
    if (!events) return sendFailure(reply, NO_SUCH_RUN);
    const answer: MarksAnswer = { events: events.slice(0, MOST_EVENTS), last: marks.seqOf(params.value.id) };
    return reply.send(answer);
  });

  app.get('/api/runs/:id/departures', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    const known = marks.departuresOf(params.value.id);
    if (!known) return sendFailure(reply, NO_SUCH_RUN);
    const { seq, until, departures } = known;
    const answer: DeparturesAnswer = { seq, until, departures: departures.filter(({ at }) => at >= until - HOUR_MS) };
    return reply.send(answer);
  });
}
