import { DRIFT, type Sample } from './sync.ts';

/** [SYN2] How fast the pool's clock and the page's come apart, seen over minutes. */

const MINUTE_MS = 60_000;

/** Half an hour: longer ago the device may have been warmer or colder. */
const MOST_MARKS = 30;

const minuteOf = (sample: Sample): number => Math.floor(sample.askedAt / MINUTE_MS);

/** The quickest sample of each minute, the newest minute last, with one sample more. */
export function withMark(marks: readonly Sample[], sample: Sample): readonly Sample[] {
  const last = marks[marks.length - 1];
  if (!last || minuteOf(sample) > minuteOf(last)) return [...marks, sample].slice(-MOST_MARKS);
  return sample.delayMs < last.delayMs ? [...marks.slice(0, -1), sample] : marks;
}

/**
 * The drift from one of the marks to a sample, by the mark that leaves the least doubt: it is known to ± half of both
 * delays over the time between. Of what is possible the smallest is taken: a drift that stays the same is then never
 * made worse by reckoning with it.
 * @returns milliseconds per millisecond, > 0 when the pool's clock is the faster; within ± 50 ppm, 0 until known better
 */
export function driftOf(marks: readonly Sample[], sample: Sample): number {
  let least = Number.POSITIVE_INFINITY;
  let measured = 0;
  for (const mark of marks) {
    const apartMs = sample.askedAt - mark.askedAt;
    const doubt = (sample.delayMs + mark.delayMs) / 2 / apartMs;
    if (apartMs <= 0 || doubt >= least) continue;
    least = doubt;
    measured = (sample.offsetMs - mark.offsetMs) / apartMs;
  }
  if (Math.abs(measured) <= least) return 0;
  return Math.sign(measured) * Math.min(DRIFT, Math.abs(measured) - least);
}
