import type { z } from 'zod';
import { failureSchema } from '../../shared-types/wire/from-server.ts';

/** The server refused something that a rehearsal needs; its message is one sentence with the cure. */
export class RehearsalError extends Error {}

/** A server, and what makes requests to it those of a paired device: the headers Origin and Cookie. */
export interface PairedAt {
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
}

/**
 * Pairs with a server as a device of this name.
 * @param code of the desk, or the key of the server's terminal
 * @throws RehearsalError when the server refuses it
 */
export async function pairedAt(url: string, code: string, name: string): Promise<PairedAt> {
  const { origin } = new URL(url);
  const headers = { origin, 'content-type': 'application/json' };
  const body = JSON.stringify({ code, name });
  const reply = await fetch(new URL('/api/devices', url), { method: 'POST', headers, body });
  const [cookie] = reply.headers.getSetCookie();
  if (!reply.ok || cookie === undefined) throw new RehearsalError(`The server does not pair: ${await reply.text()}`);
  return { url, headers: { origin, cookie: cookie.split(';')[0] ?? '' } };
}

interface Asked<S extends z.ZodType> {
  readonly server: PairedAt;
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
  server: { url, headers },
  method = 'GET',
  path,
  body,
  schema,
}: Asked<S>): Promise<z.infer<S>> {
  const reply = await fetch(new URL(path, url), {
    method,
    headers: body === undefined ? headers : { ...headers, 'content-type': 'application/json' },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  const answer: unknown = await reply.json();
  const refused = failureSchema.safeParse(answer);
  if (refused.success) throw new RehearsalError(`${refused.data.message} ${refused.data.fix ?? ''}`.trim());
  return schema.parse(answer);
}
