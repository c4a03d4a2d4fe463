import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as after } from 'node:timers/promises';
import { median } from 'simple-statistics';
import type { BenchOptions } from './compile-bench.ts';
import { FarwallPeer, type WallKind } from './farwall-peer.ts';
import { type Entry, figure, quantile } from './measure.ts';
import { withFolder } from './own-folder.ts';
import type { Crowd, PushServer } from './push-peer.ts';
import { seeded, shuffled } from './seeded.ts';
import { WsPeer } from './ws-peer.ts';

/**
 * From a press on one deck until the last of many walls has the event, beside a server of plain websockets that sends
 * as many bytes to as many clients. Each server has a process of its own; all clients are in this one, which parses
 * and counts. Farwall has each event on disk before it tells anybody; a third server shows what that takes.
 */

/**
 * What was promised, with so many clients. The ratio is that of the servers, so both have the same clients: in a pool
 * every wall is a machine of its own, here 500 of the library's share one core and take longer than the server does.
 */
const TARGETS = { clients: 500, ratio: 1.6, p99Ms: 50, eventKb: 2 } as const;

/** A server hears 200 messages a second from one page. */
const BETWEEN_PRESSES_MS = 6;

interface Extent {
  readonly clients: readonly number[];
  readonly runs: number;
  /** All servers have their turn in each round. */
  readonly rounds: number;
  readonly warmUpRounds: number;
  readonly pressesATurn: number;
}

const FULL: Extent = { clients: [10, 100, 500], runs: 5, rounds: 15, warmUpRounds: 3, pressesATurn: 20 };
const QUICK: Extent = { clients: [10], runs: 1, rounds: 2, warmUpRounds: 1, pressesATurn: 5 };

const OURS = 'Farwall';
const OURS_BARE = 'Farwall, walls as bare as those of raw ws';
const RAW = 'raw ws';
const RAW_DURABLE = 'raw ws that first keeps it on disk';

/** Times of one run, ms. */
interface Spread {
  readonly p50: number;
  readonly p99: number;
}

type Spreads = Readonly<Record<string, Spread>>;

/** By number of clients. */
type Run = ReadonlyMap<number, Spreads>;

type Servers = ReadonlyMap<string, PushServer>;

/**
 * Starts them one after the other, ours first.
 * @param folder an empty one
 * @param servers where each is added as soon as it is there
 * @returns ours
 */
async function startAll(folder: string, servers: Map<string, PushServer>): Promise<FarwallPeer> {
  const farwall = (walls: WallKind): Promise<FarwallPeer> => {
    const own = join(folder, walls);
    mkdirSync(own);
    return FarwallPeer.started(own, walls);
  };
  const ours = await farwall('socket.io-client');
  const event = (): string => ours.lastEvent;
  servers.set(OURS, ours);
  servers.set(OURS_BARE, await farwall('bare'));
  servers.set(RAW, await WsPeer.started(event));
  servers.set(RAW_DURABLE, await WsPeer.started(event, join(folder, 'messages.db')));
  return ours;
}

/** Turns of some presses each, so that whatever else the machine does meanwhile hits all alike. */
async function measure(servers: Servers, clients: number, extent: Extent, random: () => number): Promise<Spreads> {
  const crowds: [string, Crowd][] = [];
  for (const [name, server] of servers) crowds.push([name, await server.crowd(clients)]);
  const times = new Map<string, number[]>();
  for (let round = -extent.warmUpRounds; round < extent.rounds; round += 1) {
    // Ours goes first at first: the others send on what it sent.
    for (const [name, crowd] of round < 0 ? crowds : shuffled(crowds, random)) {
      for (let press = 0; press < extent.pressesATurn; press += 1) {
        await after(BETWEEN_PRESSES_MS);
        const tookMs = await crowd.press();
        if (round >= 0) times.set(name, [...(times.get(name) ?? []), tookMs]);
      }
    }
  }
  for (const [, crowd] of crowds) crowd.close();
  return Object.fromEntries([...times].map(([name, taken]) => [name, spreadOf(taken)]));
}

function spreadOf(times: readonly number[]): Spread {
  const sorted = times.toSorted((one, other) => one - other);
  return { p50: quantile(sorted, 0.5), p99: quantile(sorted, 0.99) };
}

/** One run: new servers, all numbers of clients. @returns also the longest event, bytes */
function runOnce(extent: Extent, random: () => number): Promise<{ run: Run; longestEvent: number }> {
  return withFolder(async (folder) => {
    const servers = new Map<string, PushServer>();
    try {
      const ours = await startAll(folder, servers);
      const run = new Map<number, Spreads>();
      for (const clients of extent.clients) run.set(clients, await measure(servers, clients, extent, random));
      return { run, longestEvent: ours.longestEvent };
    } finally {
      await Promise.all([...servers.values()].map((server) => server.end()));
    }
  });
}

function entriesOf(clients: number, runs: readonly Run[]): Entry[] {
  const over = (value: (spreads: Spreads) => number): number =>
    median(runs.map((run) => value(run.get(clients) ?? {})));
  const of = (spreads: Spreads, name: string): Spread => spreads[name] ?? { p50: Number.NaN, p99: Number.NaN };
  const promised = clients === TARGETS.clients;
  const named = (name: string): string => `${clients} clients · ${name}`;
  const times = [OURS, OURS_BARE, RAW, RAW_DURABLE].flatMap((name) => [
    figure(
      named(`${name}: p50`),
      over((spreads) => of(spreads, name).p50),
      'ms',
    ),
    figure(
      named(`${name}: p99`),
      over((spreads) => of(spreads, name).p99),
      'ms',
      promised && name === OURS ? TARGETS.p99Ms : undefined,
    ),
  ]);
  const ratio = (name: string, to: string, target?: number): Entry => {
    const value = over((spreads) => of(spreads, name).p50 / of(spreads, to).p50);
    return figure(named(`p50 of ${name} over ${to}`), value, '×', target);
  };
  return [
    ...times,
    ratio(OURS, RAW),
    ratio(OURS_BARE, RAW, promised ? TARGETS.ratio : undefined),
    ratio(OURS_BARE, RAW_DURABLE),
  ];
}

/** Of a message of 126 to 65,535 bytes from a server (RFC 6455 §5.2). */
const FRAME_HEADER_BYTES = 4;

/**
 * Press to last wall. Of several runs the median: of their p50s, p99s and ratios of p50s.
 * @throws Error when a server does not start, refuses a press or loses a client
 */
export async function pushBench({ seed, quick }: BenchOptions): Promise<Entry[]> {
  const extent = quick ? QUICK : FULL;
  const random = seeded(seed);
  const runs: Run[] = [];
  let longestEvent = 0;
  while (runs.length < extent.runs) {
    const { run, longestEvent: longest } = await runOnce(extent, random);
    runs.push(run);
    longestEvent = Math.max(longest, longestEvent);
  }
  const eventKb = (longestEvent + FRAME_HEADER_BYTES) / 1024;
  return [
    ...extent.clients.flatMap((clients) => entriesOf(clients, runs)),
    figure('longest event for 10 lanes on the wire', eventKb, 'KB', TARGETS.eventKb),
  ];
}
