import type { Page } from 'playwright-core';
import { z } from 'zod';

/** Notes down, in the page, each change of a lane's countdown and each frame that the browser could have shown it in. */

const changeSchema = z.object({
  lane: z.number(),
  /** Seconds that are shown from now on; null: none. */
  seconds: z.number().nullable(),
  /** The send-off it counts down to as the mirror has it, and the pool instant that is shown; ms. */
  nextAt: z.number(),
  poolAt: z.number(),
  /** The frame's time and when its script was done, ms on the page's clock. */
  drawnAt: z.number(),
  doneAt: z.number(),
  /** Bound of the clock's error, ms; null while nothing is known of the clock. */
  syncMs: z.number().nullable(),
  link: z.string(),
});
export type CountdownChange = z.infer<typeof changeSchema>;

const watchedSchema = z.object({
  changes: z.array(changeSchema),
  /** All frames, in order. */
  frames: z.array(
    z.object({
      /** Its time, ms on the page's clock. */
      at: z.number(),
      /** Whatever was to be called at this moment or before it had been when the frame's script began; likewise. */
      calledUntil: z.number(),
    }),
  ),
});
export type Watched = z.infer<typeof watchedSchema>;

/** As often as browsers call timers at most (HTML, timers: nested ones). */
const CALL_EVERY_MS = 4;

/** Runs in the page, so it may use nothing from outside. */
function install(everyMs: number | null): void {
  const watched: Watched = { changes: [], frames: [] };
  const shown = new Map<number, number | null>();
  const secondsIn = (words: string): number | null => {
    const [, minutes = '0', seconds] = /next in (?:(\d+):)?(\d+)/.exec(words) ?? [];
    return seconds === undefined ? null : Number(minutes) * 60 + Number(seconds);
  };
  const look = (): void => {
    const board = document.querySelector<HTMLElement>('[data-board]');
    if (!board) return;
    const { poolAt, drawnAt, syncMs, link = '' } = board.dataset;
    for (const { dataset, textContent } of board.querySelectorAll<HTMLElement>('[data-lane]')) {
      const [lane, seconds] = [Number(dataset.lane), secondsIn(textContent ?? '')];
      if (seconds === shown.get(lane)) continue;
      shown.set(lane, seconds);
      watched.changes.push({
        ...{ lane, seconds, link },
        nextAt: Number(dataset.nextAt),
        poolAt: Number(poolAt),
        drawnAt: Number(drawnAt),
        doneAt: performance.now(),
        syncMs: syncMs ? Number(syncMs) : null,
      });
    }
  };
  // On a busy machine timers come late, and with them whoever sleeps until a change is due.
  let calledUntil = 0;
  const callAgain = (afterMs: number): void => {
    const dueAt = performance.now() + afterMs;
    setTimeout(() => {
      calledUntil = dueAt;
      callAgain(afterMs);
    }, afterMs);
  };
  const note = (at: number): void => {
    watched.frames.push({ at, calledUntil });
    requestAnimationFrame(note);
  };
  look();
  watched.changes.length = 0;
  // Called when the frame's script is done, before the frame is shown.
  new MutationObserver(look).observe(document.body, { subtree: true, childList: true, attributes: true });
  if (everyMs !== null) {
    callAgain(everyMs);
    requestAnimationFrame(note);
  }
  Object.assign(window, { farwallCountdowns: watched });
}

/** @param withFrames false: the page draws no more frames than it does by itself, and none are noted */
export const watchCountdowns = (page: Page, { withFrames = true } = {}): Promise<void> =>
  page.evaluate(install, withFrames ? CALL_EVERY_MS : null);

/** What has been seen since. */
export const countdownsSeen = async (page: Page): Promise<Watched> =>
  watchedSchema.parse(await page.evaluate('farwallCountdowns'));

/** A lane changes once a second: so much longer than that must take, ms, and they will never come. */
const LATE_MS = 30_000;

/** Waits until so many changes have been seen in all. @param lanes which change once a second each */
export async function countdownsReach(page: Page, changes: number, lanes = 1): Promise<void> {
  await page.waitForFunction(
    (most) => {
      const watched: unknown = Reflect.get(window, 'farwallCountdowns');
      if (typeof watched !== 'object' || watched === null || !('changes' in watched)) return false;
      return Array.isArray(watched.changes) && watched.changes.length >= most;
    },
    changes,
    { polling: 100, timeout: (changes / lanes) * 1000 + LATE_MS },
  );
}
