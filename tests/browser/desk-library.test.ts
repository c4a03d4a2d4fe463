import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { type RunningServer, runServer, withDemo } from '../fixtures/running-server.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';

const browser = useChromium();

async function pool(): Promise<RunningServer> {
  const server = await runServer({ pages: async () => PAGES_FOLDER });
  await withDemo(server);
  return server;
}

async function openDesk(url: string, colorScheme: 'light' | 'dark' = 'light'): Promise<Page> {
  const context = await browser().newContext({ viewport: { width: 1280, height: 800 }, colorScheme });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.goto(`${url}/desk`);
  await page.waitForSelector('[data-practice][aria-current="true"]');
  return page;
}

const titles = (page: Page): Promise<string[]> => page.locator('.library li .name').allTextContents();
const heading = (page: Page): Promise<string | null> => page.locator('.practice-name h2').textContent();

async function more(page: Page, action: string): Promise<void> {
  await page.click('.more-actions summary');
  await page.click(`[data-action="${action}"]`);
}

test('practices are found by words, style and distance', async () => {
  const page = await openDesk((await pool()).url);
  const complaints = complaintsOf(page);
  expect(await titles(page)).toHaveLength(5);
  await page.fill('[data-find="text"]', 'parachute');
  await page.waitForSelector('[data-found="1"]');
  expect(await titles(page)).toEqual(['Friday: power and speed']);
  await page.click('[data-action="clear-search"]');
  await expect.poll(() => titles(page)).toHaveLength(5);
  await page.click('.library-search summary');
  await page.selectOption('[data-find="style"]', 'stand-up');
  await page.waitForSelector('[data-found="1"]');
  expect(await titles(page)).toEqual(['Thursday: stand-up from the blocks']);
  await page.fill('[data-find="least"]', '9,000');
  await page.waitForSelector('[data-found="0"]');
  expect(await page.locator('[data-found]').textContent()).toBe('None has all of that.');
  expect(await seriousFaults(page)).toEqual([]);
  expect(complaints).toEqual([]);
}, 60_000);

test('a practice is copied, saved as a file, deleted and brought back, and the other desk sees it', async () => {
  const server = await pool();
  const [page, other] = [await openDesk(server.url), await openDesk(server.url, 'dark')];
  const title = await heading(page);
  await more(page, 'copy');
  await expect.poll(() => heading(page)).toBe(`Copy of ${title}`);
  await page.click('[data-action="save"]');
  await expect.poll(() => titles(other)).toContain(`Copy of ${title}`);

  await page.click('.more-actions summary');
  const [download] = await Promise.all([page.waitForEvent('download'), page.click('[data-action="save-as-file"]')]);
  expect(download.suggestedFilename()).toMatch(/^Copy of .*\.txt$/);
  const stored = server.farwall.store.practices.list().find((one) => one.title === `Copy of ${title}`);
  const text = stored && server.farwall.store.practices.practice(stored.id)?.text;
  expect(readFileSync(await download.path(), 'utf8')).toBe(text);

  await more(page, 'delete');
  await expect.poll(() => titles(page)).not.toContain(`Copy of ${title}`);
  await expect.poll(() => titles(other)).not.toContain(`Copy of ${title}`);
  expect(await seriousFaults(page)).toEqual([]);
  await page.click('[data-action="undo-delete"]');
  await expect.poll(() => heading(page)).toBe(`Copy of ${title}`);
  await expect.poll(() => titles(other)).toContain(`Copy of ${title}`);
}, 60_000);

test('an older version is compared with the text and put back into the editor, where that can be undone', async () => {
  const server = await pool();
  const page = await openDesk(server.url);
  await page.click('.cm-content');
  await page.keyboard.press('Control+End');
  await page.keyboard.type('\n4 x 50 back @ 1:10\n');
  await page.click('[data-action="save"]');
  await page.waitForSelector('[data-saved="true"]');
  await more(page, 'versions');
  await page.waitForSelector('[data-compared="1"]');
  expect(await page.locator('[data-in="new"] mark').allTextContents()).toContain('4 x 50 back @ 1:10');
  expect(await page.locator('[data-in="old"] mark').allTextContents()).toEqual([]);
  expect(await seriousFaults(page)).toEqual([]);
  await page.click('[data-answer="yes"]');
  await expect.poll(() => page.locator('.cm-content').textContent()).not.toContain('4 x 50 back');
  await page.click('.cm-content');
  await page.keyboard.press('Control+Z');
  await expect.poll(() => page.locator('.cm-content').textContent()).toContain('4 x 50 back @ 1:10');
}, 60_000);

test('many files become practices, with progress, and can be stopped', async () => {
  const server = await runServer({ pages: async () => PAGES_FOLDER });
  await withDemo(server);
  const context = await browser().newContext({ viewport: { width: 1280, height: 800 } });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  const complaints = complaintsOf(page);
  let saved = 0;
  const third = Promise.withResolvers<void>();
  await page.route('**/api/practices/*', async (route) => {
    if (route.request().method() !== 'PUT') return route.continue();
    saved += 1;
    if (saved === 3) await third.promise;
    return route.continue();
  });
  await page.goto(`${server.url}/desk`);
  await page.waitForSelector('[data-action="put-on-wall"]:enabled');
  const files = Array.from({ length: 5 }, (_, place) => ({
    name: `${place}.txt`,
    mimeType: 'text/plain',
    buffer: Buffer.from(`# From file ${place}\n\n400 free easy\n`),
  }));
  await page.setInputFiles('input[type="file"][multiple]', files);
  await page.getByText('2 of 5 files').waitFor();
  expect(await seriousFaults(page)).toEqual([]);
  await page.click('[data-action="stop-files"]');
  third.resolve();
  await page.getByText('3 practices saved from 5 files. Stopped: 2 files are not read.').waitFor();
  await expect.poll(() => page.locator('[data-practice]').count()).toBe(8);
  expect(complaints).toEqual([]);
});
