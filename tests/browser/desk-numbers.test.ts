import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { runServer, withDemo } from '../fixtures/running-server.ts';
import { Season } from '../fixtures/swum-season.ts';
import { complaintsOf, useChromium } from './chrome.ts';

const browser = useChromium();

const PRACTICE = `# Wednesday

Main: race pace
4 x 50 free @ 1:10 at 200 pace

Average: best average
6 x 100 free @ 2:20 max
`;

/** Words of the page with a decimal point in them (three figures after it are thousands), but for the shorthand and what people have written. */
const pointsOn = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const found: string[] = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const asWritten = node.parentElement?.closest(
        '[translate="no"], code, pre, textarea, style, script, [data-editor]',
      );
      if (!asWritten && /\d\.\d{1,2}(?!\d)/.test(node.textContent ?? '')) found.push(node.textContent ?? '');
    }
    return found;
  });

test('numbers are written as the browser’s language does, on every page of the desk', async () => {
  const machine = new HandMachineClock({ wallMs: Date.UTC(2027, 0, 6, 18) });
  const server = await runServer({ machine, pages: async () => PAGES_FOLDER });
  await withDemo(server);
  const { farwall } = server;
  const season = new Season(farwall, { now: farwall.clock.now, pass: (byMs) => machine.pass(byMs) });
  for (const week of [1, 2])
    season.swim(PRACTICE, { timeOf: ({ step, rep }) => (step.distance ?? 50) * 0.64 + rep / 4 + week });
  const context = await browser().newContext({ viewport: { width: 1280, height: 800 }, locale: 'de-DE' });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  const complaints = complaintsOf(page);

  await page.goto(`${server.url}/desk`);
  await page.waitForSelector('[data-sheet-lane="6"]');
  await page
    .getByText(/\d\.\d{3} m/)
    .first()
    .waitFor();
  expect(await pointsOn(page)).toEqual([]);

  await page.click('[data-area="squad"]');
  await page.getByText('200 free 1:57,96 SCM').waitFor();
  expect(await pointsOn(page)).toEqual([]);
  await page.locator('[data-lane-drop="1"] tbody th a').first().click();
  await page.locator('[data-time="200 free SCM, best"]').getByText('1:57,96').waitFor();
  await page.waitForSelector('[data-swum]');
  expect(await pointsOn(page)).toEqual([]);
  await page.fill('.time-entry [name="event"]', '100 back');
  await page.fill('.time-entry [name="time"]', '1:04,35');
  await page.click('[data-action="save-time"]');
  await page.locator('[data-time="100 back SCM, best"]').getByText('1:04,35').waitFor();

  await page.click('[data-area="results"]');
  await page.locator('[data-set="0"] tbody tr').first().waitFor();
  expect(await pointsOn(page)).toEqual([]);
  await page.click('[data-page="weeks"]');
  await page.waitForSelector('[data-left-out]');
  expect(await pointsOn(page)).toEqual([]);
  await page.click('[data-area="plan"]');
  await page.waitForSelector('[data-day]');
  expect(await pointsOn(page)).toEqual([]);
  expect(complaints).toEqual([]);
}, 60_000);
