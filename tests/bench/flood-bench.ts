import { setTimeout as after } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { pairedAt } from '../../server/rehearsal/http.ts';
import { shownCodeSchema } from '../../shared-types/wire/pairing.ts';
import { NodeProcess } from '../fixtures/node-process.ts';
import { headersFor } from '../fixtures/paired.ts';
import type { BenchOptions } from './compile-bench.ts';
import { FarwallPeer } from './farwall-peer.ts';
import { type Entry, figure, quantile } from './measure.ts';
import { withFolder } from './own-folder.ts';
import type { Crowd } from './push-peer.ts';

/**
 * How long a press takes to the last of some walls, quiet and while another process floods the server, by turns in one
 * run.
 */

const FLOODER = fileURLToPath(new URL('./flood-peer.ts', import.meta.url));

const WALLS = 12;
const FLOOD = { messagesASecond: 2000, sockets: 300 } as const;
/** With a flood it may take twice as long as without, or so long, whichever is more. */
const PROMISED = { times: 2, ms: 50 } as const;

interface Extent {
  readonly turns: number;
  readonly pressesATurn: number;
}

const FULL: Extent = { turns: 6, pressesATurn: 150 };
const QUICK: Extent = { turns: 1, pressesATurn: 5 };

const BETWEEN_PRESSES_MS = 20;
/** The flood has found its limits by then. */
const SETTLES_WITHIN_MS = 1500;

/** A token as a TV has one: the flood comes from inside, since nobody else has a socket at all. */
async function screensCookie(url: string): Promise<string> {
  const headers = { ...headersFor(url), 'content-type': 'application/json' };
  const body = JSON.stringify({ access: 'screen' });
  const answer = await fetch(`${url}/api/pairing`, { method: 'POST', headers, body });
  const { code } = shownCodeSchema.parse(await answer.json());
  return (await pairedAt(url, code, 'Flood')).headers.cookie ?? '';
}

async function presses(crowd: Crowd, count: number): Promise<number[]> {
  const times: number[] = [];
  while (times.length < count) {
    await after(BETWEEN_PRESSES_MS);
    times.push(await crowd.press());
  }
  return times;
}

async function whileFlooded<T>(url: string, cookie: string, work: () => Promise<T>): Promise<T> {
  const address = `${url.replace('http', 'ws')}/socket.io/?EIO=4&transport=websocket`;
  const { messagesASecond, sockets } = FLOOD;
  const flooder = new NodeProcess(FLOODER, [address, url, cookie, String(messagesASecond), String(sockets)]);
  try {
    await flooder.printed(/flooding/);
    await after(SETTLES_WITHIN_MS);
    return await work();
  } finally {
    await flooder.signal('SIGKILL');
  }
}

function entriesOf(quiet: readonly number[], flooded: readonly number[]): Entry[] {
  const [still, wild] = [quiet, flooded].map((times) => times.toSorted((one, other) => one - other));
  const p99 = quantile(still ?? [], 0.99);
  const named = `press to the last of ${WALLS} walls`;
  const flood = `${FLOOD.messagesASecond} messages a second and ${FLOOD.sockets} sockets`;
  return [
    figure(`${named} · quiet: p50`, quantile(still ?? [], 0.5), 'ms'),
    figure(`${named} · quiet: p99`, p99, 'ms'),
    figure(`${named} · ${flood}: p50`, quantile(wild ?? [], 0.5), 'ms'),
    figure(`${named} · ${flood}: p99`, quantile(wild ?? [], 0.99), 'ms', Math.max(PROMISED.times * p99, PROMISED.ms)),
  ];
}

export function floodBench({ quick }: BenchOptions): Promise<Entry[]> {
  const { turns, pressesATurn } = quick ? QUICK : FULL;
  return withFolder(async (folder) => {
    const server = await FarwallPeer.started(folder, 'socket.io-client');
    try {
      const cookie = await screensCookie(server.url);
      const crowd = await server.crowd(WALLS);
      await presses(crowd, pressesATurn);
      const [quiet, flooded]: [number[], number[]] = [[], []];
      for (let turn = 0; turn < turns; turn += 1) {
        quiet.push(...(await presses(crowd, pressesATurn)));
        flooded.push(...(await whileFlooded(server.url, cookie, () => presses(crowd, pressesATurn))));
      }
      crowd.close();
      return entriesOf(quiet, flooded);
    } finally {
      await server.end();
    }
  });
}
