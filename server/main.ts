import { readFileSync } from 'node:fs';
import type { MachineClock } from './clock.ts';
import { readFlags } from './flags.ts';
import { randomId } from './ids.ts';
import { LineWriter, standardError } from './line-writer.ts';
import { jsonLog } from './log.ts';
import { buildPages, PAGE_NAMES, PAGES_FOLDER, pagesAreBuilt } from './pages.ts';
import { type Farwall, startFarwall } from './start.ts';

/** How long closing may take before the process ends all the same; what was acknowledged is on disk anyway. */
const CLOSE_WITHIN_MS = 1500;
/** How long the last backup may take of that. */
const LAST_BACKUP_WITHIN_MS = 1000;

/** Linux says when it booted; elsewhere every start takes the clock anew. */
function bootId(): string | null {
  try {
    return readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim();
  } catch {
    return null;
  }
}

const machine: MachineClock = {
  wallMs: () => Date.now(),
  monotonicMs: () => Number(process.hrtime.bigint()) / 1e6,
  boot: bootId(),
};

const pagesAt = (address: string): string[] => PAGE_NAMES.map((page) => `  ${page}  ${address}/${page}`);

/** The addresses to open, and how devices come in. */
function addressLines({ addresses: { here, elsewhere }, ownerKey }: Farwall): string[] {
  return [
    'Farwall is running. Open on this machine:',
    ...pagesAt(here),
    ...(elsewhere.length === 0
      ? ['Other devices cannot reach it: start it without --host for that.']
      : ['On other devices of the network, once each is paired with a code that the desk shows under Today:']),
    ...elsewhere.flatMap((address) => (address === here ? [] : pagesAt(address))),
    'To make the desk on this machine an owner, who may do everything, open this once (it is worth nothing after that):',
    `  pair  ${here}/pair#key=${ownerKey}`,
  ];
}

function later(afterMs: number, work: () => void): () => void {
  const timer = setTimeout(work, afterMs);
  return () => clearTimeout(timer);
}

function fail(message: string): never {
  console.error(message);
  process.exit(1);
}

function closeOnSignals(farwall: Farwall): void {
  let closing = false;
  const close = (): void => {
    if (closing) return;
    closing = true;
    setTimeout(() => process.exit(0), CLOSE_WITHIN_MS).unref();
    farwall.close(LAST_BACKUP_WITHIN_MS).then(
      () => process.exit(0),
      (error: unknown) => {
        log.fault(error);
        process.exit(1);
      },
    );
  };
  process.on('SIGTERM', close);
  process.on('SIGINT', close);
}

// What is written here is about children: nobody else on this machine is to read it.
process.umask(0o077);

const flags = readFlags(process.argv.slice(2), process.env);
if (flags.kind === 'help') {
  console.log(flags.text);
  process.exit(0);
}
if (flags.kind === 'problem') fail(flags.message);
const { options } = flags;

// The addresses stay readable: they are all that goes to standard output.
const logLines = new LineWriter(standardError());
process.on('exit', () => logLines.flush());
const log = jsonLog((line) => logLines.write(line), machine.wallMs, options.quiet);

async function pages(): Promise<string | null> {
  if (options.build) await buildPages();
  if (pagesAreBuilt()) return PAGES_FOLDER;
  console.error('The pages have not been built: start once without --no-build.');
  return null;
}

const started = await startFarwall(options, { machine, newId: randomId, log: log.fault, note: log.note, later, pages });
if (!started.ok) fail(started.message);
closeOnSignals(started.farwall);
console.log(addressLines(started.farwall).join('\n'));
