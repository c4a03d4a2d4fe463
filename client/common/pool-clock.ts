import { type Instant, instant } from '../../shared-types/brand.ts';
import type { PoolClock } from './live.ts';
import { ShownTime } from './shown-time.ts';
import type { Exchange } from './sync.ts';
import { type Estimate, estimateAt, type Knowledge, learn, NOTHING_KNOWN } from './sync-estimate.ts';

/** The page's own two clocks, ms. */
export interface PageClocks {
  /** Monotonic, from an arbitrary origin; may stop while the device sleeps. */
  pageNow(): number;
  /** Time of day since 1970; may be set at any moment. */
  wallNow(): number;
}

/** How good a page's knowledge of the pool's clock is. */
export interface ClockStatus {
  /** Null before the first exchange, and after a jump until the next. */
  readonly boundMs: number | null;
  /** Age of the sample the estimate rests on, ms. */
  readonly ageMs: number | null;
  /** What it reckons with, parts per million; > 0 when the pool's clock is the faster. 0 until known better. */
  readonly driftPpm: number;
}

/**
 * How far the page's two clocks may come apart between two looks, or an exchange contradict the ones before, until we
 * call it a jump; an estimate less certain than this does not stand. ms.
 */
const JUMP_MS = 250;

/** An estimate stands when it is so old: the quick exchanges have been made by then, ms. */
const SETTLING_MS = 1000;

/**
 * The pool's clock on one page. `at` follows the estimate at once, for presses; `now` shows it [SYN4] without ever
 * going back and [SYN2] without haste once an estimate stands (see shown-time.ts). Until the first exchange both give
 * the device's own time of day, from which the first estimate may move them either way.
 */
export class SyncedClock implements PoolClock {
  readonly #clocks: PageClocks;
  readonly #shown = new ShownTime();
  #knowledge: Knowledge = NOTHING_KNOWN;
  /** Pool instant minus page time while nothing is known: the device's own, later the last estimate. */
  #lastOffsetMs: number;
  #everSynced = false;
  /** When the first of the samples came, page clock. */
  #sinceMs = 0;
  /** Time of day minus page time when last asked about a jump. */
  #apartMs: number;

  constructor(clocks: PageClocks) {
    this.#clocks = clocks;
    this.#apartMs = clocks.wallNow() - clocks.pageNow();
    this.#lastOffsetMs = this.#apartMs;
  }

  now(): Instant {
    return this.shownAt(this.#clocks.pageNow());
  }

  /** [SYN4] The pool instant to show in a frame of this time (page clock, ms): never before one shown already. */
  shownAt(pageMs: number): Instant {
    return instant(this.#shown.read(pageMs, this.at(pageMs)));
  }

  at(pageMs: number): Instant {
    return instant(pageMs + (estimateAt(this.#knowledge, pageMs)?.offsetMs ?? this.#lastOffsetMs));
  }

  boundMs(): number | null {
    return this.status().boundMs;
  }

  status(): ClockStatus {
    const estimate = this.#estimate();
    // [SYN3] After a jump there is no bound, also before anybody has asked about the jump.
    if (!estimate || this.#jumpMs() > JUMP_MS) return { boundMs: null, ageMs: null, driftPpm: 0 };
    return { boundMs: estimate.boundMs, ageMs: estimate.ageMs, driftPpm: estimate.drift * 1e6 };
  }

  /**
   * Takes in one exchange with the server.
   * @returns true when it contradicts the ones before, which are forgotten: more are needed soon
   */
  learn(exchange: Exchange): boolean {
    // What was shown until now is settled first, so that it does not depend on how often somebody looked.
    if (this.#everSynced) this.now();
    else this.#shown.forget();
    const stood = this.#stands();
    if (this.#knowledge.samples.length === 0) this.#sinceMs = this.#clocks.pageNow();
    const { knowledge, contradictedMs } = learn(this.#knowledge, exchange);
    if (contradictedMs > JUMP_MS) this.#sinceMs = this.#clocks.pageNow();
    if (contradictedMs > JUMP_MS || !stood) this.#shown.leap();
    this.#knowledge = knowledge;
    this.#everSynced = true;
    return contradictedMs > 0;
  }

  /** [SYN3] Forgets what is known; the last offset serves until the next exchange. */
  restart(): void {
    this.#lastOffsetMs = this.#estimate()?.offsetMs ?? this.#lastOffsetMs;
    this.#knowledge = NOTHING_KNOWN;
  }

  /** [SYN3] True once after the device slept or its time of day was set: what is known no longer holds then. */
  hasJumped(): boolean {
    const jumped = this.#jumpMs() > JUMP_MS;
    this.#apartMs = this.#clocks.wallNow() - this.#clocks.pageNow();
    return jumped;
  }

  /** How far the page's clocks have come apart since that was last asked. */
  #jumpMs(): number {
    return Math.abs(this.#clocks.wallNow() - this.#clocks.pageNow() - this.#apartMs);
  }

  #estimate(): Estimate | null {
    return estimateAt(this.#knowledge, this.#clocks.pageNow());
  }

  /** Whether corrections are slewed: there is an estimate, from more than the first exchanges, and it is worth it. */
  #stands(): boolean {
    const estimate = this.#estimate();
    return estimate !== null && this.#clocks.pageNow() - this.#sinceMs >= SETTLING_MS && estimate.boundMs <= JUMP_MS;
  }
}
