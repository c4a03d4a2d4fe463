import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { type Instant, instant, instantSchema, type RunId, runIdSchema } from '../../shared-types/brand.ts';
import type { DeparturesAnswer, MarksAnswer } from '../../shared-types/wire/marks.ts';
import { failure } from '../failure.ts';
import type { MarkKeeper } from '../running/mark-keeper.ts';
import { read, sendFailure } from './answers.ts';
import type { WebParts } from './web-parts.ts';

/** So many events are less than 64 KB. */
const MOST_EVENTS = 100;
const HOUR_MS = 60 * 60 * 1000;

const paramsSchema = z.object({ id: runIdSchema });
const querySchema = z.object({ after: z.coerce.number().int().min(0).default(0) });
const beforeQuerySchema = z.object({ before: z.coerce.number().pipe(instantSchema).optional() });

const NO_SUCH_RUN = failure('no-such-run', 'The server has never had such a practice.');

/** @returns null when there is no such run */
export function marksAnswer(marks: MarkKeeper, run: RunId, after: number): MarksAnswer | null {
  const events = marks.eventsAfter(run, after);
  return events && { events: events.slice(0, MOST_EVENTS), last: marks.seqOf(run) };
}

/**
 * Who left within an hour: the last one is what takes times, those before it can come later.
 * @param before absent: the last hour
 * @returns null when there is no such run
 */
export function departuresAnswer(marks: MarkKeeper, run: RunId, before?: Instant): DeparturesAnswer | null {
  const known = marks.departuresOf(run);
  if (!known) return null;
  const { seq, until } = known;
  const asked = known.departures.filter(({ at }) => before === undefined || at < before);
  const from = (before ?? until) - HOUR_MS;
  const lastBefore = Math.max(...asked.flatMap(({ at }) => (at < from ? [at] : [])));
  const earlier = Number.isFinite(lastBefore) ? { earlier: instant(lastBefore + 1) } : {};
  return { seq, until, ...earlier, departures: asked.filter(({ at }) => at >= from) };
}

/** What decks and desks need to catch up with a run's times. */
export function markRoutes(app: FastifyInstance, { keeper: { marks } }: WebParts): void {
  app.get('/api/runs/:id/marks', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    const query = read(querySchema, request.query, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    if (!query.ok) return sendFailure(reply, query);
    const answer = marksAnswer(marks, params.value.id, query.value.after);
    return answer ? reply.send(answer) : sendFailure(reply, NO_SUCH_RUN);
  });

  app.get('/api/runs/:id/departures', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    const query = read(beforeQuerySchema, request.query, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    if (!query.ok) return sendFailure(reply, query);
    const answer = departuresAnswer(marks, params.value.id, query.value.before);
    return answer ? reply.send(answer) : sendFailure(reply, NO_SUCH_RUN);
  });
}
