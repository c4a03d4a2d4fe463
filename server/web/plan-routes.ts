import type { FastifyInstance } from 'fastify';
import { copyWeekSchema, planDaySchema, planParamsSchema, planQuerySchema } from '../../shared-types/wire/plan.ts';
import { failure } from '../failure.ts';
import { copyWeek, mondayOf, plannedDay, todayOf, weekPlan } from '../running/week-plan.ts';
import { read, sendFailure } from './answers.ts';
import type { WebParts } from './web-parts.ts';

const NO_PRACTICE = failure('no-such-practice', 'One of these practices is not in the library.', {
  fix: 'Take one that is.',
});
const PLANNED_IN_BETWEEN = failure('planned-in-between', 'Somebody planned this day in between.', {
  fix: 'Look at what is there now, then plan it again.',
});

const PLAN_IS_FULL = failure('plan-is-full', 'No more practices can be laid on days.', {
  fix: 'Take some off the days of years ago.',
});

/** The desk's questions about the week's plan. */
export function planRoutes(app: FastifyInstance, { store, keeper, clock, timezone }: WebParts): void {
  app.get('/api/plan', async (request, reply) => {
    const query = read(planQuerySchema, request.query, 'bad-request');
    if (!query.ok) return sendFailure(reply, query);
    await keeper.history.upToDate(null);
    const face = { timezone, trimMs: store.pool.runSettings().trimMs };
    const asked = { store, face, now: clock.now() };
    return reply.send(weekPlan(asked, query.value.from ?? mondayOf(todayOf(asked))));
  });

  app.put('/api/plan/:day', (request, reply) => {
    const params = read(planParamsSchema, request.params, 'bad-request');
    const asked = read(planDaySchema, request.body, 'bad-request');
    if (!params.ok) return sendFailure(reply, params);
    if (!asked.ok) return sendFailure(reply, asked);
    const [{ day }, { practices, instead }] = [params.value, asked.value];
    const before = store.plan.on(day);
    if (practices.some((id) => !before.includes(id) && !store.practices.practice(id))) {
      return sendFailure(reply, NO_PRACTICE);
    }
    if (practices.length > before.length && store.plan.isFull()) return sendFailure(reply, PLAN_IS_FULL);
    // Asked again after a lost answer it is already there.
    if (before.join() !== practices.join()) {
      if (before.join() !== instead.join()) {
        return sendFailure(reply, PLANNED_IN_BETWEEN, { current: plannedDay(store, day) });
      }
      store.plan.replace(day, practices);
    }
    return reply.send(plannedDay(store, day));
  });

  app.post('/api/plan/copy', (request, reply) => {
    const asked = read(copyWeekSchema, request.body, 'bad-request');
    if (!asked.ok) return sendFailure(reply, asked);
    return store.plan.isFull() ? sendFailure(reply, PLAN_IS_FULL) : reply.send(copyWeek(store, asked.value));
  });
}
