import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { practiceIdSchema } from '../../shared-types/brand.ts';
import { withNames } from '../../shared-types/message.ts';
import { poolSchema } from '../../shared-types/pool.ts';
import { type Preview, practiceTextSchema, savePracticeSchema } from '../../shared-types/wire/desk.ts';
import { failure } from '../failure.ts';
import { sendOffOptions } from '../planning/lanes/send-off-options.ts';
import { planPractice } from '../planning/plan.ts';
import { fullLabels } from '../running/labels.ts';
import { presentSquad } from '../running/present-squad.ts';
import { titleOf } from '../title.ts';
import { read, sendFailure } from './answers.ts';
import { demoRoutes } from './demo-routes.ts';
import { libraryRoutes } from './library-routes.ts';
import { squadRoutes } from './squad-routes.ts';
import type { WebParts } from './web-parts.ts';

/** The desk's questions about pool, squad and practices. */
export function deskRoutes(app: FastifyInstance, parts: WebParts): void {
  poolRoutes(app, parts);
  squadRoutes(app, parts);
  practiceRoutes(app, parts);
  libraryRoutes(app, parts);
  demoRoutes(app, parts);
}

function poolRoutes(app: FastifyInstance, { store }: WebParts): void {
  app.get('/api/pool', () => store.pool.pool());

  app.put('/api/pool', (request, reply) => {
    const asked = read(poolSchema, request.body, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    store.pool.savePool(asked.value);
    return reply.send(asked.value);
  });
}

const practiceParams = z.object({ id: practiceIdSchema });
const versionQuery = z.object({ version: z.coerce.number().int().min(1).optional() });

function practiceRoutes(app: FastifyInstance, parts: WebParts): void {
  const { store, clock } = parts;
  app.post('/api/preview', (request, reply) => {
    const asked = read(practiceTextSchema, request.body, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    const squad = presentSquad(parts);
    const planned = planPractice(asked.value.text, squad, store.pool.pool());
    const labels = fullLabels(squad.swimmers);
    const messages = planned.messages.map((message) => ({ ...message, text: withNames(message.text, labels) }));
    const sendOffs = planned.sheet ? sendOffOptions(planned.sheet) : [];
    const preview: Preview = { sheet: planned.sheet && { ...planned.sheet, messages }, messages, labels, sendOffs };
    return reply.send(preview);
  });

  app.get('/api/practices', () => store.practices.list());

  app.get('/api/practices/:id', (request, reply) => {
    const asked = read(practiceParams, request.params, 'bad-request');
    const query = read(versionQuery, request.query, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    if (!query.ok) return sendFailure(reply, query);
    const practice = store.practices.practice(asked.value.id, query.value.version);
    return practice ? reply.send(practice) : sendFailure(reply, NO_PRACTICE);
  });

  app.put('/api/practices/:id', (request, reply) => {
    const params = read(practiceParams, request.params, 'bad-request');
    const asked = read(savePracticeSchema, request.body, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    if (!asked.ok) return sendFailure(reply, asked);
    const { text, baseVersion } = asked.value;
    if (baseVersion === 0 && store.practices.count() >= MOST_PRACTICES) return sendFailure(reply, LIBRARY_IS_FULL);
    if (baseVersion >= MOST_VERSIONS) return sendFailure(reply, TOO_MANY_VERSIONS);
    const savedAt = Math.round(clock.now());
    const draft = { id: params.value.id, text, baseVersion, title: titleOf(text), savedAt, demo: false };
    const saved = store.practices.save(draft);
    if (saved.ok) return reply.send(saved.practice);
    return saved.current
      ? sendFailure(reply, SAVED_IN_BETWEEN, { current: saved.current })
      : sendFailure(reply, NO_PRACTICE);
  });
}

/** Deleted ones among them: twenty years of two practices a day. */
const MOST_PRACTICES = 15_000;
const MOST_VERSIONS = 2000;
const LIBRARY_IS_FULL = failure('library-is-full', `The library has room for ${MOST_PRACTICES} practices.`, {
  fix: 'Write it in place of one that is not needed; what you have written is kept on this computer.',
});
const TOO_MANY_VERSIONS = failure('too-many-versions', `This practice has been saved ${MOST_VERSIONS} times.`, {
  fix: 'Make a copy and go on with that; what you have written is kept on this computer.',
});

const NO_PRACTICE = failure('no-such-practice', 'There is no such practice.', { fix: 'Save it as a new one.' });
const SAVED_IN_BETWEEN = failure('saved-in-between', 'Somebody saved this practice while you were writing.', {
  fix: 'Look at what they wrote, then save again.',
});
