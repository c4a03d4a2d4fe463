import { type Instant, instant } from '../shared-types/brand.ts';

/** The clocks of the machine; the real ones are made in main.ts. */
export interface MachineClock {
  /** Milliseconds since 1970, as the machine has it: may be stepped at any time. */
  wallMs(): number;
  /** Milliseconds since some moment of this boot: only ever goes forward, the same for every process. */
  monotonicMs(): number;
  /** Changes when the machine boots; null where the machine does not say. */
  readonly boot: string | null;
}

/** A moment read on both clocks: what the pool's clock counts from. */
export interface ClockAnchor {
  readonly boot: string | null;
  readonly monotonicMs: number;
  readonly wallMs: number;
}

/** The pool's clock: every instant of a practice is one of this. */
export interface PoolClock {
  /** In milliseconds, with fractions. */
  now(): Instant;
  readonly anchor: ClockAnchor;
}

/**
 * A clock that counts monotonic time from an anchor, so that a machine whose clock is set while lanes are swimming
 * moves nobody's send-off.
 * @param stored the anchor of a practice that is under way: it is counted from again, unless the machine has booted
 *   since, when its monotonic clock means nothing any more
 */
export function poolClock(machine: MachineClock, stored: ClockAnchor | null): PoolClock {
  const sameBoot = stored !== null && stored.boot !== null && stored.boot === machine.boot;
  const anchor = sameBoot
    ? stored
    : { boot: machine.boot, monotonicMs: machine.monotonicMs(), wallMs: machine.wallMs() };
  return { anchor, now: () => instant(anchor.wallMs + (machine.monotonicMs() - anchor.monotonicMs)) };
}
