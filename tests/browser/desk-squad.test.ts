import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { describe, expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { type RunningServer, runServer, withDemo } from '../fixtures/running-server.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';

const DEMO = readFileSync(new URL('../../server/demo/squad.csv', import.meta.url), 'utf8');

const browser = useChromium();

async function openSquad({ url }: RunningServer, colorScheme: 'light' | 'dark' = 'light'): Promise<Page> {
  const context = await browser().newContext({ viewport: { width: 1280, height: 800 }, colorScheme });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.goto(`${url}/desk#squad`);
  await page.waitForSelector('.squad-lane');
  return page;
}

async function withSquad(): Promise<RunningServer> {
  const server = await runServer({ pages: async () => PAGES_FOLDER });
  await withDemo(server);
  return server;
}

/** The demo's file with a swimmer in another lane, one who is new, one who is gone, and a row that cannot be read. */
function changedFile(): string {
  const [header = '', first = '', ...rest] = DEMO.trim().split(/\r?\n/);
  const columns = header.split(',');
  const row = (cells: Readonly<Record<string, string>>) => columns.map((column) => cells[column] ?? '').join(',');
  const moved = first.split(',').map((cell, place) => (columns[place] === 'lane' ? '5' : cell));
  const name = (line: string) => line.split(',')[columns.indexOf('swimmer')];
  const last = rest.map(name).findLast((one) => one !== '');
  return [
    header,
    moved.join(','),
    ...rest.slice(
      0,
      rest.findIndex((line) => name(line) === last),
    ),
    row({ swimmer: 'Cy Orrin', lane: '6', event: '200 free', course: 'SCM', time: '2:31.50' }),
    row({ swimmer: 'Dot Vale', lane: '99', event: '200 free', course: 'SCM', time: '2:40' }),
  ].join('\n');
}

describe('a squad file on the desk', () => {
  test.for(['light', 'dark'] as const)(
    'is shown before it is loaded, and taken back at a press (%s)',
    async (scheme) => {
      const server = await withSquad();
      const page = await openSquad(server, scheme);
      const complaints = complaintsOf(page);
      await page.fill('[data-squad-text]', changedFile());
      await page.click('[data-action="preview-squad"]');
      await page.waitForSelector('dialog[open]');
      expect(await page.locator('.preview-counts li').allTextContents()).toEqual([
        '1 new',
        '1 changed',
        '1 taken out',
        '22 as before',
      ]);
      expect(await page.locator('[data-bad-row]').count()).toBe(1);
      expect(await page.locator('[data-changed]').textContent()).toContain('lane1 → 5');
      expect(await seriousFaults(page)).toEqual([]);

      await page.getByRole('button', { name: /^Load the \d+ good rows, leave out 1$/ }).click();
      await page.waitForSelector('dialog', { state: 'detached' });
      await page.waitForSelector('[data-action="undo-load"]');
      expect(await page.getByRole('rowheader', { name: 'Cy Orrin' }).count()).toBe(1);
      expect(await page.inputValue('[data-squad-text]')).toBe('');

      await page.reload();
      await page.click('[data-action="undo-load"]');
      await page.getByText('24 swimmers', { exact: true }).waitFor();
      await page.waitForSelector('[data-action="undo-load"]', { state: 'detached' });
      expect(await page.locator('.squad-title .badge').textContent()).toBe('invented demo squad');
      expect(await seriousFaults(page)).toEqual([]);
      expect(complaints).toEqual([]);
    },
  );

  test('that cannot be read at all says what to mend and offers nothing to load', async () => {
    const page = await openSquad(await withSquad());
    await page.fill('[data-squad-text]', 'name,best\nAda,2:00');
    await page.click('[data-action="preview-squad"]');
    await page.waitForSelector('[data-bad-row="1"]');
    expect(await page.locator('[data-action="load-previewed"]').count()).toBe(0);
    await page.keyboard.press('Escape');
    await page.waitForSelector('dialog', { state: 'detached' });
    expect(await page.inputValue('[data-squad-text]')).toContain('Ada');
  });
});
