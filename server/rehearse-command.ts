import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { shownCodeSchema } from '../shared-types/wire/pairing.ts';
import { CommandError, parseCommand, readTextFile } from './command-line.ts';
import { randomId } from './ids.ts';
import { PAGES_FOLDER, pagesAreBuilt } from './pages.ts';
import { namedFiles, type PlanRequest, planFiles } from './plan-files.ts';
import { POOL_OPTIONS, POOL_USAGE, poolOf } from './pool-options.ts';
import { FastClock, type RehearsalClock, SteppedClock } from './rehearsal/clock.ts';
import { askServer, type PairedAt, pairedAt, RehearsalError } from './rehearsal/http.ts';
import type { Rehearsed } from './rehearsal/put-on-wall.ts';
import { Rehearsal, type RehearsalResult } from './rehearsal/rehearsal.ts';
import { reportOf } from './rehearsal/report.ts';
import type { RehearsalReport } from './rehearsal/report-schema.ts';
import { reportText } from './rehearsal/report-text.ts';
import { isStoredAsSeen } from './rehearsal/stored-run.ts';
import { startFarwall } from './start.ts';
import { databaseFileOf } from './store/open-database.ts';
import { openStore } from './store/store.ts';
import { titleOf } from './title.ts';

/** `npm run rehearse -- practice.txt --squad squad.csv`: a whole practice with simulated swimmers and real presses. */

/** Faster than this a press would be too old by the time the server has it. */
const MOST_SPEED = 100;
const MOST_SEED = 2 ** 32 - 1;

const USAGE = `npm run --silent rehearse -- PRACTICE.txt --squad SQUAD.csv [options]

Runs a whole practice against a server of its own, with simulated swimmers and real presses, and says what came of it.

  --squad FILE    the squad as CSV (needed)
  --speed N       so many times as fast as real, 1 to ${MOST_SPEED}, or max: without waiting (max)
  --seed N        the same seed gives the same swimmers (any)
  --port N        port to serve on meanwhile (any free one)
  --data FOLDER   keep the database in this folder, new or of rehearsals before (it is removed at the end)
  --at DAY        swum on another day: "2027-01-15" or "2027-01-15 17:30" (now)
${POOL_USAGE}
  --json          print JSON instead of a text
  --help          this

Exit status 0 when the practice came to its end and every time is stored, 1 otherwise (why is on standard error).
`;

interface Request extends PlanRequest {
  readonly speed: number | 'max';
  readonly seed: number;
  readonly port: number;
  /** Time of day at the start, epoch ms. */
  readonly wallMs: number;
  /** Null: a temporary one. */
  readonly dataFolder: string | null;
  readonly json: boolean;
}

function readArguments(args: string[]): Request | 'help' {
  const text = { type: 'string' } as const;
  const { values, positionals } = parseCommand({
    args,
    allowPositionals: true,
    options: {
      ...POOL_OPTIONS,
      squad: text,
      speed: text,
      seed: text,
      port: text,
      data: text,
      at: text,
      json: { type: 'boolean' },
      help: { type: 'boolean' },
    },
  });
  if (values.help) return 'help';
  return {
    ...namedFiles(positionals, values.squad),
    pool: poolOf(values),
    anyLanes: values.lanes === undefined,
    speed: readSpeed(values.speed ?? 'max'),
    seed: values.seed === undefined ? Math.floor(Math.random() * MOST_SEED) : readSeed(values.seed),
    port: values.port === undefined ? 0 : readPort(values.port),
    wallMs: values.at === undefined ? Date.now() : readDay(values.at),
    dataFolder: values.data === undefined ? null : readDataFolder(values.data),
    json: values.json ?? false,
  };
}

function readSpeed(text: string): Request['speed'] {
  if (text === 'max') return text;
  const speed = Number(text);
  if (/^\d+(\.\d+)?$/.test(text) && speed >= 1 && speed <= MOST_SPEED) return speed;
  throw new CommandError(`--speed "${text}" is not a speed: write 1 to ${MOST_SPEED}, or max`);
}

function readSeed(text: string): number {
  const seed = Number(text);
  if (/^\d+$/.test(text) && seed <= MOST_SEED) return seed;
  throw new CommandError(`--seed "${text}" is not a seed: write a whole number from 0 to ${MOST_SEED}`);
}

function readPort(text: string): number {
  const port = Number(text);
  if (/^\d+$/.test(text) && port <= 65_535) return port;
  throw new CommandError(`--port "${text}" is not a port: write a whole number from 0 to 65535`);
}

const DAY = /^(\d{4}-\d{2}-\d{2})(?:[ T](\d{2}:\d{2}))?$/;
const AFTERNOON = '17:00';

/** Of the place where this runs. */
function readDay(text: string): number {
  const [, day = '', time = AFTERNOON] = DAY.exec(text) ?? [];
  const at = new Date(`${day}T${time}`);
  // A date that there is not, like 30 February, would be taken for one of the next month.
  if (at.getTime() > 0 && day.endsWith(`-${String(at.getDate()).padStart(2, '0')}`)) return at.getTime();
  throw new CommandError(`--at "${text}" is not a day: write it as 2027-01-15 or "2027-01-15 17:30"`);
}

/** What somebody has swum is not to be mixed with rehearsals, nor its squad replaced. */
function readDataFolder(text: string): string {
  const folder = resolve(text);
  if (!existsSync(databaseFileOf(folder))) return folder;
  const opened = openStore(folder);
  if (!opened.ok) throw new CommandError(`--data "${text}": ${opened.message}`);
  try {
    if (opened.store.runList.holdsOnlyRehearsals()) return folder;
  } finally {
    opened.store.close();
  }
  throw new CommandError(`--data "${text}" holds a pool of its own: name a new folder, or one with rehearsals only`);
}

/** Pairs the browser that opens it as a screen. */
async function addressToWatch(server: PairedAt): Promise<string> {
  const asked = { method: 'POST', path: '/api/pairing', body: { access: 'screen' }, schema: shownCodeSchema } as const;
  const { code } = await askServer({ server, ...asked });
  return `${server.url}/pair#code=${code}`;
}

/** Starts a server on the rehearsal's clock, runs the practice and closes the server again. */
async function rehearse(
  { port, seed, speed, wallMs }: Request,
  dataFolder: string,
  rehearsed: Rehearsed,
): Promise<RehearsalResult> {
  const clock: RehearsalClock =
    speed === 'max' ? new SteppedClock(wallMs) : new FastClock(speed, wallMs, () => performance.now());
  const { timeZone: timezone } = new Intl.DateTimeFormat().resolvedOptions();
  const host = '127.0.0.1';
  const started = await startFarwall(
    { port, host, dataFolder, timezone, allowedHosts: [], tls: null },
    {
      machine: clock,
      newId: randomId,
      log: (error) => console.error(error),
      pages: async () => (pagesAreBuilt() ? PAGES_FOLDER : null),
    },
  );
  if (!started.ok) throw new CommandError(started.message);
  const { farwall } = started;
  try {
    const server = await pairedAt(`http://${host}:${farwall.port}`, farwall.ownerKey, 'Rehearsal');
    if (speed !== 'max') console.error(`To watch: ${await addressToWatch(server)}`);
    const rehearsal = await Rehearsal.prepared({ server, clock, newId: randomId, seed }, rehearsed);
    return await rehearsal.run();
  } finally {
    await farwall.close();
  }
}

async function reportFor(request: Request): Promise<RehearsalReport> {
  const { pool } = planFiles(request);
  const practiceText = readTextFile(request.practiceFile);
  const rehearsed: Rehearsed = {
    practiceText,
    squadCsv: readTextFile(request.squadFile),
    pool,
    asRehearsed: true,
  };
  const dataFolder = request.dataFolder ?? mkdtempSync(join(tmpdir(), 'farwall-rehearsal-'));
  const tidy = (): void => {
    if (request.dataFolder === null) rmSync(dataFolder, { recursive: true, force: true });
  };
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    process.once(signal, () => {
      tidy();
      process.exit(1);
    });
  }
  try {
    const result = await rehearse(request, dataFolder, rehearsed);
    const storedAsSeen = isStoredAsSeen(dataFolder, result.followed);
    return reportOf(result, { seed: request.seed, title: titleOf(practiceText), storedAsSeen });
  } finally {
    tidy();
  }
}

try {
  const request = readArguments(process.argv.slice(2));
  if (request === 'help') {
    process.stdout.write(USAGE);
  } else {
    const beganMs = performance.now();
    const report = await reportFor(request);
    process.stdout.write(request.json ? `${JSON.stringify(report, null, 1)}\n` : reportText(report));
    // Not part of the report, which is the same for the same seed.
    console.error(`It took ${((performance.now() - beganMs) / 1000).toFixed(1)} s of real time.`);
    for (const problem of report.problems) console.error(problem);
    if (report.problems.length > 0) process.exitCode = 1;
  }
} catch (error) {
  if (!(error instanceof CommandError || error instanceof RehearsalError)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 1;
}
