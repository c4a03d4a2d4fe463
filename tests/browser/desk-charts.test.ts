import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { SteppedClock } from '../../server/rehearsal/clock.ts';
import { Rehearsal } from '../../server/rehearsal/rehearsal.ts';
import { paired } from '../fixtures/paired.ts';
import { pool25 } from '../fixtures/planning.ts';
import { type RunningServer, runServerOn } from '../fixtures/running-server.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';

const SWUM = {
  practiceText: `# Two kinds of work

Pace: race pace
2 rounds, 1:00 between:
  6 x 50 free @ 1:00 at 200 pace

Average: best average
6 x 100 free @ 2:00 max

Down
1 x 200 choice easy
`,
  squadCsv: `swimmer,lane,event,course,time
Ada Vance,1,200 free,SCM,2:00.00
Bela Sorn,2,200 free,SCM,2:06.00
`,
  pool: pool25,
};

const browser = useChromium();

/** A server on which such a practice was swum. */
async function swumServer(): Promise<RunningServer<SteppedClock>> {
  const clock = new SteppedClock(Date.UTC(2027, 0, 15, 12));
  const server = await runServerOn(clock, { pages: async () => PAGES_FOLDER });
  const rehearsal = await Rehearsal.prepared({ server: paired(server.url), clock, newId: randomId, seed: 3 }, SWUM);
  await rehearsal.run();
  return server;
}

async function openPage(width: number): Promise<Page> {
  const context = await browser().newContext({ viewport: { width, height: 800 }, colorScheme: 'light' });
  onTestFinished(() => context.close());
  return context.newPage();
}

/** The picture of the first chart. */
const pictureOf = (page: Page): Promise<string> =>
  page.locator('[data-set="0"] canvas').evaluate((canvas: HTMLCanvasElement) => canvas.toDataURL());

test('each set of several timed reps has a chart, of one swimmer or everybody, that follows the page', async () => {
  const server = await swumServer();
  const page = await openPage(1280);
  const complaints = complaintsOf(page);
  await page.goto(`${server.url}/desk#results`);
  await page.waitForSelector('[data-set="1"] [data-chart="drawn"]');
  expect(await page.locator('[data-chart]').count()).toBe(2);
  const chart = page.locator('[data-set="0"] [role="img"]');
  expect(await chart.getAttribute('aria-label')).toMatch(
    /^Chart of Ada Vance: 1[012] times from \d\d\.\d to \d\d\.\d; .*(s (slower|faster) a rep|even)\. The table below/,
  );
  expect(await page.locator('[data-set="0"] .key').textContent()).toMatch(/held: \d+/);

  const alone = await pictureOf(page);
  await page.selectOption('[data-set="0"] select', { label: 'Everybody' });
  expect(await chart.getAttribute('aria-label')).toMatch(/^Chart of 2 swimmers: /);
  await page.selectOption('[data-set="0"] select', { label: 'Ada Vance' });
  await expect.poll(() => pictureOf(page)).toBe(alone);

  await page.emulateMedia({ colorScheme: 'dark' });
  await expect.poll(() => pictureOf(page)).not.toBe(alone);
  expect(await seriousFaults(page)).toEqual([]);
  await page.setViewportSize({ width: 1024, height: 768 });
  await expect
    .poll(() => page.locator('[data-set="0"] canvas').evaluate(({ clientWidth }) => clientWidth))
    .toBeLessThan(980);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(1024);

  const before = await page.locator('[data-results] *').count();
  await server.ask('DELETE', '/api/runs/live');
  await page.locator('[data-run]').getByText('finished, ', { exact: false }).waitFor();
  await page.locator('.results-title').filter({ hasNotText: 'on the wall' }).waitFor();
  expect(await page.locator('[data-results] *').count()).toBe(before);
  expect(await page.locator('canvas').count()).toBe(2);
  expect(complaints).toEqual([]);
}, 120_000);

test('the table is there when what draws charts cannot be loaded, and the page says so', async () => {
  const { url } = await swumServer();
  const page = await openPage(1280);
  await page.route('**/assets/plot-*.js', (route) => route.abort());
  await page.goto(`${url}/desk#results`);
  await page.waitForSelector('[data-set="0"] [data-chart="failed"]');
  expect(await page.locator('[data-set="0"] [data-chart]').textContent()).toContain('The table has every time');
  expect(await page.locator('[data-set="0"] tbody tr').count()).toBe(2);
}, 120_000);

test('what draws charts is loaded on the results only', async () => {
  const { url } = await swumServer();
  const page = await openPage(1280);
  const loaded: string[] = [];
  page.on('request', (request) => loaded.push(request.url()));
  await page.goto(`${url}/desk#today`);
  await page.waitForSelector('[data-live]');
  const plots = () => loaded.filter((name) => /\/plot-.*\.js$/.test(name)).length;
  expect(plots()).toBe(0);
  await page.click('[data-area="results"]');
  await page.waitForSelector('[data-chart="drawn"]');
  expect(plots()).toBe(1);
}, 120_000);
