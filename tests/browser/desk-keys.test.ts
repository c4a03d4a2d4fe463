import type { Page } from 'playwright-core';
import { describe, expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServer, withDemo } from '../fixtures/running-server.ts';
import { Season } from '../fixtures/swum-season.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';
import { walkWithTab } from './tab-walk.ts';

/** Wednesday 6 January 2027, 18:00 in Lisbon, where it is winter. */
const WEDNESDAY = Date.UTC(2027, 0, 6, 18);
const PULLED = '# Strong\n\nMain: power\n4 x 25 free max with pulley 12 kg @ 2:00\n';
const WRONG = '# Slips\n\nMain\n4 x 50 free @ 1;00\n6 x 50 free @ 1;10\n';

const browser = useChromium();

/** With the demo, something planned, and a set that was swum. */
async function pool(): Promise<RunningServer> {
  const machine = new HandMachineClock({ wallMs: WEDNESDAY });
  const server = await runServer({ machine, pages: async () => PAGES_FOLDER });
  const [practice] = await withDemo(server);
  await server.ask('PUT', '/api/plan/2027-01-05', { body: { practices: [practice?.id], instead: [] } });
  const season = new Season(server.farwall, { now: server.farwall.clock.now, pass: (byMs) => machine.pass(byMs) });
  season.swim(PULLED, { timeOf: () => 14 });
  return server;
}

async function openDesk(url: string, area: string, colorScheme: 'light' | 'dark' = 'light'): Promise<Page> {
  const context = await browser().newContext({ viewport: { width: 1280, height: 800 }, colorScheme });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.goto(`${url}/desk#${area}`);
  await page.waitForSelector('[data-link="live"]');
  return page;
}

const SHOWS = {
  practice: '[data-sheet-lane="6"]',
  plan: '.planned-title',
  squad: '.squad-lane',
  today: '[data-screen]',
  results: '[data-set]',
  'results/season': '[data-kind], .season a, .season button',
  'results/weeks': '[data-week], .weeks table',
} as const;

const areaShown = (page: Page): Promise<string | null> => page.locator('main:not([hidden])').getAttribute('aria-label');
const focusIsIn = (page: Page, selector: string): Promise<boolean> =>
  page.evaluate((of) => document.activeElement?.matches(of) === true, selector);

async function go(page: Page, ...keys: readonly string[]): Promise<void> {
  for (const key of keys) await page.keyboard.press(key);
}

describe('with Tab alone', () => {
  test.for([
    ['practice', 'light'],
    ['plan', 'dark'],
    ['squad', 'light'],
    ['today', 'dark'],
    ['results', 'light'],
    ['results/season', 'dark'],
    ['results/weeks', 'light'],
  ] as const)(
    'everything on %s is reached and seen to have the focus (%s)',
    { timeout: 90_000 },
    async ([area, scheme]) => {
      const page = await openDesk((await pool()).url, area, scheme);
      await page.locator(SHOWS[area]).first().waitFor();
      await page.evaluate(() => {
        for (const details of document.querySelectorAll('details')) details.open = true;
      });
      const walk = await walkWithTab(page);
      expect(walk).toEqual({ stops: expect.any(Number), missed: [], unseen: [] });
      expect(walk.stops).toBeGreaterThan(8);
    },
  );

  test('so is everything in the list of keys, and nothing behind it', async () => {
    const page = await openDesk((await pool()).url, 'today');
    await page.click('[data-action="keys"]');
    await page.waitForSelector('dialog[open]');
    expect(await walkWithTab(page)).toEqual({ stops: 2, missed: [], unseen: [] });
  });
});

describe('the keys', () => {
  test('lead to every area, where Tab goes on from the start, and to the list of keys', async () => {
    const page = await openDesk((await pool()).url, 'practice');
    const complaints = complaintsOf(page);
    await page.waitForSelector(SHOWS.practice);
    for (const [key, label] of [
      ['w', 'Week'],
      ['s', 'Squad'],
      ['t', 'Today'],
      ['r', 'Results'],
      ['p', 'Practice'],
    ] as const) {
      await go(page, 'g');
      await page.waitForSelector('[data-key-begun="g"]');
      await go(page, key);
      await expect.poll(() => areaShown(page)).toBe(label);
      await expect.poll(() => focusIsIn(page, 'main')).toBe(true);
      expect(await page.locator('[data-key-begun]').count()).toBe(0);
    }
    await go(page, 'Tab');
    expect(await focusIsIn(page, '[data-action="new-practice"]')).toBe(true);

    await go(page, '?');
    await page.waitForSelector('dialog[open]');
    expect(await page.locator('dialog [data-key="g s"]').textContent()).toBe('g then sSquad');
    // Behind a dialog nothing may happen.
    await go(page, 'g', 's');
    expect(await areaShown(page)).toBe('Practice');
    await go(page, 'Escape');
    await page.waitForSelector('dialog', { state: 'detached' });
    await expect.poll(() => focusIsIn(page, '[data-action="new-practice"]')).toBe(true);
    expect(complaints).toEqual([]);
  });

  test.for(['light', 'dark'] as const)('are listed without a fault (%s)', async (scheme) => {
    const page = await openDesk((await pool()).url, 'squad', scheme);
    await page.waitForSelector(SHOWS.squad);
    await go(page, '?');
    await page.waitForSelector('dialog[open]');
    expect(await seriousFaults(page)).toEqual([]);
    await go(page, 'Escape', 'g');
    await page.waitForSelector('[data-key-begun]');
    expect(await seriousFaults(page)).toEqual([]);
  });

  test('that are letters are only written where something is written, and can be switched off for good', async () => {
    const page = await openDesk((await pool()).url, 'squad');
    await page.waitForSelector(SHOWS.squad);
    await go(page, 'g', 'f');
    await expect.poll(() => focusIsIn(page, '[data-find="text"]')).toBe(true);
    await go(page, 'g', 's', '?');
    expect(await page.inputValue('[data-find="text"]')).toBe('gs?');
    expect([await areaShown(page), await page.locator('dialog[open]').count()]).toEqual(['Practice', 0]);

    await page.click('[data-action="keys"]');
    await page.uncheck('[data-letter-keys]');
    await go(page, 'Escape');
    await page.waitForSelector('dialog', { state: 'detached' });
    await go(page, 'g', 's', '?');
    await page.reload();
    await page.waitForSelector('[data-link="live"]');
    await go(page, 'g', 's', '?');
    expect([await areaShown(page), await page.locator('dialog[open]').count()]).toEqual(['Practice', 0]);
    await page.click('[data-action="keys"]');
    expect(await page.isChecked('[data-letter-keys]')).toBe(false);
  });

  test('write a practice, go from message to message, undo, save, and leave the text', async () => {
    const server = await pool();
    const page = await openDesk(server.url, 'today');
    await page.waitForSelector(SHOWS.today);
    await go(page, 'g', 'n');
    await expect.poll(() => focusIsIn(page, '[data-editor]')).toBe(true);
    await page.keyboard.insertText(WRONG);
    await page.waitForSelector('[data-message][data-line="5"]');
    await go(page, 'Control+Home', 'F8');
    await page.keyboard.type('1:00');
    await expect.poll(() => page.locator('.cm-content').textContent()).toContain('50 free @ 1:006 x');
    await go(page, 'Control+z');
    await page.waitForSelector('[data-message][data-line="4"]');
    await page.waitForSelector('[data-message][data-line="5"]');
    await go(page, 'Control+End', 'Shift+F8');
    await page.keyboard.type('1:10');
    await expect.poll(() => page.locator('.cm-content').textContent()).toContain('50 free @ 1:10');
    await go(page, 'Control+z', 'Control+y', 'Control+z');
    await expect.poll(() => page.locator('.cm-content').textContent()).toContain('50 free @ 1;10');
    await go(page, 'Control+s');
    await page.waitForSelector('[data-saved="true"]');
    const [saved] = server.farwall.store.practices.list();
    expect(saved && server.farwall.store.practices.practice(saved.id)?.text).toBe(WRONG);

    await go(page, 'Escape', 'Tab');
    expect(await focusIsIn(page, '[data-editor]')).toBe(false);
    await go(page, 'g', 'w');
    await expect.poll(() => areaShown(page)).toBe('Week');
    // There is nothing to be saved here: the key is the browser's.
    await page.evaluate(() => {
      const note = (event: Event): void => {
        document.body.dataset.taken = String(event.defaultPrevented);
      };
      addEventListener('keydown', note, { once: true });
    });
    await go(page, 'Control+s');
    expect(await page.getAttribute('body', 'data-taken')).toBe('false');
  });

  test('take an offer, or none, as the list says', async () => {
    const page = await openDesk((await pool()).url, 'practice');
    await page.waitForSelector(SHOWS.practice);
    await go(page, 'g', 'n');
    await expect.poll(() => focusIsIn(page, '[data-editor]')).toBe(true);
    await page.keyboard.insertText('4 x 50 ');
    await go(page, 'Control+Space');
    await page.waitForSelector('.cm-tooltip-autocomplete');
    await go(page, 'Escape');
    await page.waitForSelector('.cm-tooltip-autocomplete', { state: 'detached' });
    await go(page, 'Control+Space');
    await page.waitForSelector('.cm-tooltip-autocomplete');
    await go(page, 'ArrowDown', 'ArrowDown', 'ArrowUp');
    const chosen = await page.locator('.cm-tooltip-autocomplete [aria-selected] .cm-completionLabel').textContent();
    await go(page, 'Enter');
    await expect.poll(() => page.locator('.cm-content').textContent()).toContain(`4 x 50 ${chosen}`);
  });

  test('open “More” and close it, and the focus comes back to it', async () => {
    const page = await openDesk((await pool()).url, 'practice');
    await page.waitForSelector(SHOWS.practice);
    await page.locator('.more-actions summary').focus();
    await go(page, 'Enter', 'Tab', 'Tab');
    await expect.poll(() => focusIsIn(page, '[data-action="versions"]')).toBe(true);
    await go(page, 'Escape');
    expect(await page.locator('.more-actions[open]').count()).toBe(0);
    expect(await focusIsIn(page, '.more-actions summary')).toBe(true);
    await go(page, 'Space', 'Tab', 'Shift+Tab', 'Shift+Tab');
    expect(await page.locator('.more-actions[open]').count()).toBe(0);
  });

  test('fill the table of loads', async () => {
    const page = await openDesk((await pool()).url, 'results');
    await page.locator('details.loads > summary').first().focus();
    await go(page, 'Enter', 'Tab', 'Tab');
    const cells = page.locator('details.loads tbody tr').first().locator('input');
    await cells.nth(0).focus();
    await page.keyboard.type('14 kg');
    await go(page, 'Alt+ArrowRight');
    await expect.poll(() => cells.nth(3).inputValue()).toBe('14 kg');
    await go(page, 'Alt+ArrowDown', 'Enter');
    const below = page.locator('details.loads tbody tr').nth(1).locator('input').first();
    expect(await below.inputValue()).toBe('14 kg');
    expect(await below.evaluate((input) => input === document.activeElement)).toBe(true);
  });
});
