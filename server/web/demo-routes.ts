import type { FastifyInstance } from 'fastify';
import type { DemoState } from '../../shared-types/wire/desk.ts';
import { addDemo } from '../demo.ts';
import { bringBackDemo, removeDemo, removedDemo } from '../demo-removal.ts';
import { failure } from '../failure.ts';
import { poolDay, poolDayOf } from '../running/present-squad.ts';
import { sendFailure } from './answers.ts';
import type { WebParts } from './web-parts.ts';

const NOTHING_TO_UNDO = failure('nothing-to-undo', 'There is no demo to bring back.', {
  fix: 'Somebody may have brought it back already: look at what is there now.',
});

function stateOf(parts: WebParts): DemoState {
  const today = poolDay(parts);
  return { removed: removedDemo(parts.store, (at) => poolDayOf(parts, at) === today) };
}

/** The invented squad and practices to look around with: there, removed, and back again. */
export function demoRoutes(app: FastifyInstance, parts: WebParts): void {
  const { store, keeper, clock } = parts;

  app.post('/api/demo', async (_request, reply) => {
    const added = await addDemo(store, parts);
    return added.ok ? reply.send({ practices: added.practices }) : sendFailure(reply, added);
  });

  app.get('/api/demo', () => stateOf(parts));

  app.delete('/api/demo', (_request, reply) => {
    const removed = removeDemo(store, keeper, Math.round(clock.now()));
    return removed.ok ? reply.send(stateOf(parts)) : sendFailure(reply, removed);
  });

  app.post('/api/demo/restore', (_request, reply) => {
    const restored = bringBackDemo(store);
    if (!restored) return sendFailure(reply, NOTHING_TO_UNDO);
    keeper.squadChanged(store.squad.squad());
    return reply.send(restored);
  });
}
