import { randomId } from '../../server/ids.ts';
import { type Farwall, startFarwall } from '../../server/start.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { becomeOwner, headersFor } from '../fixtures/paired.ts';

/** Questions over HTTP to a server in this process, timed. */

/** @throws Error when it is refused */
export async function textOf(url: string, init: RequestInit = {}): Promise<string> {
  const headers = new Headers(init.headers);
  for (const [name, value] of Object.entries(headersFor(url))) headers.set(name, value);
  const answer = await fetch(url, { ...init, headers });
  const text = await answer.text();
  if (!answer.ok) throw new Error(`${url}: ${text}`);
  return text;
}

export const answerOf = async (url: string): Promise<unknown> => JSON.parse(await textOf(url));

/** ms */
export async function timeOf(work: () => Promise<unknown>): Promise<number> {
  const from = performance.now();
  await work();
  return performance.now() - from;
}

/** Gives a piece of work a server on a data folder, closed when that is over. */
export async function withServer<T>(folder: string, work: (url: string, farwall: Farwall) => Promise<T>): Promise<T> {
  const options = {
    port: 0,
    host: '127.0.0.1',
    dataFolder: folder,
    timezone: 'Europe/Lisbon',
    allowedHosts: [],
    tls: null,
  };
  const machine = new HandMachineClock({ wallMs: Date.now() });
  const started = await startFarwall(options, { machine, newId: randomId, log: fail, pages: async () => null });
  if (!started.ok) throw new Error(started.message);
  const { farwall } = started;
  try {
    const url = `http://127.0.0.1:${farwall.port}`;
    await becomeOwner(url, farwall.ownerKey);
    return await work(url, farwall);
  } finally {
    await farwall.close();
  }
}

function fail(error: unknown): never {
  throw error;
}
