import { type Instant, instant } from '../../shared-types/brand.ts';
import type { PoolClock } from './live.ts';
import { type Estimate, type Exchange, estimateAt, type Sample, sampleOf, withSample } from './sync.ts';

/** The page's own two clocks, ms. */
export interface PageClocks {
  /** Monotonic, from an arbitrary origin; may stop while the device sleeps. */
  pageNow(): number;
  /** Time of day since 1970; may be set at any moment. */
  wallNow(): number;
}

/** How far the page's two clocks may come apart between two looks before we call it a jump, ms. */
const JUMP_MS = 250;

/** What the shown time moves by, per millisecond, while it is ahead of the estimate. */
const SLOWED = 0.5;

/**
 * The pool's clock on one page. Until the first exchange it shows the device's own time of day; the first estimate
 * may move it either way. After that [SYN4] it never goes back: ahead of the estimate it runs at half speed until the
 * estimate has caught up.
 */
export class SyncedClock implements PoolClock {
  readonly #clocks: PageClocks;
  #samples: readonly Sample[] = [];
  /** Pool instant minus page time, as last estimated or, before that, as the device has it. */
  #offsetMs: number;
  #synced = false;
  /** What was shown when, page clock. */
  #shown: { readonly at: number; readonly pageMs: number };
  #apartMs: number;

  constructor(clocks: PageClocks) {
    this.#clocks = clocks;
    this.#offsetMs = clocks.wallNow() - clocks.pageNow();
    this.#apartMs = this.#offsetMs;
    this.#shown = { at: Number.NEGATIVE_INFINITY, pageMs: clocks.pageNow() };
  }

  now(): Instant {
    const pageMs = this.#clocks.pageNow();
    const slowest = this.#shown.at + SLOWED * Math.max(0, pageMs - this.#shown.pageMs);
    this.#shown = { at: Math.max(pageMs + this.#offsetMs, slowest), pageMs };
    return instant(this.#shown.at);
  }

  at(pageMs: number): Instant {
    return instant(pageMs + this.#offsetMs);
  }

  boundMs(): number | null {
    return this.#estimate()?.boundMs ?? null;
  }

  /** Takes in one exchange with the server. */
  learn(exchange: Exchange): void {
    // What was shown until now is settled first, so that it does not depend on how often somebody looked.
    if (this.#synced) this.now();
    else this.#shown = { at: Number.NEGATIVE_INFINITY, pageMs: this.#clocks.pageNow() };
    this.#samples = withSample(this.#samples, sampleOf(exchange));
    this.#offsetMs = this.#estimate()?.offsetMs ?? this.#offsetMs;
    this.#synced = true;
  }

  /** [SYN3] Forgets the samples; the last offset serves until the next exchange. */
  restart(): void {
    this.#samples = [];
  }

  /** [SYN3] True once after the device slept or its time of day was set: the samples no longer hold then. */
  hasJumped(): boolean {
    const apartMs = this.#clocks.wallNow() - this.#clocks.pageNow();
    const jumped = Math.abs(apartMs - this.#apartMs) > JUMP_MS;
    this.#apartMs = apartMs;
    return jumped;
  }

  #estimate(): Estimate | null {
    return estimateAt(this.#samples, this.#clocks.pageNow());
  }
}
