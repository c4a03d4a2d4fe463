import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { runIdSchema } from '../../shared-types/brand.ts';
import { ROLES } from '../../shared-types/wire/protocol.ts';
import { type ResultsAnswer, RUNS_A_PAGE } from '../../shared-types/wire/results.ts';
import { failure, type KnownFailure } from '../failure.ts';
import { calendarOf } from '../results/calendar.ts';
import { offersIn, withOffers } from '../running/reference-offers.ts';
import { resultsCsv } from '../running/results-csv.ts';
import { linesOf, runResults } from '../running/run-results.ts';
import { read, sendFailure } from './answers.ts';
import type { WebParts } from './web-parts.ts';

const NO_SUCH_RUN = failure('no-such-run', 'The server has never had such a practice.');
const COACHES_ONLY = failure('not-allowed', 'Results are for decks and desks only.');

const listQuerySchema = z.object({
  limit: z.coerce.number().int().min(1).max(RUNS_A_PAGE.most).default(RUNS_A_PAGE.usual),
  before: runIdSchema.optional(),
});
const paramsSchema = z.object({ id: runIdSchema });
const bomQuerySchema = z.object({ bom: z.enum(['0', '1']).default('0') });
const roleQuerySchema = z.object({ role: z.enum(ROLES).default('deck') });

/** The practices that have been swum, and what their times say. */
export function resultRoutes(app: FastifyInstance, parts: WebParts): void {
  const { runList } = parts.store;
  app.get('/api/runs', (request, reply) => {
    const query = read(listQuerySchema, request.query, 'bad-request');
    if (!query.ok) return sendFailure(reply, query);
    const { limit, before: id } = query.value;
    const before = id === undefined ? null : runList.summary(id);
    if (id !== undefined && !before) return sendFailure(reply, NO_SUCH_RUN);
    return reply.send(runList.page(limit, before));
  });

  app.get('/api/runs/:id/results', async (request, reply) => {
    const asked = await askedResults(parts, request);
    return asked.ok ? reply.send(asked.value) : sendFailure(reply, asked);
  });

  app.get('/api/runs/:id/lines', async (request, reply) => {
    const asked = await askedResults(parts, request);
    return asked.ok ? reply.send(linesOf(asked.value)) : sendFailure(reply, asked);
  });

  app.get('/api/runs/:id/results.csv', async (request, reply) => {
    const asked = await askedResults(parts, request);
    const query = read(bomQuerySchema, request.query, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    if (!query.ok) return sendFailure(reply, query);
    const { run } = asked.value;
    const marks = parts.keeper.marks.swumRun(run.id)?.marks ?? [];
    return reply
      .type('text/csv; charset=utf-8')
      .header('content-disposition', `attachment; filename="results-${calendarOf(parts.timezone)(run.loadedAt)}.csv"`)
      .send(resultsCsv(asked.value, marks, query.value.bom === '1'));
  });
}

type Asked = { readonly ok: true; readonly value: ResultsAnswer } | KnownFailure;

async function askedResults(parts: WebParts, request: { params: unknown; query: unknown }): Promise<Asked> {
  const { store, keeper, timezone } = parts;
  const params = read(paramsSchema, request.params, 'bad-request');
  const query = read(roleQuerySchema, request.query, 'bad-request');
  if (!params.ok) return params;
  if (!query.ok) return query;
  const { role } = query.value;
  if (role === 'wall') return COACHES_ONLY;
  const { id } = params.value;
  const value = await runResults(store, keeper, id, role);
  const swum = keeper.marks.swumRun(id);
  if (!value || !swum) return NO_SUCH_RUN;
  if (role !== 'desk') return { ok: true, value };
  return { ok: true, value: withOffers(value, offersIn({ store, dayOf: calendarOf(timezone) }, value.run, swum)) };
}
