import type { FastifyReply } from 'fastify';
import type { z } from 'zod';
import { failure, type KnownFailure, STATUS_OF } from '../failure.ts';

/** Sends a failure with the status that goes with its code, and with `more` that the asker can use. */
export const sendFailure = (reply: FastifyReply, failed: KnownFailure, more: object = {}): FastifyReply =>
  reply.code(STATUS_OF[failed.code]).send({ ...failed, ...more });

export type Read<T> = { readonly ok: true; readonly value: T } | KnownFailure;

/** Checks what came from outside against its schema. */
export function read<S extends z.ZodType>(
  schema: S,
  value: unknown,
  code: 'bad-request' | 'bad-message',
): Read<z.infer<S>> {
  const parsed = schema.safeParse(value);
  if (parsed.success) return { ok: true, value: parsed.data };
  const [issue] = parsed.error.issues;
  const place = issue?.path.join('.') ?? '';
  return failure(
    code,
    `The server cannot read this: ${issue?.message ?? 'not what was expected'}.`,
    place === '' ? {} : { place },
  );
}
