import { constants, fstatSync, openSync, write, writeSync } from 'node:fs';
import { isatty } from 'node:tty';

/** Lines that may wait; later ones are left out rather than kept in memory without end. */
const MOST_WAITING = 1000;
/** How long a reader whose pipe is full is left alone, ms. */
const RETRY_MS = 100;

const codeOf = (error: unknown): unknown => (error instanceof Error && 'code' in error ? error.code : null);

const STDERR = 2;

/**
 * Standard error, such that a write to it is refused rather than waits when a terminal or a pipe is full: even a
 * thread of Node's own that waits there keeps the process from ending. Files and sockets are taken as they are.
 */
export function standardError(): number {
  try {
    if (!isatty(STDERR) && !fstatSync(STDERR).isFIFO()) return STDERR;
    return openSync('/dev/stderr', constants.O_WRONLY | constants.O_NONBLOCK | constants.O_NOCTTY);
  } catch {
    return STDERR;
  }
}

/**
 * Writes lines to a file descriptor without ever waiting for its reader: a terminal that somebody has stopped to
 * read in (Ctrl-S) must not stop a practice. A reader that is gone is no error.
 */
export class LineWriter {
  readonly #descriptor: number;
  #waiting: Buffer[] = [];
  #writing = false;
  #gone = false;

  constructor(descriptor: number) {
    this.#descriptor = descriptor;
  }

  write(line: string): void {
    if (this.#gone || this.#waiting.length >= MOST_WAITING) return;
    this.#waiting.push(Buffer.from(line));
    if (!this.#writing) this.#next();
  }

  /** Writes what waits behind the lines in hand, if there is room for it: for the end of the process. */
  flush(): void {
    if (this.#gone) return;
    try {
      for (const line of this.#waiting.splice(0)) writeSync(this.#descriptor, line);
    } catch {
      this.#gone = true;
    }
  }

  #next(): void {
    const lines = Buffer.concat(this.#waiting);
    this.#waiting = [];
    this.#writing = lines.length > 0;
    if (this.#writing) this.#put(lines);
  }

  #put(bytes: Buffer): void {
    write(this.#descriptor, bytes, (error, written) => {
      if (codeOf(error) === 'EAGAIN') {
        setTimeout(() => this.#put(bytes), RETRY_MS).unref();
        return;
      }
      if (error) this.#gone = true;
      if (error || written >= bytes.length) return this.#next();
      this.#put(bytes.subarray(written));
    });
  }
}
