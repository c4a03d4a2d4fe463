import type { Page } from 'playwright-core';
import { describe, expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { storedPracticeSchema } from '../../shared-types/wire/desk.ts';
import { type RunningServer, runServer, withDemo, withRun } from '../fixtures/running-server.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';

const PRACTICE = `# Saturday, short and sharp

Main set: race pace
2 rounds, 1:00 between:
  4 x 50 free @ 1:10 at 200 pace
  100 easy @ 2:30
`;

const browser = useChromium();

interface OpenDesk {
  readonly page: Page;
  /** What the browser held against the page: errors of its script, breaches of its security policy. */
  readonly complaints: string[];
}

interface View {
  readonly width: number;
  readonly colorScheme: 'light' | 'dark';
}

async function openDesk({ url }: RunningServer, view: Partial<View> = {}): Promise<OpenDesk> {
  const { width = 1366, colorScheme = 'light' } = view;
  const context = await browser().newContext({ viewport: { width, height: 768 }, colorScheme });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  const complaints = complaintsOf(page);
  await page.goto(`${url}/desk`);
  return { page, complaints };
}

const serve = (): Promise<RunningServer> => runServer({ pages: async () => PAGES_FOLDER });

async function write(page: Page, text: string): Promise<void> {
  await page.locator('.cm-content').focus();
  await page.keyboard.press('Control+a');
  await page.keyboard.insertText(text);
}

describe('the desk', () => {
  test('offers a demo on the first start, and then has five practices and their sheets', async () => {
    const { page, complaints } = await openDesk(await serve());
    await page.click('[data-action="demo"]');
    await page.waitForSelector('[data-sheet-lane="6"]');
    expect(await page.locator('[data-practice]').count()).toBe(5);
    expect(await page.locator('[data-practice][aria-current="true"]').count()).toBe(1);
    expect(await page.locator('[data-action="demo"]').count()).toBe(0);
    expect(complaints).toEqual([]);
  });

  test('marks what it cannot read at its line, and a press on the message goes there', async () => {
    const server = await serve();
    await withDemo(server);
    const { page } = await openDesk(server);
    await page.click('[data-action="new-practice"]');
    await write(page, PRACTICE.replace('1:10', '1;10'));
    const message = page.locator('[data-message][data-severity="error"][data-line="5"]');
    await message.waitFor();
    expect(await page.locator('.cm-lintRange-error').textContent()).toBe('1;10');
    expect(await page.isDisabled('[data-action="put-on-wall"]')).toBe(true);
    await message.locator('.message').click();
    // The press itself takes the focus to its button; only then the page moves it into the text.
    await page.waitForFunction(() => document.activeElement?.matches('[data-editor]'));
    await page.keyboard.type('x');
    await page.waitForFunction(() =>
      document.querySelector('[data-editor]')?.shadowRoot?.textContent?.includes('x1;10'),
    );
  });

  test('keeps unsaved text through a reload, and stores it when it goes on the wall', async () => {
    const server = await serve();
    await withDemo(server);
    const { page, complaints } = await openDesk(server);
    await page.click('[data-action="new-practice"]');
    await write(page, PRACTICE);
    await page.waitForSelector('[data-saved="false"]');
    await page.reload();
    await page.click('[data-action="put-on-wall"]');
    await page.click('[data-area="today"]');
    await page.waitForSelector('[data-live-state="ready"]');
    expect(await page.textContent('[data-live-title]')).toBe('Saturday, short and sharp');
    await page.click('[data-action="take-off"]');
    await page.waitForSelector('[data-live-state]', { state: 'detached' });
    expect(complaints).toEqual([]);
  });

  test('shows both texts when somebody saved in between, and stores nothing before the choice', async () => {
    const server = await serve();
    const [practice] = await withDemo(server);
    const path = `/api/practices/${practice?.id}`;
    const { page } = await openDesk(server);
    await page.click(`[data-practice="${practice?.id}"]`);
    await page.waitForSelector(`[data-practice="${practice?.id}"][aria-current]`);
    await server.ask('PUT', path, { body: { text: `${PRACTICE}\n-- theirs`, baseVersion: 1 } });
    await write(page, `${PRACTICE}\n-- mine`);
    await page.keyboard.press('Control+s');
    await page.waitForSelector('dialog[open]');
    expect(await page.locator('dialog mark').allTextContents()).toEqual(['-- mine', '-- theirs']);
    expect(storedPracticeSchema.parse((await server.ask('GET', path)).body).version).toBe(2);
    await page.click('[data-answer="mine"]');
    await page.waitForSelector('[data-saved="true"]');
    expect(storedPracticeSchema.parse((await server.ask('GET', path)).body).text).toContain('-- mine');
  });

  test('asks before it ends a practice that is being swum', async () => {
    const server = await serve();
    const run = await withRun(server);
    const deck = server.screen('deck');
    await deck.hello();
    await deck.ask('command', deck.command({ kind: 'start', when: 'now' }, run, server.farwall.clock.now()));
    const { page } = await openDesk(server);
    await page.getByText('running', { exact: false }).first().waitFor();
    await page.click('[data-action="new-practice"]');
    await write(page, PRACTICE);
    await page.click('[data-action="put-on-wall"]');
    await page.waitForSelector('dialog[open]');
    await page.keyboard.press('Escape');
    await page.waitForSelector('dialog', { state: 'detached' });
    expect(server.farwall.keeper.run?.id).toBe(run.id);
    await page.click('[data-action="put-on-wall"]');
    await page.click('[data-answer="yes"]');
    await page.click('[data-area="today"]');
    await page.waitForSelector('[data-live-state="ready"]');
    expect(server.farwall.keeper.run?.id).not.toBe(run.id);
  });

  test('says every bad row of a squad file, and changes nothing', async () => {
    const server = await serve();
    await withDemo(server);
    const { page } = await openDesk(server);
    await page.click('[data-area="squad"]');
    const csv = 'swimmer,lane,event,course,time\nIda Moren,1,200 free,SCM,2:0x\nTom Aske,99,200 free,SCM,2:10.15\n';
    await page.fill('[data-squad-text]', csv);
    await page.click('[data-action="preview-squad"]');
    await page.waitForSelector('[data-bad-row="2"]');
    expect(await page.locator('[data-bad-row]').count()).toBe(2);
    expect(await page.getByText('24 swimmers').count()).toBe(1);
  });

  test.for<View>([
    { width: 1366, colorScheme: 'light' },
    { width: 1920, colorScheme: 'dark' },
    { width: 1024, colorScheme: 'light' },
  ])('is accessible and fits at $width px, $colorScheme', async (view) => {
    const server = await serve();
    await withRun(server);
    const { page, complaints } = await openDesk(server, view);
    for (const area of ['practice', 'squad', 'today', 'results'] as const) {
      await page.click(`[data-area="${area}"]`);
      const shows = {
        practice: '[data-totals]',
        squad: '.squad-lane',
        today: '[data-live]',
        results: '[data-results]',
      };
      await page.waitForSelector(shows[area]);
      expect(await seriousFaults(page)).toEqual([]);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(view.width);
    }
    expect(complaints).toEqual([]);
  });
});
