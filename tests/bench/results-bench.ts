import { monitorEventLoopDelay } from 'node:perf_hooks';
import { randomId } from '../../server/ids.ts';
import { type Farwall, startFarwall } from '../../server/start.ts';
import { openStore } from '../../server/store/store.ts';
import { LIMITS } from '../../server/web/limits.ts';
import { setKindsAnswerSchema } from '../../shared-types/wire/history.ts';
import { RUNS_A_PAGE, runsAnswerSchema } from '../../shared-types/wire/results.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { becomeOwner } from '../fixtures/paired.ts';
import { byTurns, jsonOf, type Rounds, read, timeOf } from './asked.ts';
import type { BenchOptions } from './compile-bench.ts';
import { ascending, type Entry, figure, quantile, timesEntry } from './measure.ts';
import { withFolder } from './own-folder.ts';
import { seeded } from './seeded.ts';
import { StoredSeason } from './stored-season.ts';

/**
 * How long a desk waits for results and for the weeks of a squad's season that grows, over HTTP from a server in this
 * process. Of runs asked for most are none of those that the server has at hand.
 */

interface Extent extends Rounds {
  /** Stored times, ascending. */
  readonly marks: readonly number[];
}

const FULL: Extent = { marks: [1_000, 10_000, 100_000], rounds: 60, warmUpRounds: 1 };
const QUICK: Extent = { marks: [1_000], rounds: 2, warmUpRounds: 1 };

/** What 95 of 100 questions may take, ms. */
const TARGETS: Readonly<Record<string, number>> = {
  'results of a practice': 100,
  'season of a set': 100,
  'kinds of sets': 100,
  'twelve weeks of the squad': 300,
  'twelve weeks of a swimmer': 300,
};
const ASKED = Object.keys(TARGETS);
/** A doubling of the times stored may double what takes longest. */
const DOUBLING = 2;

/** Of one number of stored times. */
interface Measured {
  readonly marks: number;
  readonly practices: number;
  /** Working out all of it for the first time, and the longest that nothing else was done meanwhile, ms. */
  readonly firstMs: number;
  readonly heldUpMs: number;
  /** ms. */
  readonly times: ReadonlyMap<string, readonly number[]>;
}

/** The paths that are asked, by what is asked there; the practice is another each time. */
async function questionsOf(url: string, { store }: Farwall, random: () => number): Promise<Map<string, () => string>> {
  const { runs } = await read(url, runsAnswerSchema, `/api/runs?limit=${RUNS_A_PAGE.most}`);
  const { kinds } = await read(url, setKindsAnswerSchema, '/api/history/sets');
  const [most] = kinds.toSorted((a, b) => b.occurrences - a.occurrences);
  const [swimmer] = store.squad.squad().swimmers;
  const run = (): string => runs[Math.floor(random() * runs.length)]?.id ?? '';
  const weeks = '/api/history/weeks?weeks=12';
  const paths = [
    () => `/api/runs/${run()}/results?role=desk`,
    () => `/api/history/set?signature=${encodeURIComponent(most?.signature ?? '')}`,
    () => '/api/history/sets',
    () => weeks,
    () => `${weeks}&swimmer=${swimmer?.id}`,
  ];
  return new Map(paths.map((path, place) => [ASKED[place] ?? '', path]));
}

/** The first question of all works everything out. */
async function firstTime(url: string): Promise<Pick<Measured, 'firstMs' | 'heldUpMs'>> {
  const delay = monitorEventLoopDelay({ resolution: 1 });
  delay.enable();
  const firstMs = await timeOf(() => jsonOf(url, '/api/history/sets'));
  delay.disable();
  return { firstMs, heldUpMs: delay.max / 1e6 };
}

async function measure(
  folder: string,
  rounds: Rounds,
  random: () => number,
): Promise<Pick<Measured, 'firstMs' | 'heldUpMs' | 'times'>> {
  const options = {
    port: 0,
    host: '127.0.0.1',
    dataFolder: folder,
    timezone: 'Europe/Lisbon',
    allowedHosts: [],
    tls: null,
  };
  const machine = new HandMachineClock({ wallMs: Date.now() });
  // No desk asks without a pause.
  const limits = { ...LIMITS, requestsOfDevice: Number.MAX_SAFE_INTEGER };
  const started = await startFarwall(options, { machine, newId: randomId, log: fail, pages: async () => null, limits });
  if (!started.ok) throw new Error(started.message);
  const { farwall } = started;
  try {
    const url = `http://127.0.0.1:${farwall.port}`;
    await becomeOwner(url, farwall.ownerKey);
    const first = await firstTime(url);
    const questions = await questionsOf(url, farwall, random);
    const works = [...questions].map(([name, path]) => [name, () => timeOf(() => jsonOf(url, path()))] as const);
    return { ...first, times: await byTurns(new Map(works), rounds, random) };
  } finally {
    await farwall.close();
  }
}

const amountOf = (marks: number): string => `${marks.toLocaleString('en')} times`;

function entriesOf({ marks, practices, firstMs, heldUpMs, times }: Measured): Entry[] {
  const asked = [...times].map(([name, own]) => timesEntry(`${amountOf(marks)} · ${name}`, own, TARGETS[name]));
  return [
    ...asked,
    figure(`${amountOf(marks)} · all worked out for the first time`, firstMs, 'ms'),
    figure(`${amountOf(marks)} · of that a practice`, firstMs / practices, 'ms'),
    figure(`${amountOf(marks)} · longest hold-up meanwhile`, heldUpMs, 'ms'),
  ];
}

/** What a doubling of the times stored multiplies each median by, from one number of them to the next. */
const growthEntries = (measured: readonly Measured[]): Entry[] =>
  measured.slice(1).flatMap((one, place) => {
    const before = measured[place] ?? one;
    const doublings = Math.log2(one.marks / before.marks);
    return ASKED.map((name) => {
      const [from, to] = [before, one].map(({ times }) => quantile(ascending(times.get(name) ?? []), 0.5));
      const ratio = ((to ?? Number.NaN) / (from ?? Number.NaN)) ** (1 / doublings);
      return figure(
        `${name}: a doubling, from ${amountOf(before.marks)} to ${amountOf(one.marks)}`,
        ratio,
        '×',
        DOUBLING,
      );
    });
  });

/** @throws Error when a question is not answered */
export function resultsBench({ seed, quick }: BenchOptions): Promise<Entry[]> {
  const extent = quick ? QUICK : FULL;
  const random = seeded(seed);
  const measured: Measured[] = [];
  return withFolder(async (folder) => {
    for (const marks of extent.marks) {
      // A season of its own each time, so that all of it is worked out for the first time.
      const own = `${folder}/${marks}`;
      const practices = storeSeason(own, marks, random);
      measured.push({ marks, practices, ...(await measure(own, extent, random)) });
    }
    return [...measured.flatMap(entriesOf), ...growthEntries(measured)];
  });
}

/** @returns how many practices it has */
function storeSeason(folder: string, marks: number, random: () => number): number {
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  try {
    // No practice has fewer times than 500.
    const season = new StoredSeason(opened.store, Math.ceil(marks / 500), random);
    season.upTo(marks);
    return season.practices;
  } finally {
    opened.store.close();
  }
}

function fail(error: unknown): never {
  throw error;
}
