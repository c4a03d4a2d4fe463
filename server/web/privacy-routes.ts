import type { FastifyInstance } from 'fastify';
import { privacySchema } from '../../shared-types/wire/privacy.ts';
import { read, sendFailure } from './answers.ts';
import type { WebParts } from './web-parts.ts';

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
}
