import { calendarOf, dayNumber } from '../../server/results/calendar.ts';
import { sizeOf } from '../../server/store/file-format.ts';
import { databaseFileOf } from '../../server/store/open-database.ts';
import { openStore } from '../../server/store/store.ts';
import { practiceSummarySchema, squadAnswerSchema, storedPracticeSchema } from '../../shared-types/wire/desk.ts';
import { SET_KINDS_A_PAGE, setKindsAnswerSchema } from '../../shared-types/wire/history.ts';
import { FOUND_A_PAGE, foundAnswerSchema } from '../../shared-types/wire/library.ts';
import { RUNS_A_PAGE, runsAnswerSchema } from '../../shared-types/wire/results.ts';
import { FarwallProcess } from '../fixtures/node-process.ts';
import { ownAddress } from '../fixtures/paired.ts';
import { answerTo, byTurns, type Rounds, read, textOf, timeOf } from './asked.ts';
import type { BenchOptions } from './compile-bench.ts';
import { type Known, pageVisits, searchVisits, type Visit, type Visits } from './desk-pages.ts';
import { type Entry, figure, timesEntry } from './measure.ts';
import { withFolder } from './own-folder.ts';
import { seeded, shuffled } from './seeded.ts';
import { type ClubSize, storeClub } from './stored-club.ts';

/**
 * How long a desk waits for what its pages ask when they are opened, and how long the answers are, after five seasons
 * of a club. The server has a process of its own and the database on disk.
 */

/** What 95 of 100 may take, ms. */
const TARGETS = { page: 300, search: 50 } as const;

interface Extent extends Rounds {
  readonly size: ClubSize;
}

/** Of a season of 44 weeks three practices each are swum. */
const SEASON = 44 * 3;
const FULL: Extent = {
  size: { swimmers: 500, practices: 2000, swum: 5 * SEASON, swumTexts: 120 },
  rounds: 60,
  warmUpRounds: 3,
};
const QUICK: Extent = {
  size: { swimmers: 80, practices: 30, swum: 2, swumTexts: 2 },
  rounds: 2,
  warmUpRounds: 1,
};

const TIMEZONE = 'Europe/Lisbon';

interface Visited {
  /** From the first question to the end of the last answer, ms. */
  readonly tookMs: number;
  /** Of all answers together. */
  readonly bytes: number;
}

/** Answers are not read: that is the desk's work. */
async function visited(url: string, visit: Visit): Promise<Visited> {
  let bytes = 0;
  const tookMs = await timeOf(async () => {
    for (const step of visit) {
      const answers = await Promise.all(step.map((question) => answerTo(url, question)));
      for (const answer of answers) bytes += answer.length;
    }
  });
  return { tookMs, bytes };
}

/** So many practices that are opened one after the other. */
const OPENED = 40;

async function knownOf(url: string, random: () => number): Promise<Known> {
  const list = await read(url, practiceSummarySchema.array(), '/api/practices');
  const chosen = [...list.slice(0, 1), ...shuffled(list.slice(1), random).slice(0, OPENED)];
  const texts = chosen.map(({ id }) => read(url, storedPracticeSchema, `/api/practices/${id}`));
  const [newest, ...others] = await Promise.all(texts);
  if (!newest) throw new Error('the library is empty');
  const { runs } = await read(url, runsAnswerSchema, `/api/runs?limit=${RUNS_A_PAGE.most}`);
  const { kinds } = await read(url, setKindsAnswerSchema, `/api/history/sets?limit=${SET_KINDS_A_PAGE.usual}`);
  const { swimmers } = await read(url, squadAnswerSchema, '/api/squad');
  const dayAt = calendarOf(TIMEZONE);
  const saved = list.map(({ savedAt }) => dayNumber(dayAt(savedAt)));
  return {
    newest,
    others,
    runs: runs.map(({ id }) => id),
    signatures: kinds.map(({ signature }) => signature),
    swimmers: swimmers.flatMap(({ id, lane }) => (lane === undefined ? [] : [id])),
    csv: await textOf(url, '/api/squad.csv'),
    days: { first: Math.min(...saved), last: Math.max(...saved) },
  };
}

function entriesOf(name: string, all: readonly Visited[], target: number): Entry[] {
  const times = all.map(({ tookMs }) => tookMs);
  const bytes = all.map((one) => one.bytes);
  return [
    timesEntry(name, times, target),
    figure(`${name}: longest`, Math.max(...times), 'ms', target),
    figure(`${name}: its answers`, Math.max(...bytes) / 1000, 'kB'),
  ];
}

/** Opens each of some pages, or searches, round after round. */
async function openedEntries(
  url: string,
  what: keyof typeof TARGETS,
  visits: Visits,
  { rounds, random }: { readonly rounds: Rounds; readonly random: () => number },
): Promise<Entry[]> {
  const works = [...visits].map(([name, visit]) => [name, () => visited(url, visit())] as const);
  const taken = await byTurns(new Map(works), rounds, random);
  return [...taken].flatMap(([name, all]) => entriesOf(`${what} · ${name}`, all, TARGETS[what]));
}

/** How many entries each list begins with, and at most may. Titles of the library all come at once. */
async function listEntries(url: string): Promise<Entry[]> {
  const list = await read(url, practiceSummarySchema.array(), '/api/practices');
  const found = await read(url, foundAnswerSchema, '/api/practices/search');
  const { runs } = await read(url, runsAnswerSchema, '/api/runs');
  const { kinds } = await read(url, setKindsAnswerSchema, '/api/history/sets');
  return [
    figure('list · titles of the library, all at once', list.length, 'entries'),
    figure('list · practices found, first page', found.practices.length, 'entries', FOUND_A_PAGE.usual),
    figure('list · practices swum, first page', runs.length, 'entries', RUNS_A_PAGE.usual),
    figure('list · sets swum, first page', kinds.length, 'entries', SET_KINDS_A_PAGE.usual),
  ];
}

/** What has to be worked out before the first answer about it, once in the life of a practice. */
async function firstEntries(url: string): Promise<Entry[]> {
  const searchMs = await timeOf(() => answerTo(url, { path: '/api/practices/search' }));
  const setsMs = await timeOf(() => answerTo(url, { path: '/api/history/sets' }));
  return [
    figure('first search of all, with every practice read', searchMs, 'ms'),
    figure('first season of all, with every practice swum worked out', setsMs, 'ms'),
  ];
}

async function onServer<T>(folder: string, work: (url: string) => Promise<T>): Promise<T> {
  const server = new FarwallProcess(['--port', '0', '--data', folder, '--timezone', TIMEZONE]);
  try {
    return await work(await ownAddress(server));
  } finally {
    await server.signal('SIGKILL');
  }
}

/** @returns how many times were taken */
function fill(folder: string, size: ClubSize, random: () => number): number {
  const opened = openStore(folder);
  if (!opened.ok) throw new Error(opened.message);
  try {
    return storeClub(opened.store, size, TIMEZONE, random);
  } finally {
    opened.store.close();
  }
}

/** @throws Error when a question is not answered */
export function deskBench({ seed, quick }: BenchOptions): Promise<Entry[]> {
  const extent = quick ? QUICK : FULL;
  const random = seeded(seed);
  const how = { rounds: extent, random };
  return withFolder(async (folder) => {
    const times = fill(folder, extent.size, random);
    return onServer(folder, async (url) => {
      const first = await firstEntries(url);
      const known = await knownOf(url, random);
      return [
        ...(await openedEntries(url, 'page', pageVisits(known, random), how)),
        ...(await openedEntries(url, 'search', searchVisits(known, random), how)),
        ...(await listEntries(url)),
        ...first,
        figure('times taken in all', times, 'entries'),
        figure('database', sizeOf(databaseFileOf(folder)) / 1024 ** 2, 'MB'),
      ];
    });
  });
}
