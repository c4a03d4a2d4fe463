import type { PageClocks } from '../../client/common/pool-clock.ts';
import type { SimulatedTime } from './simulated-time.ts';

/** The device a page runs on: its clocks, which are nobody else's, its timers and its sleep. */
export class SimulatedDevice implements PageClocks {
  readonly #time: SimulatedTime;
  readonly #startedMs: number;
  /** How much faster than its own clock the pool's goes, ms per ms. */
  readonly #drift: number;
  #wallAheadMs: number;
  /** How long its monotonic clock has stood still while it slept. */
  #stoodMs = 0;
  #sleepsSince: { readonly atMs: number; readonly monotonicStands: boolean } | null = null;
  #waiting: (() => void)[] = [];

  constructor(time: SimulatedTime, { driftPpm = 0, wallAheadMs = 1_800_000_000_000 } = {}) {
    this.#time = time;
    this.#startedMs = time.nowMs;
    this.#drift = driftPpm * 1e-6;
    this.#wallAheadMs = wallAheadMs;
  }

  pageNow(): number {
    const stands = this.#sleepsSince?.monotonicStands ? this.#time.nowMs - this.#sleepsSince.atMs : 0;
    return (this.#time.nowMs - this.#startedMs - this.#stoodMs - stands) / (1 + this.#drift);
  }

  wallNow(): number {
    return this.#wallAheadMs + (this.#time.nowMs - this.#startedMs) / (1 + this.#drift);
  }

  /** A timer of the page, on its monotonic clock; one that is due while the device sleeps goes off when it wakes. */
  later(delayMs: number, call: () => void): () => void {
    const dueAt = this.pageNow() + delayMs;
    let callOff = (): void => {};
    let isOff = false;
    const wait = (leftMs: number): void => {
      callOff = this.#time.later(leftMs * (1 + this.#drift), () => this.whenAwake(goOff));
    };
    const goOff = (): void => {
      if (isOff) return;
      const leftMs = dueAt - this.pageNow();
      // More is left when the clock stood still meanwhile; a nanosecond is rounding.
      if (leftMs > 1e-6) wait(leftMs);
      else call();
    };
    wait(delayMs);
    return () => {
      isOff = true;
      callOff();
    };
  }

  /** Calls now, or when the device wakes: so messages reach a page that was asleep. */
  whenAwake(call: () => void): void {
    if (this.#sleepsSince) this.#waiting.push(call);
    else call();
  }

  /** @param monotonicStands whether its monotonic clock stands still meanwhile; its time of day never does */
  sleep(monotonicStands: boolean): void {
    this.#sleepsSince = { atMs: this.#time.nowMs, monotonicStands };
  }

  wake(): void {
    if (this.#sleepsSince?.monotonicStands) this.#stoodMs += this.#time.nowMs - this.#sleepsSince.atMs;
    this.#sleepsSince = null;
    for (const call of this.#waiting.splice(0)) call();
  }

  /** Somebody sets its time of day. */
  setWall(byMs: number): void {
    this.#wallAheadMs += byMs;
  }
}
