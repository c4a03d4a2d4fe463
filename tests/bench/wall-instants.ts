import type { Browser } from 'playwright-core';
import { type CountdownChange, countdownsReach, countdownsSeen, watchCountdowns } from '../browser/countdown-watch.ts';
import { type Size, withPage } from './bench-browser.ts';
import { type Entry, figure, quantile } from './measure.ts';
import type { WallPool } from './wall-pool.ts';

/**
 * How long after its instant, by the clock that a wall shows, each second of a countdown has been drawn. On a canvas:
 * WebGL is drawn by the processor here.
 */

/** What was promised of the p95, ms. */
const TARGET_MS = 50;
const SIZE: Size = { width: 1920, height: 1080 };
/** The lanes of the practice, which all change at once. */
const LANES = 10;

/** Until the script of the frame that shows it was done, ms. */
const latenessOf = ({ nextAt, seconds, poolAt, drawnAt, doneAt }: CountdownChange): number =>
  poolAt - (nextAt - (seconds ?? Number.NaN) * 1000) + (doneAt - drawnAt);

/** @param quick three seconds of it: proves that it runs, measures nothing */
export async function measureInstants(browser: Browser, pool: WallPool, quick: boolean): Promise<Entry[]> {
  const seconds = quick ? 3 : 60;
  const entries: Entry[] = [];
  await pool.startAnew();
  await withPage(browser, SIZE, async ({ page }) => {
    await page.goto(`${pool.url}/wall?renderer=canvas`);
    await page.waitForSelector('[data-board][data-renderer="canvas"][data-phase="running"]', { state: 'attached' });
    for (const moving of ['only countdowns', 'markers too']) {
      if (moving === 'markers too') {
        await pool.press('next');
        await page.waitForSelector('[data-board] [data-lane="1"][data-phase="swimming"]', { state: 'attached' });
      }
      await watchCountdowns(page, { withFrames: false });
      await countdownsReach(page, seconds * LANES, LANES);
      const lates = (await countdownsSeen(page)).changes.map(latenessOf).toSorted((one, other) => one - other);
      const name = `${SIZE.width}×${SIZE.height} · canvas · ${moving} · countdown after its instant`;
      entries.push(figure(`${name}: p50`, quantile(lates, 0.5), 'ms'));
      entries.push(figure(`${name}: p95`, quantile(lates, 0.95), 'ms', TARGET_MS));
    }
  });
  return entries;
}
