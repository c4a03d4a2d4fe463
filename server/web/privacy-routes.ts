import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { swimmerIdSchema } from '../../shared-types/brand.ts';
import { KEEP_MONTHS, privacySchema } from '../../shared-types/wire/privacy.ts';
import { deleteForGood, deletionOf, NO_SWIMMER } from '../running/deletion.ts';
import { poolDay } from '../running/present-squad.ts';
import { deleteOlder, olderThan } from '../running/retention.ts';
import { exportOf } from '../running/swimmer-export.ts';
import { read, sendFailure } from './answers.ts';
import type { WebParts } from './web-parts.ts';

const monthsSchema = z.object({
  months: z.coerce.number().pipe(z.literal(KEEP_MONTHS, `not a number of months: ${KEEP_MONTHS.join(', ')}`)),
});
const paramsSchema = z.object({ id: swimmerIdSchema });

/** A name as any file system takes it, without marks: `['zoe', 'nunez']`; nothing of other scripts. */
const plainWords = (name: string): readonly string[] =>
  name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .match(/[a-z0-9]+/g) ?? [];

/** The desk's questions about what is kept of swimmers, and who sees it. */
export function privacyRoutes(app: FastifyInstance, parts: WebParts): void {
  const { store, keeper } = parts;
  app.get('/api/squad/privacy', () => store.pool.privacy());

  app.put('/api/squad/privacy', (request, reply) => {
    const asked = read(privacySchema, request.body, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    const before = store.pool.privacy();
    store.pool.savePrivacy(asked.value);
    if (before.names !== asked.value.names) keeper.namesChanged();
    return reply.send(asked.value);
  });

  app.get('/api/squad/former', () => store.storedOf.former());

  olderRoutes(app, parts);
  swimmerRoutes(app, parts);
}

function olderRoutes(app: FastifyInstance, { clock, ...parts }: WebParts): void {
  app.get('/api/squad/older', (request, reply) => {
    const query = read(monthsSchema, request.query, 'bad-request');
    if (!query.ok) return sendFailure(reply, query);
    return reply.send(olderThan({ ...parts, now: clock.now }, query.value.months));
  });

  app.delete('/api/squad/older', (request, reply) => {
    const query = read(monthsSchema, request.query, 'bad-request');
    if (!query.ok) return sendFailure(reply, query);
    const done = deleteOlder({ ...parts, now: clock.now }, query.value.months);
    return done.ok ? reply.send(done.older) : sendFailure(reply, done);
  });
}

function swimmerRoutes(app: FastifyInstance, parts: WebParts): void {
  const now = (): number => Math.round(parts.clock.now());

  app.get('/api/squad/swimmers/:id/export', async (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    const stored = await exportOf({ ...parts, now }, params.value.id);
    if (!stored) return sendFailure(reply, NO_SWIMMER);
    return reply
      .type('application/json; charset=utf-8')
      .header(
        'content-disposition',
        `attachment; filename="${['swimmer', ...plainWords(stored.name), poolDay(parts)].join('-')}.json"`,
      )
      .send(JSON.stringify(stored, null, 2));
  });

  app.get('/api/squad/swimmers/:id/stored', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    const deletion = deletionOf(parts, params.value.id);
    return deletion.ok ? reply.send(deletion.stored) : sendFailure(reply, deletion);
  });

  app.delete('/api/squad/swimmers/:id/stored', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    const done = deleteForGood({ ...parts, now }, params.value.id);
    if (!done.ok) return sendFailure(reply, done);
    // Takes the place of those that still hold the swimmer.
    void parts.backups.takeIfChanged();
    return reply.send(done.stored);
  });
}
