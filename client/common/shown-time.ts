/** [SYN2] Corrections are slewed by at most this per millisecond: 5 ms a second. */
const SLEW = 0.005;

/**
 * [SYN4] The longest a shown clock stands still to let the pool's catch up, ms. One further ahead shows another clock
 * altogether, such as that of a server whose time of day has been put right by an hour.
 */
const LONGEST_HOLD_MS = 60_000;

/**
 * The instant a screen shows: near the estimate, but smooth. It follows the estimate at no more than 5 ms a second,
 * except when told to leap: then it is there at once if that is ahead, and if it is behind stands still until the
 * pool's clock has come to what is shown, at most a minute; only over a difference of more than a minute does it go
 * back.
 *
 * What it shows does not depend on how often it is read, as long as it is read before each change of the estimate.
 */
export class ShownTime {
  #at = Number.NEGATIVE_INFINITY;
  #pageMs = Number.NEGATIVE_INFINITY;
  #leaps = true;

  /** The next correction is taken at once. */
  leap(): void {
    this.#leaps = true;
  }

  /** Forgets what was shown: the next reading shows the estimate, wherever that is. */
  forget(): void {
    this.#at = Number.NEGATIVE_INFINITY;
    this.#leaps = true;
  }

  /**
   * What to show.
   * @param pageMs page clock; a moment before the last reading counts as that
   * @param estimated pool instant of `pageMs` as estimated
   */
  read(pageMs: number, estimated: number): number {
    const passedMs = Math.max(0, pageMs - this.#pageMs);
    this.#pageMs = Math.max(pageMs, this.#pageMs);
    this.#at = this.#leaps ? this.#leapt(estimated) : this.#slewn(passedMs, estimated);
    return this.#at;
  }

  #leapt(estimated: number): number {
    const aheadMs = this.#at - estimated;
    if (aheadMs > 0 && aheadMs <= LONGEST_HOLD_MS) return this.#at;
    this.#leaps = false;
    return estimated;
  }

  #slewn(passedMs: number, estimated: number): number {
    const steady = this.#at + passedMs;
    const most = SLEW * passedMs;
    return steady + Math.max(-most, Math.min(most, estimated - steady));
  }
}
