import { mkdirSync, renameSync, rmSync } from 'node:fs';
import { basename } from 'node:path';
import { setImmediate as nextTurn, setTimeout as pause } from 'node:timers/promises';
import { isDeepStrictEqual } from 'node:util';
import { Worker } from 'node:worker_threads';
import { z } from 'zod';
import type { LogEntry } from '../log.ts';
import type { Checked } from './backup-check.ts';
import { backupsIn, freeName, prune } from './backup-folder.ts';
import type { BackupSource } from './backup-source.ts';
import { sizeOf } from './file-format.ts';

export interface BackupsParts {
  readonly source: BackupSource;
  /** Where backups go; made when the first is. */
  readonly folder: string;
  /** How many are kept in it. */
  readonly keep: number;
  /** The machine's clock: their names are instants of UTC. */
  readonly wallMs: () => number;
  /** False while a practice is under way: no backup is begun then, and one in hand is given up. */
  readonly mayTake: () => boolean;
  readonly note: (entry: LogEntry) => void;
  readonly log: (error: unknown) => void;
}

export type BackupResult =
  | { readonly kind: 'taken'; readonly file: string; readonly at: number }
  /** A practice is under way, the server is ending, or there is nothing new to keep. */
  | { readonly kind: 'given-up' }
  | { readonly kind: 'failed'; readonly why: string };

/** The last try at a backup. */
export interface LastBackup {
  /** Ms since 1970, by the machine's clock. */
  readonly at: number;
  readonly ok: boolean;
}

/** How often a copy is begun anew because something was written meanwhile. */
const MOST_TRIES = 5;
/** After the first try that was written into; after the next twice that, and so on: whoever loads a squad is done by then. */
const PAUSE_MS = 200;

class GivenUp extends Error {}

const checkedSchema = z.custom<Checked>((value) => z.object({ ok: z.boolean() }).safeParse(value).success);

/** [FLT6] Makes verified copies of the open database, one at a time, without holding up what it is for. */
export class Backups {
  readonly #parts: BackupsParts;
  #last: LastBackup | null;
  /** What the source's count of changes was when the newest backup was made. */
  #changesKept: number;
  #queue: Promise<unknown> = Promise.resolve();
  #ending = false;
  #worker: Worker | null = null;

  constructor(parts: BackupsParts) {
    this.#parts = parts;
    const newest = backupsIn(parts.folder)[0];
    this.#last = newest ? { at: newest.at, ok: true } : null;
    this.#changesKept = parts.source.changes();
  }

  /** The last try, of an earlier process too where it made a backup; null before the first. */
  get last(): LastBackup | null {
    return this.#last;
  }

  /** Makes a backup when something has changed since the last and nothing is under way. Never rejects. */
  async takeIfChanged(): Promise<void> {
    await this.#inTurn(() => this.#take(true));
  }

  /** Makes a backup, whether or not anything has changed. Never rejects. */
  take(): Promise<BackupResult> {
    return this.#inTurn(() => this.#take(false));
  }

  /** Makes a last backup if it can be had within that time, gives up what is not done by then, and takes no more. */
  async end(withinMs: number): Promise<void> {
    if (withinMs > 0) {
      const late = setTimeout(() => this.#giveUp(), withinMs);
      await this.takeIfChanged();
      clearTimeout(late);
    }
    this.#giveUp();
    await this.#queue;
  }

  #giveUp(): void {
    this.#ending = true;
    void this.#worker?.terminate();
  }

  /** @param work must not reject: what is next in the queue would never be done */
  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const done = this.#queue.then(work);
    this.#queue = done;
    return done;
  }

  async #take(onlyIfChanged: boolean): Promise<BackupResult> {
    const startedAt = this.#parts.wallMs();
    try {
      if (onlyIfChanged && !this.#isDue()) return { kind: 'given-up' };
      // Those who wait for an answer get theirs first.
      await nextTurn();
      const made = await this.#make(startedAt);
      const tookMs = Math.round(this.#parts.wallMs() - startedAt);
      this.#last = { at: made.at, ok: true };
      this.#parts.note({ what: 'backup', file: basename(made.file), bytes: sizeOf(made.file), tookMs });
      return { kind: 'taken', ...made };
    } catch (error) {
      if (error instanceof GivenUp) return { kind: 'given-up' };
      this.#parts.log(error);
      this.#last = { at: startedAt, ok: false };
      return { kind: 'failed', why: error instanceof Error ? error.message : String(error) };
    }
  }

  async #make(startedAt: number): Promise<{ file: string; at: number }> {
    const { folder, keep } = this.#parts;
    mkdirSync(folder, { recursive: true });
    const { file, at } = freeName(folder, startedAt);
    const unfinished = `${file}.part`;
    try {
      const changes = await this.#copy(unfinished);
      renameSync(unfinished, file);
      this.#changesKept = Math.max(changes, this.#changesKept);
      prune(folder, file, keep);
      return { file, at };
    } finally {
      for (const end of ['', '-journal', '-wal', '-shm']) rmSync(unfinished + end, { force: true });
    }
  }

  #isDue(): boolean {
    return this.#parts.mayTake() && this.#parts.source.changes() !== this.#changesKept;
  }

  /** @returns the source's count of changes that the copy, found whole, stands for */
  async #copy(unfinished: string): Promise<number> {
    const { source } = this.#parts;
    for (let tries = 1; tries <= MOST_TRIES; tries += 1) {
      this.#goOn();
      rmSync(unfinished, { force: true });
      const changes = source.changes();
      const contents = source.contents();
      await source.copyTo(unfinished, () => this.#goOn());
      this.#goOn();
      if (source.changes() !== changes) {
        await pause(tries * PAUSE_MS);
        continue;
      }
      const checked = await this.#check(unfinished);
      this.#goOn();
      if (!checked.ok) throw new Error(`the copy "${unfinished}" is not whole: ${checked.why}`);
      if (isDeepStrictEqual(checked.contents, contents)) return changes;
      throw new Error(`the copy "${unfinished}" does not hold what the database holds`);
    }
    throw new Error('the database was written to all the time while it was copied');
  }

  /** @throws GivenUp when this is no time for a backup any more */
  #goOn(): void {
    if (this.#ending || !this.#parts.mayTake()) throw new GivenUp('a practice has begun, or the server is ending');
  }

  #check(file: string): Promise<Checked> {
    return new Promise((resolve, reject) => {
      const worker = new Worker(new URL('./backup-check-worker.ts', import.meta.url), { workerData: file });
      this.#worker = worker;
      worker.once('message', (found) => resolve(checkedSchema.parse(found)));
      worker.once('error', reject);
      worker.once('exit', () => {
        this.#worker = null;
        reject(this.#ending ? new GivenUp('the server is ending') : new Error('the check of a backup ended early'));
      });
    });
  }
}
