import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { deviceIdSchema } from '../../shared-types/brand.ts';
import { WALL_SETTING_CURES, wallSettingsSchema } from '../../shared-types/wire/walls.ts';
import { failure, type KnownFailure } from '../failure.ts';
import { read, sendFailure } from './answers.ts';
import { IDENTIFY, MOST_WALLS } from './walls.ts';
import type { WebParts } from './web-parts.ts';

const paramsSchema = z.object({ device: deviceIdSchema });

const NO_SUCH_WALL = failure('no-such-wall', 'There is no such wall.', {
  fix: 'Open /wall on it; the desk then shows its number.',
});
const TOO_MANY_WALLS = failure('too-many-devices', `${MOST_WALLS} walls have been set up already.`, {
  fix: 'Forget some that are not connected, under Today.',
});
const NOTHING_SET = failure('no-such-wall', 'Nothing has been set for this wall.');
const NOT_CONNECTED = failure('not-connected', 'This wall is not connected.', {
  fix: 'Look whether its browser is open at /wall, in the same network.',
});

/** With what to write instead at the place that cannot be read. */
function withCure(refused: KnownFailure): KnownFailure {
  const field = refused.place?.split('.')[0];
  const cure = Object.entries(WALL_SETTING_CURES).find(([name]) => name === field)?.[1];
  return cure === undefined ? refused : { ...refused, fix: cure };
}

/** What the desk does to each wall: sets it up, forgets it, has it say which one it is. */
export function screenRoutes(app: FastifyInstance, { walls }: WebParts): void {
  app.put('/api/walls/:device', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    const asked = read(wallSettingsSchema, request.body, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    if (!asked.ok) return sendFailure(reply, withCure(asked));
    if (!walls.hasRoomFor(params.value.device)) return sendFailure(reply, TOO_MANY_WALLS);
    return walls.set(params.value.device, asked.value) ? reply.send(walls.list()) : sendFailure(reply, NO_SUCH_WALL);
  });

  app.delete('/api/walls/:device', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    return walls.forget(params.value.device) ? reply.send(walls.list()) : sendFailure(reply, NOTHING_SET);
  });

  app.post('/api/walls/:device/identify', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    return walls.identify(params.value.device) ? reply.send(IDENTIFY) : sendFailure(reply, NOT_CONNECTED);
  });
}
