import type { ElementHandle, Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { RunningClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServerOn, withRun } from '../fixtures/running-server.ts';
import { complaintsOf, useChromium } from './chrome.ts';
import { loseContext } from './lost-context.ts';
import { differenceBetween } from './pictures.ts';

/** Walls in a real Chromium whose WebGL context is taken away; what they show is held against a wall left alone. */

const browser = useChromium();

/** Share of pixels in which the same picture may differ when it is drawn in the other way. */
const SAME_BUT_EDGES = 0.004;
const VIEWPORT = { width: 960, height: 540 };

/** 18:59:20 UTC. */
const serve = (): Promise<RunningServer> =>
  runServerOn(new RunningClock(Date.UTC(2027, 0, 15, 18, 59, 20)), { pages: async () => PAGES_FOLDER });

async function openWall({ url }: RunningServer, renderer: 'webgl' | 'canvas'): Promise<Page> {
  const context = await browser().newContext({ viewport: VIEWPORT });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.goto(`${url}/wall?renderer=${renderer}&diagonal=65`);
  await page.waitForSelector(`[data-board][data-renderer="${renderer}"]`, { state: 'attached' });
  return page;
}

async function canvasOf(page: Page): Promise<ElementHandle<HTMLCanvasElement>> {
  const canvas = await page.$('canvas');
  if (!canvas) throw new Error('nothing is drawn on');
  return canvas;
}

/** The second of the pool's clock that a wall shows. */
const secondOf = (page: Page): Promise<number> =>
  page.evaluate(() => Math.floor(Number(document.querySelector<HTMLElement>('[data-board]')?.dataset.poolAt) / 1000));

/** Pictures of two walls that show the same second: everything else on them stands still. */
async function picturesInOneSecond(one: Page, other: Page): Promise<[Buffer, Buffer]> {
  for (;;) {
    const before = [await secondOf(one), await secondOf(other)];
    const pictures: [Buffer, Buffer] = [await one.screenshot(), await other.screenshot()];
    const seconds = new Set([...before, await secondOf(one), await secondOf(other)]);
    if (seconds.size === 1) return pictures;
  }
}

const differenceOf = async (one: Page, other: Page): Promise<number> =>
  differenceBetween(...(await picturesInOneSecond(one, other)));

/** Its words stand on the whole screen, and nothing else does. */
async function showsWords(page: Page): Promise<boolean> {
  const words = await page.locator('[data-board]').boundingBox();
  return (words?.height ?? 0) > VIEWPORT.height / 2 && !(await page.locator('canvas').isVisible());
}

const showsPicture = (page: Page): Promise<boolean> => page.locator('canvas').isVisible();

/** Waits until the page has been loaded anew and draws on a canvas. */
const isOnCanvas = (page: Page): Promise<unknown> =>
  page.waitForSelector('[data-board][data-renderer="canvas"][data-phase="ready"]', { state: 'attached' });

test('a wall that loses its context shows its words, draws the same picture when it comes back, and after a second loss draws it on a canvas', async () => {
  const server = await serve();
  await withRun(server);
  const [wall, other] = [await openWall(server, 'webgl'), await openWall(server, 'webgl')];
  const complaints = [wall, other].map(complaintsOf);
  expect(await differenceOf(wall, other)).toBe(0);

  const canvas = await canvasOf(wall);
  const restoreContext = await loseContext(canvas);
  expect(await showsWords(wall)).toBe(true);
  await restoreContext();
  expect(await showsPicture(wall)).toBe(true);
  expect(await differenceOf(wall, other)).toBe(0);

  await loseContext(canvas);
  await isOnCanvas(wall);
  expect(await showsPicture(wall)).toBe(true);
  expect(await differenceOf(wall, other)).toBeLessThan(SAME_BUT_EDGES);
  expect(complaints).toEqual([[], []]);
});

test('a wall that can be drawn in no way shows its words', async () => {
  const server = await serve();
  await withRun(server);
  const context = await browser().newContext({ viewport: VIEWPORT });
  onTestFinished(() => context.close());
  const wall = await context.newPage();
  await wall.addInitScript(() => {
    HTMLCanvasElement.prototype.getContext = () => null;
  });
  await wall.goto(`${server.url}/wall`);
  await wall.waitForSelector('[data-board][data-renderer="plain"][data-phase="ready"]');
  expect(await showsWords(wall)).toBe(true);
  expect(await wall.locator('[data-lane="1"] b').first().textContent()).toBe('1');
});

test('a wall whose context does not come back goes on in words, and then draws on a canvas', async () => {
  const server = await serve();
  await withRun(server);
  const [wall, other] = [await openWall(server, 'webgl'), await openWall(server, 'canvas')];
  const complaints = complaintsOf(wall);
  await loseContext(await canvasOf(wall));
  const lostAt = await secondOf(wall);
  await expect.poll(() => secondOf(wall), { timeout: 4000 }).toBeGreaterThan(lostAt);
  expect(await showsWords(wall)).toBe(true);
  await isOnCanvas(wall);
  expect(await differenceOf(wall, other)).toBe(0);
  expect(complaints).toEqual([]);
});
