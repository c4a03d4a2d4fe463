import {
  bestOf,
  contradictionOf,
  DRIFT,
  type Exchange,
  PRECISION_MS,
  type Sample,
  sampleOf,
  withSample,
} from './sync.ts';
import { driftOf, withMark } from './sync-drift.ts';

/** [SYN2] What a page knows of the pool's clock, as a pure function of its exchanges. */
export interface Knowledge {
  /** The last samples, the newest last. */
  readonly samples: readonly Sample[];
  /** Some of longer ago, to see the drift by. */
  readonly marks: readonly Sample[];
}

/** The page's best knowledge at a moment. */
export interface Estimate {
  readonly offsetMs: number;
  /** The offset is wrong by no more than this. */
  readonly boundMs: number;
  /** How old the sample is that it rests on. */
  readonly ageMs: number;
  /** What it reckons with since that sample, ms per ms. */
  readonly drift: number;
}

export const NOTHING_KNOWN: Knowledge = { samples: [], marks: [] };

/** Knowledge with one exchange more. */
export interface Learnt {
  readonly knowledge: Knowledge;
  /** By how much the exchange contradicted what was known, ms; 0 when it fits. */
  readonly contradictedMs: number;
}

/**
 * Takes in one exchange. A contradiction says that a clock was set in between: whatever was asked earlier is not
 * believed any more, be it what was known or an answer that comes late.
 */
export function learn({ samples, marks }: Knowledge, exchange: Exchange): Learnt {
  const sample = sampleOf(exchange);
  let contradictedMs = 0;
  // Rounding, and drift while an answer was on its way, stay within the precision.
  const fits = (known: Sample): boolean => {
    const apartMs = contradictionOf(known, sample);
    if (apartMs <= PRECISION_MS) return true;
    contradictedMs = Math.max(contradictedMs, apartMs);
    return false;
  };
  const fitting = { samples: samples.filter(fits), marks: marks.filter(fits) };
  if (contradictedMs > 0 && samples.some(({ askedAt }) => askedAt > sample.askedAt)) {
    return { knowledge: { samples, marks }, contradictedMs: 0 };
  }
  const knowledge = { samples: withSample(fitting.samples, sample), marks: withMark(fitting.marks, sample) };
  return { knowledge, contradictedMs };
}

/**
 * [SYN2] The best sample's offset, carried on with the drift. Its bound is δ/2 + age · (50 ppm + |drift|): the true
 * offset was within δ/2 of θ however unequal the two ways were, has moved by at most 50 ppm since, and the estimate
 * itself by the drift. So it holds for any clock that never drifts by more than 50 ppm, steadily or not.
 * @returns null when nothing is known
 */
export function estimateAt({ samples, marks }: Knowledge, pageMs: number): Estimate | null {
  const best = bestOf(samples);
  if (!best) return null;
  const drift = driftOf(marks, best);
  const ageMs = Math.max(0, pageMs - best.askedAt);
  return {
    offsetMs: best.offsetMs + drift * (pageMs - best.askedAt),
    boundMs: best.delayMs / 2 + ageMs * (DRIFT + Math.abs(drift)),
    ageMs,
    drift,
  };
}
