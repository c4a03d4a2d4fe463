/**
 * [SYN1] What single exchanges with the server say about the pool's clock. Page times are milliseconds on the page's
 * own monotonic clock (`performance.now()`), pool times are instants.
 */

/** The four timestamps of one exchange, T1 … T4 of RFC 5905 §8. */
export interface Exchange {
  /** T1, page clock: the question left. */
  readonly askedAt: number;
  /** T2, pool clock: the question came. */
  readonly receivedAt: number;
  /** T3, pool clock: the answer left. */
  readonly answeredAt: number;
  /** T4, page clock: the answer came. */
  readonly heardAt: number;
}

/** What one exchange says. */
export interface Sample {
  /** θ: add it to a page time to have a pool instant; > 0 when the pool's clock is ahead. */
  readonly offsetMs: number;
  /** δ: time the two messages took together, at least the clocks' precision. */
  readonly delayMs: number;
  /**
   * When the question left, page clock. A sample's age counts from here: what the clocks drift apart while the answer
   * is on its way makes it no better.
   */
  readonly askedAt: number;
}

/** Browsers round `performance.now()`, the coarsest of them to a millisecond. */
export const PRECISION_MS = 1;

/** How fast two clocks may drift apart: 50 parts in a million. */
export const DRIFT = 50e-6;

/** How many samples are kept: two minutes at one every two seconds. */
const MOST_SAMPLES = 60;

/**
 * [SYN1] θ = ½[(T2 − T1) + (T3 − T4)] and δ = (T4 − T1) − (T3 − T2), δ not below the clocks' precision
 * (RFC 5905 §8: a fast clock on one side can make it negative).
 */
export function sampleOf({ askedAt, receivedAt, answeredAt, heardAt }: Exchange): Sample {
  return {
    offsetMs: (receivedAt - askedAt + (answeredAt - heardAt)) / 2,
    delayMs: Math.max(PRECISION_MS, heardAt - askedAt - (answeredAt - receivedAt)),
    askedAt,
  };
}

/** The samples with one more, the newest last; the oldest goes when there are too many. */
export const withSample = (samples: readonly Sample[], sample: Sample): readonly Sample[] =>
  [...samples, sample].slice(-MOST_SAMPLES);

/**
 * [SYN2] The sample with the smallest δ + age · 50 ppm. Which one that is does not depend on the time: all age alike.
 * @returns null when there is no sample
 */
export function bestOf(samples: readonly Sample[]): Sample | null {
  let best: Sample | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const sample of samples) {
    const cost = sample.delayMs - sample.askedAt * DRIFT;
    if (cost < least) {
      best = sample;
      least = cost;
    }
  }
  return best;
}

/**
 * By how much two samples contradict each other, ms: each holds the true offset within δ/2 of its θ when its question
 * left, and from one to the other the clocks drift by at most 50 ppm. More than nothing means that a clock was set.
 */
export function contradictionOf(one: Sample, other: Sample): number {
  const explained = (one.delayMs + other.delayMs) / 2 + Math.abs(one.askedAt - other.askedAt) * DRIFT;
  return Math.max(0, Math.abs(one.offsetMs - other.offsetMs) - explained);
}
