import type { BrowserContext, Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { RunningClock } from '../fixtures/machine-clock.ts';
import { runServerOn, withRun } from '../fixtures/running-server.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';

/** Two televisions and the desk that sets them up, on plain http. */

const browser = useChromium();

const serve = () =>
  runServerOn(new RunningClock(Date.UTC(2027, 0, 15, 18, 59, 20)), {
    allowedHosts: ['pool.test'],
    pages: async () => PAGES_FOLDER,
  });

async function newBrowser(width: number, height: number): Promise<BrowserContext> {
  const context = await browser().newContext({ viewport: { width, height } });
  onTestFinished(() => context.close());
  return context;
}

async function open(context: BrowserContext, url: string): Promise<Page> {
  const page = await context.newPage();
  await page.goto(url.replace('127.0.0.1', 'pool.test'));
  return page;
}

/** Waits until a wall says this of itself. */
const shows = (wall: Page, what: string): Promise<unknown> =>
  wall.waitForSelector(`[data-board]${what}`, { state: 'attached', timeout: 20_000 });

/** The lanes that a wall shows, from top to bottom. */
const lanesOn = (wall: Page): Promise<string[]> =>
  wall.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('[data-board] [data-lane]')].map(({ dataset }) => dataset.lane ?? ''),
  );

test('two walls: one is set up from the desk by its number, says which one it is, and stays so over a reload and a restart', async () => {
  const server = await serve();
  const device = await newBrowser(960, 540);
  const other = await open(await newBrowser(640, 360), `${server.url}/wall`);
  await shows(other, '[data-wall="1"]');
  const wall = await open(device, `${server.url}/wall?diagonal=40`);
  await shows(wall, '[data-wall="2"]');
  await withRun(server);
  const desk = await open(await newBrowser(1366, 900), `${server.url}/desk#today`);
  const complaints = [other, wall, desk].map(complaintsOf);
  await expect.poll(() => lanesOn(wall)).toEqual(['1', '2', '3', '4', '5', '6']);

  await desk.click('[data-wall="2"] [data-action="set-wall"]');
  await desk.fill('[name="name"]', 'Far end');
  await desk.fill('[name="lanes"]', '4-9, 13');
  await desk.click('[data-action="save-wall"]');
  await desk.getByText('Lanes shown: “4-9, 13” cannot be used.', { exact: false }).waitFor();
  await desk.fill('[name="lanes"]', '4-6');
  await desk.selectOption('[name="order"]', 'last-on-top');
  await desk.fill('[name="distance"]', '60');
  expect(await seriousFaults(desk)).toEqual([]);
  await desk.click('[data-action="save-wall"]');
  await desk.waitForSelector('dialog', { state: 'detached' });

  await shows(wall, '[data-name="Far end"]');
  await expect.poll(() => lanesOn(wall)).toEqual(['6', '5', '4']);
  expect(await lanesOn(other)).toEqual(['1', '2', '3', '4', '5', '6']);
  const row = desk.locator('[data-wall="2"]');
  await row.getByText('far wall, lanes 4–6, lane 1 at the bottom').waitFor();
  // From 60 m, on 40 inches, nothing can be read.
  await row.locator('[data-readable]').getByText('a second screen or a bigger one', { exact: false }).waitFor();
  expect(await seriousFaults(desk)).toEqual([]);

  await desk.click('[data-wall="2"] [data-action="identify"]');
  await shows(wall, '[data-identifies="true"]');
  await wall.locator('.mirror .name').getByText('This is wall 2 · Far end.').waitFor({ state: 'attached' });
  await shows(other, '[data-identifies="false"]');
  await shows(wall, '[data-identifies="false"]');

  await wall.reload();
  await shows(wall, '[data-wall="2"][data-name="Far end"]');
  await expect.poll(() => lanesOn(wall)).toEqual(['6', '5', '4']);
  await wall.close();
  await desk.waitForSelector('[data-wall="2"][data-connected="false"]');
  const again = await open(device, `${server.url}/wall`);
  await shows(again, '[data-wall="2"][data-name="Far end"]');
  expect(complaints).toEqual([[], [], []]);
}, 120_000);
