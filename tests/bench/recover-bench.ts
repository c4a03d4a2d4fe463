import { median } from 'simple-statistics';
import { openToRead, pragmaOf, sizeOf } from '../../server/store/file-format.ts';
import { databaseFileOf } from '../../server/store/open-database.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { aliveSchema } from '../../shared-types/wire/desk.ts';
import { departuresAnswerSchema } from '../../shared-types/wire/marks.ts';
import type { Role } from '../../shared-types/wire/protocol.ts';
import { FarwallProcess } from '../fixtures/node-process.ts';
import { becomeOwner, headersFor } from '../fixtures/paired.ts';
import { BenchScreen } from './bench-screen.ts';
import type { BenchOptions } from './compile-bench.ts';
import { type Entry, figure } from './measure.ts';
import { withFolder } from './own-folder.ts';
import { seeded, shuffled } from './seeded.ts';
import { pressedRun, storeAgain } from './stored-runs.ts';

/**
 * How long a server that was killed takes to be there again, on databases that grow, beside one that has nothing to
 * recover. The files have just been written, so the machine has them in memory where they fit.
 */

interface Extent {
  /** Stored runs, ascending from 1. */
  readonly runs: readonly number[];
  readonly eventsARun: number;
  readonly starts: number;
}

const FULL: Extent = { runs: [1, 100, 1000], eventsARun: 2000, starts: 5 };
const QUICK: Extent = { runs: [1], eventsARun: 200, starts: 1 };

/** From spawning the process on, ms. */
interface Start {
  /** Until `/health` had answered. */
  readonly healthMs: number;
  /** Until a wall had its hello answered with the whole run. */
  readonly wallMs: number;
  /** Until after that a deck had, and was told who left when. */
  readonly deckMs: number;
}

/** Starts a server, asks it, and kills it. @param seq the last event of the run on the wall; null: there is none */
async function startOn(folder: string, seq: number | null): Promise<Start> {
  const spawnedAt = performance.now();
  const server = new FarwallProcess(['--port', '0', '--data', folder]);
  try {
    const url = await server.address();
    aliveSchema.parse(await (await fetch(`${url}/health`)).json());
    const healthMs = performance.now() - spawnedAt;
    // Devices are paired already where a server starts again: this is not part of it.
    await becomeOwner(url, await server.ownerKey());
    const pairingMs = performance.now() - spawnedAt - healthMs;
    const seen: (number | null)[] = [];
    const timeToHello = async (role: Role): Promise<number> => {
      const screen = new BenchScreen(url);
      const { live } = await screen.hello(role);
      seen.push(live.run?.seq ?? null);
      screen.close();
      if (role === 'deck' && live.run) {
        const told = await (
          await fetch(`${url}/api/runs/${live.run.id}/departures`, { headers: headersFor(url) })
        ).json();
        departuresAnswerSchema.parse(told);
      }
      return performance.now() - spawnedAt - pairingMs;
    };
    const [wallMs, deckMs] = [await timeToHello('wall'), await timeToHello('deck')];
    if (seen.some((each) => each !== seq)) throw new Error(`the run is at ${seen.join(', ')}, not at ${seq}`);
    return { healthMs, wallMs, deckMs };
  } finally {
    await server.signal('SIGKILL');
  }
}

function onStore<T>(folder: string, work: (store: Store) => T): T {
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  try {
    return work(opened.store);
  } finally {
    opened.store.close();
  }
}

function timeOf(work: () => void): number {
  const from = performance.now();
  work();
  return performance.now() - from;
}

/** What the check of the whole file takes that each start makes, ms. */
const checkTime = (folder: string): number =>
  timeOf(() => {
    const sqlite = openToRead(databaseFileOf(folder));
    pragmaOf(sqlite, 'quick_check(1)');
    sqlite.close();
  });

/** Of one number of stored runs. */
interface Measured {
  readonly runs: number;
  readonly megabytes: number;
  readonly empty: readonly Start[];
  readonly full: readonly Start[];
  readonly openMs: readonly number[];
  readonly checkMs: readonly number[];
}

interface Folders {
  readonly empty: string;
  readonly full: string;
}

/** Starts on both by turns, and then opens the database without a server. */
async function measure(
  { empty, full }: Folders,
  runs: number,
  { eventsARun, starts }: Extent,
  random: () => number,
): Promise<Measured> {
  const taken: { empty: Start[]; full: Start[] } = { empty: [], full: [] };
  const turns = [
    async () => taken.empty.push(await startOn(empty, null)),
    async () => taken.full.push(await startOn(full, eventsARun)),
  ];
  for (let start = 0; start < starts; start += 1) for (const turn of shuffled(turns, random)) await turn();
  const repeats = Array.from({ length: starts });
  const openMs = repeats.map(() => timeOf(() => onStore(full, () => {})));
  const checkMs = repeats.map(() => checkTime(full));
  return { runs, megabytes: sizeOf(databaseFileOf(full)) / 1024 ** 2, ...taken, openMs, checkMs };
}

function entriesOf({ runs, megabytes, empty, full, openMs, checkMs }: Measured): Entry[] {
  const amount = runs === 1 ? '1 run' : `${runs} runs`;
  const both = (name: string, times: readonly number[]): Entry[] => [
    figure(`${amount} · ${name}: median`, median([...times]), 'ms'),
    figure(`${amount} · ${name}: longest`, Math.max(...times), 'ms'),
  ];
  return [
    figure(`${amount} · database`, megabytes, 'MB'),
    ...both(
      'empty folder to /health',
      empty.map(({ healthMs }) => healthMs),
    ),
    ...both(
      'to /health',
      full.map(({ healthMs }) => healthMs),
    ),
    ...both(
      'to the whole run on a wall',
      full.map(({ wallMs }) => wallMs),
    ),
    ...both(
      'to the whole run on a deck',
      full.map(({ deckMs }) => deckMs),
    ),
    ...both('opening the database by itself', openMs),
    ...both('checking its file by itself', checkMs),
  ];
}

const medianStart = ({ full }: Measured): number => median(full.map(({ wallMs }) => wallMs));

const growthEntries = (measured: readonly Measured[]): Entry[] =>
  measured.slice(1).map((one, place) => {
    const before = measured[place] ?? one;
    return figure(`growth from ${before.runs} to ${one.runs} runs`, medianStart(one) / medianStart(before), '×');
  });

/**
 * [FLT1] From the start of the process to the answers, with a run under way and many before it.
 * @throws Error when a server does not start or has lost something
 */
export function recoverBench({ seed, quick }: BenchOptions): Promise<Entry[]> {
  const extent = quick ? QUICK : FULL;
  const random = seeded(seed);
  return withFolder((empty) =>
    withFolder(async (full) => {
      const pressed = onStore(full, (store) => pressedRun(store, extent.eventsARun));
      // The first start of all also loads what the questions are asked with.
      await startOn(empty, null);
      const measured: Measured[] = [];
      let stored = 1;
      for (const runs of extent.runs) {
        onStore(full, (store) => {
          for (; stored < runs; stored += 1) storeAgain(store, pressed, stored);
        });
        measured.push(await measure({ empty, full }, runs, extent, random));
      }
      return [...measured.flatMap(entriesOf), ...growthEntries(measured)];
    }),
  );
}
