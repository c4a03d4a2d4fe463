/**
 * [SYN1] [SYN2] What a page knows of the pool's clock, worked out from exchanges with the server. Page times are
 * milliseconds on the page's own monotonic clock (`performance.now()`), pool times are instants.
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
  /** When the answer came, page clock. */
  readonly heardAt: number;
}

/** The page's best knowledge at a moment. */
export interface Estimate {
  readonly offsetMs: number;
  /** The offset is wrong by no more than this. */
  readonly boundMs: number;
}

/** Browsers round `performance.now()`, the coarsest of them to a millisecond. */
const PRECISION_MS = 1;

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
    heardAt,
  };
}

/** The samples with one more, the newest last; the oldest goes when there are too many. */
export const withSample = (samples: readonly Sample[], sample: Sample): readonly Sample[] =>
  [...samples, sample].slice(-MOST_SAMPLES);

/** How far the clocks may have drifted apart since the sample, ms. */
const driftSince = (sample: Sample, pageMs: number): number => Math.max(0, pageMs - sample.heardAt) * DRIFT;

/**
 * [SYN2] The offset of the sample with the smallest δ + age · 50 ppm; its bound is δ/2 + age · 50 ppm, since the
 * true offset is within δ/2 of θ however unequal the two ways were.
 * @returns null when there is no sample
 */
export function estimateAt(samples: readonly Sample[], pageMs: number): Estimate | null {
  const first = samples[0];
  if (!first) return null;
  const cost = (sample: Sample): number => sample.delayMs + driftSince(sample, pageMs);
  const best = samples.reduce((chosen, sample) => (cost(sample) < cost(chosen) ? sample : chosen), first);
  return { offsetMs: best.offsetMs, boundMs: best.delayMs / 2 + driftSince(best, pageMs) };
}
