import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServer } from '../fixtures/running-server.ts';
import { Season } from '../fixtures/swum-season.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';
import { printed } from './printed.ts';

/** Wednesday 6 January 2027, 18:00 in Lisbon, where it is winter. */
const WEDNESDAY = Date.UTC(2027, 0, 6, 18);
const SWIMMERS = 40;

const FIRST = ['Alda', 'Brun', 'Cato', 'Dita', 'Enno', 'Fara', 'Gero', 'Hila'];
const LAST = ['Ömer', 'Vance', 'Quill', 'Sorn', 'Tarné'];

/** As a spreadsheet in a land of decimal commas saves it: a byte order mark, semicolons, rows twice, some that say nothing. */
function messyFile(): string {
  const names = LAST.flatMap((last) => FIRST.map((first) => `${first} ${last}`));
  const rows = names.flatMap((name, place) => {
    const hundredths = String(11_800 + place * 61);
    const seconds = Number(hundredths.slice(0, -2));
    const time = `${Math.floor(seconds / 60)}.${String(seconds % 60).padStart(2, '0')},${hundredths.slice(-2)}`;
    return [
      `${name};200 Freestyle;scm;${time}`,
      `${name};100 fr;SCM;${(54 + place * 0.3).toFixed(1).replace('.', ',')}`,
    ];
  });
  const [first = '', second = ''] = rows;
  const bad = ['Alda Ömer;50 free;SCM;fast', 'Nobody Known;200 free;SCM;', ';;;', ';100 laps;SCM;1:00'];
  return `\uFEFFSwimmer;Event;Course;Time\r\n${[...rows, first, ' ', second, ...bad].join('\r\n')}\r\n`;
}

const SLIPPED = `# Wednesday, even and easy

Main: race pace
4 x 50 fre @ 1;10 at 200 pace

Average: best average
4 x 100 free @ 2:20 max
`;
const MEANT = SLIPPED.replace('fre ', 'free ').replace('1;10', '1:10');

const browser = useChromium();

interface Opened {
  readonly server: RunningServer<HandMachineClock>;
  readonly page: Page;
  readonly complaints: string[];
}

/** The desk of a Farwall that has nothing in it yet. */
async function emptyDesk(): Promise<Opened> {
  const machine = new HandMachineClock({ wallMs: WEDNESDAY });
  const server = await runServer({ machine, pages: async () => PAGES_FOLDER });
  const context = await browser().newContext({ viewport: { width: 1440, height: 900 } });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.addInitScript('window.print = () => {}');
  const complaints = complaintsOf(page);
  await page.goto(`${server.url}/desk#squad`);
  await page.waitForSelector('.squad-list');
  return { server, page, complaints };
}

const go = (page: Page, area: string): Promise<void> => page.click(`[data-area="${area}"]`);

async function loadSquad(page: Page, name: string, text: string): Promise<void> {
  await page.setInputFiles('.squad-file input[type="file"]', {
    name,
    mimeType: 'text/csv',
    buffer: Buffer.from(text, 'utf8'),
  });
  await page.click('[data-action="preview-squad"]:enabled');
  await page.waitForSelector('dialog[open]');
}

async function saved(page: Page, press: string): Promise<string> {
  const [download] = await Promise.all([page.waitForEvent('download'), page.click(press)]);
  return readFileSync(await download.path(), 'utf8');
}

const writtenIn = (page: Page): Promise<string> =>
  page.locator('.cm-line').evaluateAll((lines) => lines.map(({ textContent }) => textContent).join('\n'));

async function importAndPlace(page: Page): Promise<void> {
  await loadSquad(page, 'from the club.csv', messyFile());
  expect(await page.locator('.preview-counts li').allTextContents()).toEqual([`${SWIMMERS} new`]);
  const badLines = await page.locator('[data-bad-row]').evaluateAll((rows) => rows.map((row) => row.textContent ?? ''));
  expect(badLines.join('\n')).toMatch(/"fast" is not a swim time/);
  expect(badLines.join('\n')).toMatch(/"100 laps" is not an event/);
  expect(await seriousFaults(page)).toEqual([]);
  await page.click('[data-action="load-previewed"]');
  await page.getByText(`${SWIMMERS} swimmers`, { exact: true }).waitFor();
  await page.fill('[name="capacity"]', '7');
  await page.click('[data-action="propose-lanes"]');
  await page.click('[data-action="take-lanes"]');
  await expect.poll(() => page.locator('[data-lane-drop] [data-swimmer]').count()).toBe(SWIMMERS);
  await page.waitForSelector('[data-lane-drop="none"]', { state: 'detached' });
}

async function writeAndMend(page: Page): Promise<void> {
  await go(page, 'practice');
  await page.click('[data-action="new-practice"]');
  await page.click('.cm-content');
  await page.keyboard.press('Control+A');
  await page.keyboard.insertText(SLIPPED);
  await page.getByRole('button', { name: 'Write “free”' }).click();
  await page.getByRole('button', { name: 'Write “1:10”' }).click();
  await expect.poll(() => writtenIn(page)).toBe(MEANT);
  await page.click('[data-action="save"]:enabled');
  await page.waitForSelector('[data-saved="true"]');
}

async function plan(page: Page): Promise<void> {
  await go(page, 'plan');
  await page.selectOption('[data-add="2027-01-06"]', { label: 'Wednesday, even and easy' });
  await page.locator('[data-day="2027-01-06"] .planned-title').click();
  await page.waitForSelector('[data-practice][aria-current="true"]');
}

/** Everybody holds the fifties within some tenths and fades by half a second in each hundred. */
async function swim({ server: { farwall, machine }, page }: Opened): Promise<void> {
  await page.click('[data-action="put-on-wall"]:enabled');
  await go(page, 'today');
  await page.waitForSelector('[data-live-state="ready"]');
  const season = new Season(farwall, { now: farwall.clock.now, pass: (byMs) => machine.pass(byMs) });
  expect(season.press('start')).toBe(true);
  await page.waitForSelector('[data-live-state="running"]');
  season.pass(20 * 60_000);
  const run = farwall.keeper.run;
  if (!run) throw new Error('nothing is on the wall');
  const taken = season.time(run.id, ({ step, rep }) => (step.distance === 50 ? 31 : 64) + rep / 2);
  expect(taken.length).toBe(SWIMMERS * 8);
  season.finish();
  await page.waitForSelector('[data-live-state="finished"]');
}

async function look(page: Page): Promise<void> {
  await go(page, 'results');
  await page.waitForSelector(`[data-results][data-times="${SWIMMERS * 8}"]`);
  await page
    .locator('[data-set="1"] tbody tr')
    .nth(SWIMMERS - 1)
    .waitFor();
  expect(await seriousFaults(page)).toEqual([]);
  await go(page, 'plan');
  await page.locator('[data-day="2027-01-06"]').getByText('swum', { exact: false }).first().waitFor();
  await go(page, 'squad');
  await page.locator('[data-lane-drop="1"] tbody th a').first().click();
  await expect.poll(() => page.locator('[data-swum]').count()).toBe(2);
  expect(await seriousFaults(page)).toEqual([]);
}

async function print(page: Page): Promise<void> {
  await go(page, 'practice');
  await page.click('.more-actions summary');
  await page.click('[data-action="print-practice"]:enabled');
  const [sheet, ...others] = await printed(page, 'A4');
  expect(others).toEqual([]);
  expect(sheet?.text).toContain('4 x 50 free @ 1:10 at 200 pace');
  expect(sheet?.beyond).toBeLessThanOrEqual(0);
}

test('a week of a coach’s work at the desk, and the same once more in an empty Farwall from what was exported', async () => {
  const first = await emptyDesk();
  const { page } = first;
  await importAndPlace(page);
  await writeAndMend(page);
  await plan(page);
  await swim(first);
  await look(page);
  await print(page);

  await page.click('.more-actions summary');
  const practice = await saved(page, '[data-action="save-as-file"]');
  expect(practice).toBe(MEANT);
  await go(page, 'squad');
  const squad = await saved(page, '[data-action="export-squad"]');

  const second = await emptyDesk();
  await loadSquad(second.page, 'squad.csv', squad);
  expect(await second.page.locator('.preview-counts li').allTextContents()).toEqual([`${SWIMMERS} new`]);
  expect(await second.page.locator('[data-bad-row]').count()).toBe(0);
  await second.page.click('[data-action="load-previewed"]');
  await second.page.getByText(`${SWIMMERS} swimmers`, { exact: true }).waitFor();
  expect(await saved(second.page, '[data-action="export-squad"]')).toBe(squad);
  await go(second.page, 'practice');
  await second.page.setInputFiles('input[type="file"][accept*=".txt"]', {
    name: 'practice.txt',
    mimeType: 'text/plain',
    buffer: Buffer.from(practice, 'utf8'),
  });
  await expect.poll(() => writtenIn(second.page)).toBe(MEANT);
  const sheetOf = (of: Page): Promise<string[]> => of.locator('[data-sheet-lane]').allInnerTexts();
  await go(page, 'practice');
  await expect.poll(async () => (await sheetOf(second.page)).length).toBeGreaterThan(0);
  await expect.poll(() => sheetOf(second.page)).toEqual(await sheetOf(page));
  expect([...first.complaints, ...second.complaints]).toEqual([]);
}, 120_000);
