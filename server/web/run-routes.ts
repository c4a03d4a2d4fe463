import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { sheetHashSchema } from '../../shared-types/brand.ts';
import { putOnWallSchema } from '../../shared-types/wire/desk.ts';
import { ROLES } from '../../shared-types/wire/protocol.ts';
import { failure } from '../failure.ts';
import { loadingOf } from '../running/loading.ts';
import { presentSquad } from '../running/present-squad.ts';
import { read, sendFailure } from './answers.ts';
import { healthRoutes } from './health-routes.ts';
import { historyRoutes } from './history-routes.ts';
import { markRoutes } from './mark-routes.ts';
import { planRoutes } from './plan-routes.ts';
import { resultEntryRoutes } from './result-entry-routes.ts';
import { resultRoutes } from './result-routes.ts';
import { SheetViews } from './sheet-views.ts';
import type { WebParts } from './web-parts.ts';

const DAY_MS = 24 * 60 * 60 * 1000;
/** Each takes up to a megabyte. */
const MOST_A_DAY = 300;
const TOO_MANY_TODAY = failure('too-fast', `Practices were put on the wall ${MOST_A_DAY} times within a day.`, {
  fix: 'Look on the desk, under Today, which device does that, and end its pairing.',
});

const YEAR_S = 365 * 24 * 60 * 60;

/** What is on the wall: putting it there, taking it off, its sheet. */
export function runRoutes(app: FastifyInstance, parts: WebParts): void {
  const { store, keeper, clock } = parts;
  app.post('/api/runs', (request, reply) => {
    const asked = read(putOnWallSchema, request.body, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    const { practice: id, version, replace, rehearsed = false } = asked.value;
    const practice = store.practices.practice(id, version);
    if (!practice) return sendFailure(reply, failure('no-such-practice', 'There is no such version of the practice.'));
    const planned = loadingOf(practice, presentSquad(parts), store.pool.pool());
    if (!planned.ok) return sendFailure(reply, planned);
    if (store.runs.loadedSince(clock.now() - DAY_MS) >= MOST_A_DAY) return sendFailure(reply, TOO_MANY_TODAY);
    const loaded = keeper.load(planned.loading, replace, rehearsed);
    return loaded.ok ? reply.send(keeper.liveFor('desk')) : sendFailure(reply, loaded);
  });

  app.delete('/api/runs/live', (_request, reply) => {
    const taken = keeper.takeOff();
    return taken.ok ? reply.send(keeper.liveFor('desk')) : sendFailure(reply, taken);
  });

  healthRoutes(app, parts);
  markRoutes(app, parts);
  resultRoutes(app, parts);
  historyRoutes(app, parts);
  resultEntryRoutes(app, parts);
  planRoutes(app, parts);
  sheetRoute(app, new SheetViews(store.runs));
}

const sheetQuerySchema = z.object({ role: z.enum(ROLES).default('wall') });

function sheetRoute(app: FastifyInstance, views: SheetViews): void {
  app.get('/api/sheets/:hash', async (request, reply) => {
    const asked = read(z.object({ hash: sheetHashSchema }), request.params, 'bad-request');
    const query = read(sheetQuerySchema, request.query, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    if (!query.ok) return sendFailure(reply, query);
    // A screen is never told more than what the board shows.
    const role = request.device?.access === 'screen' ? 'wall' : query.value.role;
    const view = await views.view(asked.value.hash, role);
    if (!view) return sendFailure(reply, failure('no-such-sheet', 'There is no such sheet.'));
    void reply
      .type('application/json; charset=utf-8')
      .header('cache-control', `private, max-age=${YEAR_S}, immutable`)
      .header('vary', 'accept-encoding');
    const gzipped = /\bgzip\b/.test(request.headers['accept-encoding'] ?? '');
    return gzipped ? reply.header('content-encoding', 'gzip').send(view.gzipped) : reply.send(view.plain);
  });
}
