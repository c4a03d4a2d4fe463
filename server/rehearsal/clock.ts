import { setTimeout as after, setImmediate as afterOthers } from 'node:timers/promises';
import type { MachineClock } from '../clock.ts';

/** The clocks of a machine on which a rehearsal runs: server and deck both read them. */
export interface RehearsalClock extends MachineClock {
  /**
   * Lets time go by towards a moment. May come back early, so that what has happened meanwhile is looked at: ask again.
   * @param monotonicMs on this machine's monotonic clock
   */
  towards(monotonicMs: number): Promise<void>;
}

const MINUTE_MS = 60_000;

/** A clock that goes from one moment to the next without waiting, and stands still in between. */
export class SteppedClock implements RehearsalClock {
  /** Nothing that another process knows of: every start takes the clock anew. */
  readonly boot = null;
  readonly #wallAheadMs: number;
  #monotonicMs = 0;

  /** @param wallMs time of day; taken down to the whole minute, so that every rehearsal sets off the same way */
  constructor(wallMs: number) {
    this.#wallAheadMs = Math.floor(wallMs / MINUTE_MS) * MINUTE_MS;
  }

  wallMs(): number {
    return this.#wallAheadMs + this.#monotonicMs;
  }

  monotonicMs(): number {
    return this.#monotonicMs;
  }

  /** Goes there at once, never back, once whatever the machine has to do besides is done. */
  async towards(monotonicMs: number): Promise<void> {
    await afterOthers();
    this.#monotonicMs = Math.max(this.#monotonicMs, monotonicMs);
  }
}

/** How long one wait lasts at most, real ms: a deck of somebody else's may press in between. */
const LOOK_AGAIN_MS = 250;

/** A clock that goes so many times faster than a real one. */
export class FastClock implements RehearsalClock {
  readonly boot = null;
  readonly #speed: number;
  readonly #wallFromMs: number;
  readonly #realNow: () => number;
  readonly #startedMs: number;

  /**
   * @param speed 1: as fast as a real clock
   * @param wallMs time of day at the start
   * @param realNow a real monotonic clock, ms
   */
  constructor(speed: number, wallMs: number, realNow: () => number) {
    this.#speed = speed;
    this.#wallFromMs = wallMs;
    this.#realNow = realNow;
    this.#startedMs = realNow();
  }

  wallMs(): number {
    return this.#wallFromMs + this.monotonicMs();
  }

  monotonicMs(): number {
    return (this.#realNow() - this.#startedMs) * this.#speed;
  }

  async towards(monotonicMs: number): Promise<void> {
    const waitMs = (monotonicMs - this.monotonicMs()) / this.#speed;
    if (waitMs > 0) await after(Math.min(waitMs, LOOK_AGAIN_MS));
  }
}
