import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { runIdSchema, swimmerIdSchema } from '../../shared-types/brand.ts';
import { LOAD_LIMITS } from '../../shared-types/loads.ts';
import { loadsUploadSchema, type ReferencesAnswer, takeOverRequestSchema } from '../../shared-types/wire/results.ts';
import { calendarOf } from '../results/calendar.ts';
import { keepLoads } from '../running/loads.ts';
import { takeOver, undoTakeOver } from '../running/take-over.ts';
import { read, sendFailure } from './answers.ts';
import type { WebParts } from './web-parts.ts';

/** What a coach does to results: writes down what was pulled against, makes a result a reference. */
export function resultEntryRoutes(app: FastifyInstance, parts: WebParts): void {
  loadRoute(app, parts);
  referenceRoutes(app, parts);
}

const paramsSchema = z.object({ id: runIdSchema, set: z.coerce.number().int().min(0), swimmer: swimmerIdSchema });

const { kg, newtons } = LOAD_LIMITS;
const LOAD_CURE = `Write a stack’s mass of ${kg.least} to ${kg.most} kg, or a rope’s force of ${newtons.least} to ${newtons.most} N.`;

function loadRoute(app: FastifyInstance, { store, keeper: { marks } }: WebParts): void {
  app.put('/api/runs/:id/loads/:set/:swimmer', (request, reply) => {
    const params = read(paramsSchema, request.params, 'bad-request');
    const asked = read(loadsUploadSchema, request.body, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    if (!asked.ok) return sendFailure(reply, { ...asked, fix: LOAD_CURE });
    const { id: run, set, swimmer } = params.value;
    const kept = keepLoads({ store, marks }, { run, set, swimmer }, asked.value.loads);
    return kept.ok ? reply.send(asked.value) : sendFailure(reply, kept);
  });
}

const offerParamsSchema = paramsSchema.extend({ offer: z.string().max(64) });

function referenceRoutes(app: FastifyInstance, { store, keeper, timezone }: WebParts): void {
  const parts = { store, keeper, dayOf: calendarOf(timezone) };
  const path = '/api/runs/:id/references/:set/:swimmer/:offer';
  app.put(path, async (request, reply) => {
    const params = read(offerParamsSchema, request.params, 'bad-request');
    const asked = read(takeOverRequestSchema, request.body, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    if (!asked.ok) return sendFailure(reply, asked);
    const done = await takeOver(parts, params.value.id, params.value, asked.value.timeMs);
    const answer: ReferencesAnswer = { isTaken: true };
    return done.ok ? reply.send(answer) : sendFailure(reply, done);
  });

  app.delete(path, async (request, reply) => {
    const params = read(offerParamsSchema, request.params, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    const done = await undoTakeOver(parts, params.value.id, params.value);
    const answer: ReferencesAnswer = { isTaken: false };
    return done.ok ? reply.send(answer) : sendFailure(reply, done);
  });
}
