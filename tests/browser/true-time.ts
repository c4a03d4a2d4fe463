import type { Page } from 'playwright-core';

/**
 * What a page's clock really is, found out without its help. The pool's clock counts the machine's monotonic clock from
 * an anchor in the database, so its true reading at any moment of that clock is known here. A page's `performance.now()`
 * counts the same monotonic time from an origin of its own, which is found by asking the page for it: it was read after
 * the question left and before the answer came, and of many such ranges only what they have in common is possible.
 */

/** The machine's monotonic clock, ms; the same in every process. */
export const machineMs = (): number => Number(process.hrtime.bigint()) / 1e6;

/** The true reading of the pool's clock. */
export interface TruePoolClock {
  /** @param machineMs a moment on the machine's monotonic clock */
  at(machineMs: number): number;
}

/** Machine time minus a page's time, ms, right within `doubtMs`. */
export interface Origin {
  readonly ms: number;
  readonly doubtMs: number;
}

/** Chromium gives `performance.now()` in steps of 0.1 ms to pages that are not cross-origin isolated. */
const PAGE_STEP_MS = 0.1;
const GOOD_ENOUGH_MS = 0.4;
const MOST_QUESTIONS = 150;

/** Where a page's clock starts on the machine's. */
export async function originOf(page: Page): Promise<Origin> {
  let least = Number.NEGATIVE_INFINITY;
  let most = Number.POSITIVE_INFINITY;
  for (let asked = 0; asked < MOST_QUESTIONS && most - least > 2 * GOOD_ENOUGH_MS; asked += 1) {
    const before = machineMs();
    const pageMs = await page.evaluate(() => performance.now());
    least = Math.max(least, before - pageMs - PAGE_STEP_MS);
    most = Math.min(most, machineMs() - pageMs + PAGE_STEP_MS);
  }
  return { ms: (least + most) / 2, doubtMs: (most - least) / 2 };
}
