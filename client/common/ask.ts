import './schemas-without-eval.ts';
import type { z } from 'zod';
import { failureSchema } from '../../shared-types/wire/from-server.ts';

/** The server's failure with whatever else that answer carries, such as a CSV's `problems`. */
const wholeFailureSchema = failureSchema.loose();
export type AskFailure = z.infer<typeof wholeFailureSchema>;

export type Reply<T> = { readonly ok: true; readonly value: T } | AskFailure;

const failure = (code: string, message: string, fix: string): AskFailure => ({ ok: false, code, message, fix });

/**
 * One HTTP question to the server, e.g. `ask(squadAnswerSchema, 'GET', '/api/squad')`. Never throws: what goes
 * wrong on the way comes back as a failure in the server's own shape.
 */
export async function ask<S extends z.ZodType>(
  schema: S,
  method: 'GET' | 'PUT' | 'POST' | 'DELETE',
  path: string,
  body?: unknown,
): Promise<Reply<z.infer<S>>> {
  const asked = await fetch(path, {
    method,
    headers: body === undefined ? {} : { 'content-type': 'application/json' },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  }).catch(() => null);
  if (!asked) {
    return failure(
      'no-server',
      'The server does not answer.',
      'Look whether Farwall still runs on the laptop, and whether this device is in the same network.',
    );
  }
  const answer: unknown = await asked.json().catch(() => null);
  const told = wholeFailureSchema.safeParse(answer);
  if (told.success) return told.data;
  const read = schema.safeParse(answer);
  if (asked.ok && read.success) return { ok: true, value: read.data };
  return failure(
    'not-understood',
    `The server's answer (${asked.status}) is not one this page understands.`,
    'Reload the page.',
  );
}
