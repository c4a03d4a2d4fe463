import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { runServer, withDemo } from '../fixtures/running-server.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';

const browser = useChromium();

async function openDesk(colorScheme: 'light' | 'dark' = 'light'): Promise<Page> {
  const server = await runServer({ pages: async () => PAGES_FOLDER });
  await withDemo(server);
  const context = await browser().newContext({ viewport: { width: 1280, height: 800 }, colorScheme });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.goto(`${server.url}/desk`);
  await page.waitForSelector('[data-practice][aria-current="true"]');
  await page.click('[data-action="new-practice"]');
  await page.click('.cm-content');
  return page;
}

const offers = (page: Page): Promise<string[]> => page.locator('.cm-tooltip-autocomplete li').allTextContents();
const text = (page: Page): Promise<string> =>
  page.locator('.cm-line').evaluateAll((lines) => lines.map(({ textContent }) => textContent).join('\n'));

test('a slip is mended by the button at its message, in a step that can be undone', async () => {
  const page = await openDesk();
  await page.keyboard.insertText('# Monday\n\nMain\n4 x 50 fre @ 1;00\n');
  await page.getByRole('button', { name: 'Write “free”' }).click();
  await expect.poll(() => text(page)).toContain('4 x 50 free @ 1;00');
  expect(await seriousFaults(page)).toEqual([]);
  await page.getByRole('button', { name: 'Write “1:00”' }).click();
  await expect.poll(() => text(page)).toContain('4 x 50 free @ 1:00');
  await page.waitForSelector('[data-action="put-on-wall"]:not([disabled])');
  expect(await page.locator('[data-cure="replace"]').count()).toBe(0);
  await page.click('.cm-content');
  await page.keyboard.press('Control+Z');
  await expect.poll(() => text(page)).toContain('4 x 50 free @ 1;00');
}, 60_000);

test('words and send-offs are offered while a practice is typed, and taken with Tab', async () => {
  const page = await openDesk('dark');
  const complaints = complaintsOf(page);
  await page.keyboard.type('# Monday\n\nMain: ra');
  await expect.poll(() => offers(page)).toContain('race pace');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await page.keyboard.type('4 x 50 fr');
  await expect.poll(() => offers(page)).toContain('free');
  await page.keyboard.press('Tab');
  await page.keyboard.type(' at 200 pace');
  await page.keyboard.press('Escape');
  await page.keyboard.type(' @ ');
  await page.waitForSelector('.cm-tooltip-autocomplete li:has-text("of rest")');
  expect((await offers(page))[0]).toMatch(/^[\d:/]+at least 5 s of rest$/);
  expect(await seriousFaults(page)).toEqual([]);
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('Enter');
  expect(await text(page)).toMatch(/^# Monday\n\nMain: race pace\n4 x 50 free at 200 pace @ [\d:/]+$/);
  // Nothing is offered here: Enter goes on to the next line.
  await page.keyboard.press('Enter');
  await page.keyboard.type('100 easy');
  await page.keyboard.press('Enter');
  expect(await text(page)).toMatch(/\n100 easy\n$/);
  expect(complaints).toEqual([]);
}, 60_000);
