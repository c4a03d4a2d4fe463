import { createServer } from 'node:net';
import type { FastifyInstance } from 'fastify';
import { type Addresses, addressesOf } from './addresses.ts';
import { type ClockAnchor, type MachineClock, type PoolClock, poolClock } from './clock.ts';
import { LocalKeeper } from './local-key.ts';
import type { Note } from './log.ts';
import type { Later } from './running/history-keeper.ts';
import { Retention } from './running/retention.ts';
import { RunKeeper } from './running/run-keeper.ts';
import { BACKUPS_KEPT, backupFolderOf } from './store/backup-folder.ts';
import { Backups } from './store/backups.ts';
import { openStore, type Store } from './store/store.ts';
import { cureFor } from './store/store-problem.ts';
import { readTls, type Secure, type TlsFiles } from './tls.ts';
import { Devices } from './web/devices.ts';
import { LIMITS, type Limits } from './web/limits.ts';
import { OpenPages } from './web/open-pages.ts';
import { Pairing } from './web/pairing.ts';
import { Screens } from './web/screens.ts';
import { Walls } from './web/walls.ts';
import { webServer } from './web/web-server.ts';

export interface FarwallOptions {
  /** 0: any free port. */
  readonly port: number;
  readonly host: string;
  readonly dataFolder: string;
  /** IANA name. */
  readonly timezone: string;
  /** Names, besides the machine's own, that screens may call the server by. */
  readonly allowedHosts: readonly string[];
  /** Files with a certificate and its key, PEM; null: plain http. */
  readonly tls: TlsFiles | null;
}

/** The parts of the machine the server works with: the real ones are plugged in in main.ts, tests bring their own. */
export interface FarwallParts {
  readonly machine: MachineClock;
  readonly newId: () => string;
  /** Takes note of a bug or of trouble with the machine. */
  readonly log: (error: unknown) => void;
  /** Takes note of what happens as it should; absent: nobody wants to know. */
  readonly note?: Note;
  /** Absent: what sets came to is worked out only when somebody asks. */
  readonly later?: Later;
  /** Absent: those of a pool. */
  readonly limits?: Limits;
  /**
   * Builds the pages, once port and data folder are known to be good.
   * @returns where they lie, or null when they are not built
   */
  readonly pages: () => Promise<string | null>;
}

export interface Farwall {
  /** The port it really listens on. */
  readonly port: number;
  readonly addresses: Addresses;
  /** Makes the first device that shows it an owner. For the terminal only. */
  readonly ownerKey: string;
  readonly clock: PoolClock;
  readonly keeper: RunKeeper;
  readonly store: Store;
  readonly backups: Backups;
  /**
   * [FLT5] Lets go of every screen, then of the database.
   * @param backupWithinMs a last backup may be made if it is done within this time; absent: none is
   */
  close(backupWithinMs?: number): Promise<void>;
}

export interface StartProblem {
  readonly ok: false;
  /** One sentence, with the cure. */
  readonly message: string;
}

const problem = (message: string): StartProblem => ({ ok: false, message });

function listeningProblem(host: string, port: number, error: unknown): StartProblem {
  const code = error instanceof Error && 'code' in error ? error.code : null;
  switch (code) {
    case 'EADDRINUSE':
      return problem(`Port ${port} is taken: stop what uses it, or name another with --port.`);
    case 'EACCES':
      return problem(`Port ${port} may not be used by this user: name one above 1023 with --port.`);
    case 'EADDRNOTAVAIL':
    case 'ENOTFOUND':
    case 'EAI_AGAIN':
      return problem(`"${host}" is not an address of this machine: name one that is with --host, e.g. 127.0.0.1.`);
    default:
      throw error;
  }
}

/** Whether the port can be listened on, found out before anything is made or written. @returns null when it can */
function checkPort(host: string, port: number): Promise<StartProblem | null> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', (error) => {
      try {
        resolve(listeningProblem(host, port, error));
      } catch (unknown) {
        reject(unknown);
      }
    });
    probe.listen({ host, port, exclusive: true }, () => probe.close(() => resolve(null)));
  });
}

/** The anchor to count on from: that of a practice under way. Otherwise the machine's clock is taken anew. */
function anchorToKeep(store: Store): ClockAnchor | null {
  const live = store.runs.liveRun();
  const last = live ? store.runs.lastEventOf(live.id)?.state : undefined;
  return last === 'running' || last === 'held' ? store.anchor.anchor() : null;
}

async function listen(app: FastifyInstance, host: string, port: number): Promise<StartProblem | null> {
  try {
    await app.listen({ host, port });
    return null;
  } catch (error) {
    return listeningProblem(host, port, error);
  }
}

async function pagesFolderOf({
  pages,
  log,
}: FarwallParts): Promise<{ ok: true; folder: string | null } | StartProblem> {
  try {
    return { ok: true, folder: await pages() };
  } catch (error) {
    log(error);
    return problem('The pages could not be built; what is written above says why.');
  }
}

interface Kept {
  readonly clock: PoolClock;
  readonly keeper: RunKeeper;
}

/** Takes up the clock and the run where they were left. */
export function takeUp(
  store: Store,
  dataFolder: string,
  { machine, newId, log, later }: Pick<FarwallParts, 'machine' | 'newId' | 'log' | 'later'>,
): ({ ok: true } & Kept) | StartProblem {
  try {
    const clock = poolClock(machine, anchorToKeep(store));
    store.anchor.save(clock.anchor);
    store.assertDurable();
    return { ok: true, clock, keeper: new RunKeeper({ store, now: clock.now, newId, log, later }) };
  } catch (error) {
    log(error);
    return problem(
      `The practice on the wall cannot be read from "${store.file}", which was left as it is: ${cureFor(dataFolder)}.`,
    );
  }
}

/** [FLT6] Backups of the store, made by themselves whenever something has changed and no practice is under way. */
function backupsOf(
  store: Store,
  keeper: RunKeeper,
  dataFolder: string,
  { machine, log, note = () => {} }: FarwallParts,
): Backups {
  const mayTake = (): boolean => keeper.run?.state !== 'running' && keeper.run?.state !== 'held';
  const backups = new Backups({
    source: store.backupSource,
    folder: backupFolderOf(dataFolder),
    keep: BACKUPS_KEPT,
    wallMs: () => machine.wallMs(),
    mayTake,
    note,
    log,
  });
  keeper.listen(() => {
    if (mayTake()) void backups.takeIfChanged();
  });
  return backups;
}

const portOf = (app: FastifyInstance): number => {
  const address = app.server.address();
  return typeof address === 'object' && address ? address.port : 0;
};

/** Without it the backup command cannot ask the server: no reason not to start. */
function localKeeper(dataFolder: string, secure: Secure | null, log: FarwallParts['log']): LocalKeeper | null {
  try {
    return new LocalKeeper(dataFolder, secure?.cert ?? null);
  } catch (error) {
    log(error);
    return null;
  }
}

/** Starts to listen with what has been taken up. */
async function serve(
  options: FarwallOptions,
  parts: FarwallParts,
  { store, pagesFolder, secure }: { store: Store; pagesFolder: string | null; secure: Secure | null },
): Promise<{ ok: true; farwall: Farwall } | StartProblem> {
  const { newId, log, later, note = () => {} } = parts;
  const { host, timezone, allowedHosts, dataFolder } = options;
  const kept = takeUp(store, dataFolder, parts);
  if (!kept.ok) return kept;
  const { clock, keeper } = kept;
  const retention = new Retention({ store, keeper, now: clock.now, log, note }, later);
  const backups = backupsOf(store, keeper, dataFolder, parts);
  const screens = new Screens();
  const local = localKeeper(dataFolder, secure, log);
  const pairing = new Pairing(store.devices, clock.now);
  const addresses = (): Addresses => addressesOf(host, portOf(app), secure ? 'https' : 'http');
  const app = await webServer({
    store,
    keeper,
    backups,
    clock,
    startedAt: clock.now(),
    screens,
    walls: new Walls(store.screens, screens, clock.now),
    devices: new Devices({ store: store.devices, now: clock.now, newId, isSecure: secure !== null }),
    pairing,
    pages: new OpenPages(),
    addresses,
    secure,
    limits: parts.limits ?? LIMITS,
    local,
    newId,
    timezone,
    allowedHosts,
    pagesFolder,
    log,
    note,
  });
  const unheard = await listen(app, host, options.port);
  if (unheard) {
    local?.forget();
    retention.end();
    await app.close();
    await keeper.history.end();
    return unheard;
  }
  const letGo = async (backupWithinMs: number): Promise<void> => {
    local?.forget();
    retention.end();
    await app.close();
    await keeper.history.end();
    await backups.end(backupWithinMs);
    store.close();
  };
  let closed: Promise<void> | null = null;
  const close = (backupWithinMs = 0): Promise<void> => {
    closed ??= letGo(backupWithinMs);
    return closed;
  };
  const { ownerKey } = pairing;
  const farwall = { port: portOf(app), addresses: addresses(), ownerKey, clock, keeper, store, backups, close };
  return { ok: true, farwall };
}

/**
 * Opens the store, takes up the run that was on the wall and starts to listen.
 * @returns the running server, or in one sentence why there is none; nothing is left open then
 */
export async function startFarwall(
  options: FarwallOptions,
  parts: FarwallParts,
): Promise<{ ok: true; farwall: Farwall } | StartProblem> {
  const tls = readTls(options.tls, parts.machine.wallMs());
  if (!tls.ok) return tls;
  const taken = await checkPort(options.host, options.port);
  if (taken) return taken;
  const opened = openStore(options.dataFolder);
  if (!opened.ok) return opened;
  const pages = await pagesFolderOf(parts);
  const started = pages.ok
    ? await serve(options, parts, { store: opened.store, pagesFolder: pages.folder, secure: tls.secure })
    : pages;
  if (!started.ok) opened.store.close();
  return started;
}
