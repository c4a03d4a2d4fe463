import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { practiceIdSchema } from '../../shared-types/brand.ts';
import { type FoundAnswer, searchQuerySchema, type VersionsAnswer } from '../../shared-types/wire/library.ts';
import { failure } from '../failure.ts';
import { calendarOf } from '../results/calendar.ts';
import { spanOfDays } from '../results/week.ts';
import { workOutFacts } from '../running/practice-facts.ts';
import { read, sendFailure } from './answers.ts';
import type { WebParts } from './web-parts.ts';

const paramsSchema = z.object({ id: practiceIdSchema });
const NO_PRACTICE = failure('no-such-practice', 'There is no such practice in the library.', {
  fix: 'Look at the list again.',
});

/** The desk's questions about the library of practices. */
export function libraryRoutes(app: FastifyInstance, parts: WebParts): void {
  const { store, clock } = parts;

  app.get('/api/practices/search', async (request, reply) => {
    const query = read(searchQuerySchema, request.query, 'bad-request');
    if (!query.ok) return sendFailure(reply, query);
    await workOutFacts(store);
    return reply.send(found(parts, query.value));
  });

  app.get('/api/practices/:id/versions', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    const answer: VersionsAnswer = { versions: store.practices.versions(params.value.id) };
    return answer.versions.length > 0 ? reply.send(answer) : sendFailure(reply, NO_PRACTICE);
  });

  app.delete('/api/practices/:id', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    if (!store.practices.practice(params.value.id)) return sendFailure(reply, NO_PRACTICE);
    store.practices.delete(params.value.id, Math.round(clock.now()));
    return reply.send({ deleted: true });
  });

  app.post('/api/practices/:id/restore', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    store.practices.restore(params.value.id);
    const practice = store.practices.practice(params.value.id);
    return practice ? reply.send(practice) : sendFailure(reply, NO_PRACTICE);
  });
}

/** Days are those of the pool's clock: asked for with some hours to spare, and those beyond are left out. */
function found({ store, timezone }: WebParts, query: z.infer<typeof searchQuerySchema>): FoundAnswer {
  const { text, style = null, least, most, from, to, limit } = query;
  const words = text.split(/\s+/).filter((word) => word !== '');
  const wanted = { words, style, least, most, ...spanOfDays(from ?? null, to ?? null) };
  const dayAt = calendarOf(timezone);
  const { trimMs } = store.pool.runSettings();
  const isWithin = (savedAt: number): boolean => {
    if (from === undefined && to === undefined) return true;
    const day = dayAt(savedAt + trimMs);
    return (from === undefined || day >= from) && (to === undefined || day <= to);
  };
  // Those of the day before and after may be among them.
  const asked = from === undefined && to === undefined ? limit + 1 : Number.MAX_SAFE_INTEGER;
  const practices = store.practiceSearch.find(wanted, asked).filter(({ savedAt }) => isWithin(savedAt));
  return { practices: practices.slice(0, limit), more: practices.length > limit };
}
