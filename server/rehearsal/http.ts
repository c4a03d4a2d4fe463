import type { z } from 'zod';
import { failureSchema } from '../../shared-types/wire/from-server.ts';

/** The server refused something that a rehearsal needs; its message is one sentence with the cure. */
export class RehearsalError extends Error {}

interface Asked<S extends z.ZodType> {
  readonly url: string;
  readonly method?: 'GET' | 'POST' | 'PUT';
  readonly path: string;
  readonly body?: unknown;
  /** What the answer should be. */
  readonly schema: S;
}

/**
 * Asks the server as the desk does.
 * @throws RehearsalError with what the server said when it refuses; ZodError when its answer is not what it should be
 */
export async function askServer<S extends z.ZodType>({
  url,
  method = 'GET',
  path,
  body,
  schema,
}: Asked<S>): Promise<z.infer<S>> {
  const json =
    body === undefined ? {} : { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
  const reply = await fetch(new URL(path, url), { method, ...json });
  const answer: unknown = await reply.json();
  const refused = failureSchema.safeParse(answer);
  if (refused.success) throw new RehearsalError(`${refused.data.message} ${refused.data.fix ?? ''}`.trim());
  return schema.parse(answer);
}
