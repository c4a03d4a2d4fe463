import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServer, withDemo, withRun } from '../fixtures/running-server.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';

/** Wednesday 6 January 2027, 18:00 in Lisbon, where it is winter. */
const WEDNESDAY = Date.UTC(2027, 0, 6, 18);

const browser = useChromium();

const pool = (): Promise<RunningServer> =>
  runServer({ machine: new HandMachineClock({ wallMs: WEDNESDAY }), pages: async () => PAGES_FOLDER });

async function openDesk(url: string, area: string, colorScheme: 'light' | 'dark' = 'light'): Promise<Page> {
  const context = await browser().newContext({ viewport: { width: 1280, height: 800 }, colorScheme });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.goto(`${url}/desk#${area}`);
  await page.waitForSelector('[data-link="live"]');
  return page;
}

const titles = (page: Page): Promise<string[]> => page.locator('.library li .name').allTextContents();
const focused = (page: Page): Promise<string | null> =>
  page.evaluate(() => document.activeElement?.getAttribute('data-action') ?? null);

test('the demo goes at one press, on all desks, leaves an empty start, and comes back at another', async () => {
  const server = await pool();
  const [first] = await withDemo(server);
  await server.ask('PUT', '/api/plan/2027-01-05', { body: { practices: [first?.id], instead: [] } });
  const [page, other] = [await openDesk(server.url, 'practice'), await openDesk(server.url, 'plan', 'dark')];
  const complaints = [complaintsOf(page), complaintsOf(other)];
  await expect.poll(() => titles(page)).toHaveLength(5);
  await other.waitForSelector('.planned-title');
  expect(await seriousFaults(page)).toEqual([]);

  await page.locator('.library [data-action="remove-demo"]').focus();
  await page.keyboard.press('Enter');
  await page.waitForSelector('.welcome');
  expect(await page.locator('.library .demo-line [role="status"]').textContent()).toBe(
    'The demo is removed: 24 swimmers, 5 practices, 1 place in the week’s plan.',
  );
  expect(await focused(page)).toBe('bring-back-demo');
  expect(await titles(page)).toEqual(['Untitled practice']);
  expect(await seriousFaults(page)).toEqual([]);

  await other.waitForSelector('.planned-title', { state: 'detached' });
  await other.goto(`${server.url}/desk#squad`);
  await other.getByText('No swimmers yet').waitFor();
  expect(await seriousFaults(other)).toEqual([]);
  await other.click('.squad [data-action="bring-back-demo"]');
  await other.getByText('24 swimmers', { exact: true }).waitFor();
  await expect.poll(() => titles(page)).toContain(first?.title);
  await page.waitForSelector('.welcome', { state: 'detached' });
  expect(complaints).toEqual([[], []]);
}, 60_000);

test('it is not removed while it is swum, and the desk says why', async () => {
  const server = await pool();
  const run = await withRun(server);
  const deck = server.screen('deck');
  await deck.hello();
  await deck.ask('command', deck.command({ kind: 'start', when: 'now' }, run, server.farwall.clock.now()));
  const page = await openDesk(server.url, 'squad');
  await page.click('.squad [data-action="remove-demo"]');
  await page.locator('.squad .problem').waitFor();
  expect(await page.locator('.squad .problem').textContent()).toBe(
    'A practice of the demo is on the wall and under way. Finish it on the deck, then remove the demo.',
  );
  expect(await page.locator('.squad-list .badge').textContent()).toBe('invented demo squad');
}, 60_000);

test('what is being written of it on another desk is not lost', async () => {
  const server = await pool();
  await withDemo(server);
  const [page, other] = [await openDesk(server.url, 'squad'), await openDesk(server.url, 'practice')];
  await other.click('.cm-content');
  await other.keyboard.press('Control+End');
  await other.keyboard.type('\n4 x 50 back @ 1:10\n');
  await page.click('.squad [data-action="remove-demo"]');
  await expect.poll(() => titles(other)).toHaveLength(1);
  await other.click('[data-action="save"]');
  await other.waitForSelector('[data-saved="true"]');
  expect(await other.locator('.cm-content').textContent()).toContain('4 x 50 back');
  expect(server.farwall.store.practices.list()).toMatchObject([{ version: 2, demo: false }]);
}, 60_000);
