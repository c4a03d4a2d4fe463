import type { z } from 'zod';
import { headersFor } from '../fixtures/paired.ts';
import { shuffled } from './seeded.ts';

/** Questions over HTTP to a server, timed. */

/** With a body it is a POST, else a GET. */
export interface Question {
  readonly path: string;
  readonly body?: object;
}

/** An answer as it came, which is not read. @throws Error when the question is refused */
export async function answerTo(url: string, { path, body }: Question): Promise<Uint8Array> {
  const headers = headersFor(url);
  const json = { ...headers, 'content-type': 'application/json' };
  const posted = { method: 'POST', headers: json, body: JSON.stringify(body) };
  const answer = await fetch(`${url}${path}`, body ? posted : { headers });
  const bytes = new Uint8Array(await answer.arrayBuffer());
  if (!answer.ok) throw new Error(`${path}: ${textIn(bytes)}`);
  return bytes;
}

const textIn = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

/** @throws Error when the question is refused */
export const textOf = async (url: string, path: string): Promise<string> => textIn(await answerTo(url, { path }));

/** @throws Error when the question is refused */
export const jsonOf = async (url: string, path: string): Promise<unknown> => JSON.parse(await textOf(url, path));

/** @throws Error when the question is refused, or the answer is another than this schema's */
export const read = async <S extends z.ZodType>(url: string, schema: S, path: string): Promise<z.infer<S>> =>
  schema.parse(await jsonOf(url, path));

/** ms */
export async function timeOf(work: () => Promise<unknown>): Promise<number> {
  const from = performance.now();
  await work();
  return performance.now() - from;
}

export interface Rounds {
  readonly rounds: number;
  /** So many before them, of which nothing is kept. */
  readonly warmUpRounds: number;
}

/** Does each of some works once a round. @returns what each came to, round by round */
export async function byTurns<T>(
  works: ReadonlyMap<string, () => Promise<T>>,
  { rounds, warmUpRounds }: Rounds,
  random: () => number,
): Promise<Map<string, T[]>> {
  const taken = new Map([...works.keys()].map((name): [string, T[]] => [name, []]));
  for (let round = -warmUpRounds; round < rounds; round += 1) {
    // In another order each time, so that whatever else the machine does meanwhile hits all alike.
    for (const [name, work] of shuffled([...works], random)) {
      const one = await work();
      if (round >= 0) taken.get(name)?.push(one);
    }
  }
  return taken;
}
