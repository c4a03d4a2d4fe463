import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServer, withDemo } from '../fixtures/running-server.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';

/** Wednesday 6 January 2027, 18:00 in Lisbon, where it is winter. */
const WEDNESDAY = Date.UTC(2027, 0, 6, 18);

const browser = useChromium();

async function openPlan(url: string, colorScheme: 'light' | 'dark' = 'light'): Promise<Page> {
  const context = await browser().newContext({ viewport: { width: 1280, height: 800 }, colorScheme });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.goto(`${url}/desk#plan`);
  await page.waitForSelector('[data-plan="2027-01-04"]');
  return page;
}

async function pool(): Promise<RunningServer> {
  const machine = new HandMachineClock({ wallMs: WEDNESDAY });
  const server = await runServer({ machine, pages: async () => PAGES_FOLDER });
  await withDemo(server);
  return server;
}

const on = (day: string): string => `[data-day="2027-01-${day}"]`;
const titles = (page: Page, day: string): Promise<string[]> =>
  page.locator(`${on(day)} .planned-title`).allTextContents();

async function add(page: Page, day: string, title: string): Promise<void> {
  await page.selectOption(`[data-add="2027-01-${day}"]`, { label: title });
  await expect.poll(() => titles(page, day)).toContain(title);
}

test('practices are laid on the days of a week, moved, taken off and copied, and the week says what it leaves out', async () => {
  const server = await pool();
  const page = await openPlan(server.url);
  const complaints = complaintsOf(page);
  expect(await page.locator('[data-not-planned]').textContent()).toBe('Nothing is planned yet.');
  expect(await page.locator(on('06')).getAttribute('aria-current')).toBe('date');

  await add(page, '04', 'Monday: race pace, broken fours');
  await add(page, '05', 'Thursday: stand-up from the blocks');
  await page
    .locator(`${on('05')} select`)
    .first()
    .selectOption({ label: 'Thursday' });
  await expect.poll(() => titles(page, '07')).toEqual(['Thursday: stand-up from the blocks']);
  expect(await titles(page, '05')).toEqual([]);
  await expect
    .poll(() => page.locator('[data-not-planned]').textContent())
    .toBe('Not planned: active rest, best average, power, threshold, skills.');

  await page.click('[data-action="copy-week"]');
  await page.waitForSelector('[data-plan="2027-01-11"]');
  await expect.poll(() => page.locator('[role="status"]').allTextContents()).toContain('2 days were filled.');
  expect(await titles(page, '14')).toEqual(['Thursday: stand-up from the blocks']);
  await page.getByRole('button', { name: 'Take off Thursday: Thursday: stand-up from the blocks' }).click();
  await expect.poll(() => titles(page, '14')).toEqual([]);
  await page.click('[data-action="this-week"]');
  await page.waitForSelector('[data-plan="2027-01-04"]');
  expect(await titles(page, '07')).toEqual(['Thursday: stand-up from the blocks']);

  // A second desk sees it, and the first what that one plans.
  const other = await openPlan(server.url, 'dark');
  expect(await titles(other, '04')).toEqual(['Monday: race pace, broken fours']);
  await add(other, '04', 'Friday: power and speed');
  await expect.poll(() => titles(page, '04')).toEqual(['Monday: race pace, broken fours', 'Friday: power and speed']);
  expect(await seriousFaults(other)).toEqual([]);
  expect(await seriousFaults(page)).toEqual([]);

  await page.click(`${on('04')} .planned-title`);
  await page.waitForSelector('[data-practice][aria-current="true"]');
  expect(new URL(page.url()).hash).toBe('#practice');
  expect(complaints).toEqual([]);
}, 60_000);
