import type { Course } from '../../shared-types/pool.ts';
import { LIMITS } from '../../shared-types/practice.ts';
import { parseEvent } from '../../shared-types/squad.ts';
import { type LanesQuestion, lanesQuestionSchema } from '../../shared-types/wire/lanes.ts';
import type { Problem } from './problem.ts';

interface Fields {
  readonly event: string;
  readonly course: Course;
  readonly capacity: string;
}

type Read = { readonly ok: true; readonly question: LanesQuestion } | { readonly ok: false; readonly problem: Problem };

/** The question as its fields are written, or the first that cannot be read. */
export function lanesQuestionFrom({ event: written, course, capacity }: Fields): Read {
  const event = parseEvent(written);
  if (!event) {
    const message = `“${written}” is not an event.`;
    return { ok: false, problem: { message, fix: 'Write it like 200 free or 100 free kick.' } };
  }
  const read = lanesQuestionSchema.shape.capacity.safeParse(/^\d+$/.test(capacity.trim()) ? Number(capacity) : null);
  if (!read.success) {
    const message = `“${capacity}” is not a number of swimmers in a lane.`;
    return { ok: false, problem: { message, fix: `Write 1 to ${LIMITS.swimmersPerLane}.` } };
  }
  return { ok: true, question: { event, course, capacity: read.data } };
}
