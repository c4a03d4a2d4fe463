import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { swimmerIdSchema } from '../../shared-types/brand.ts';
import type { Labels } from '../../shared-types/wire/from-server.ts';
import {
  SET_KINDS_A_PAGE,
  type SetHistoryAnswer,
  WEEKS_A_PAGE,
  type WeeksAnswer,
} from '../../shared-types/wire/history.ts';
import { ROLES } from '../../shared-types/wire/protocol.ts';
import { failure, type KnownFailure } from '../failure.ts';
import { calendarOf } from '../results/calendar.ts';
import { spanOfWeeks, weeksOf } from '../results/week.ts';
import { fullLabels, shortLabels } from '../running/labels.ts';
import { read, sendFailure } from './answers.ts';
import { upTo } from './page-size.ts';
import type { WebParts } from './web-parts.ts';

const COACHES_ONLY = failure('not-allowed', 'What was swum is for decks and desks only.');
const NO_SUCH_SET = failure('no-such-set', 'Such a set has never been swum.', {
  fix: 'Choose one of those that have been: GET /api/history/sets lists them.',
});
const NO_SUCH_SWIMMER = failure('no-such-swimmer', 'There is no such swimmer in the squad, nor has there been.');

/** No instant is before it. */
const FIRST_DAY = '1970-01-01';

/** What all of these questions may say. */
const asked = {
  role: z.enum(ROLES).default('desk'),
  rehearsed: z
    .enum(['0', '1'])
    .default('0')
    .transform((flag) => flag === '1'),
};

const setsQuerySchema = z.object({ ...asked, limit: upTo(SET_KINDS_A_PAGE, 'sets') });
const setQuerySchema = z.object({ ...asked, signature: z.string('no signature of a set').min(1) });
const weeksQuerySchema = z.object({
  ...asked,
  day: z.iso
    .date('not a date like 2027-01-15')
    .refine((day) => day >= FIRST_DAY, `before ${FIRST_DAY}`)
    .optional(),
  weeks: upTo(WEEKS_A_PAGE, 'weeks'),
  swimmer: swimmerIdSchema.optional(),
});

/** What has been swum over the weeks: as far as it has not been worked out yet, that is done first. */
export function historyRoutes(app: FastifyInstance, parts: WebParts): void {
  const { history } = parts.store;

  app.get('/api/history/sets', async (request, reply) => {
    const query = await readQuestion(parts, setsQuerySchema, request.query);
    if (!query.ok) return sendFailure(reply, query);
    return reply.send(history.kinds(query.value.limit, query.value));
  });

  app.get('/api/history/set', async (request, reply) => {
    const query = await readQuestion(parts, setQuerySchema, request.query);
    if (!query.ok) return sendFailure(reply, query);
    const { signature, role } = query.value;
    const known = history.occurrences(signature, query.value);
    if (!known) return sendFailure(reply, NO_SUCH_SET);
    const answer: SetHistoryAnswer = { signature, ...known, labels: labelsFor(parts, role) };
    return reply.send(answer);
  });

  app.get('/api/history/weeks', async (request, reply) => {
    const query = await readQuestion(parts, weeksQuerySchema, request.query);
    if (!query.ok) return sendFailure(reply, query);
    const answer = weeksAnswer(parts, query.value);
    return 'ok' in answer ? sendFailure(reply, answer) : reply.send(answer);
  });
}

type Asking = { readonly role: (typeof ROLES)[number]; readonly rehearsed: boolean };
type Question<T> = { readonly ok: true; readonly value: T } | KnownFailure;

/** What is asked, once everything that it is about has been worked out. */
async function readQuestion<S extends z.ZodType<Asking>>(
  { keeper }: WebParts,
  schema: S,
  question: unknown,
): Promise<Question<z.infer<S>>> {
  const query = read(schema, question, 'bad-request');
  if (!query.ok) return query;
  if (query.value.role === 'wall') return COACHES_ONLY;
  await keeper.history.upToDate(null);
  return query;
}

function weeksAnswer(parts: WebParts, query: z.infer<typeof weeksQuerySchema>): WeeksAnswer | KnownFailure {
  const { store, clock, timezone } = parts;
  const { weeks, swimmer = null, role } = query;
  const labels = labelsFor(parts, role);
  if (swimmer !== null && labels[swimmer] === undefined && !store.history.knows(swimmer)) return NO_SUCH_SWIMMER;
  const face = { timezone, trimMs: store.pool.runSettings().trimMs };
  const day = query.day ?? calendarOf(timezone)(clock.now() + face.trimMs);
  const { from, to } = spanOfWeeks(day, weeks);
  return { weeks: weeksOf(store.history.swum(from, to, swimmer, query), day, weeks, face), labels };
}

/** As the squad has its swimmers now: in full names on the desk only. */
function labelsFor({ store }: WebParts, role: Asking['role']): Labels {
  const { swimmers } = store.squad.squad();
  return role === 'desk' ? fullLabels(swimmers) : shortLabels(swimmers);
}
