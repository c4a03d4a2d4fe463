import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { SteppedClock } from '../../server/rehearsal/clock.ts';
import { Rehearsal } from '../../server/rehearsal/rehearsal.ts';
import type { RunId } from '../../shared-types/brand.ts';
import { isKnown } from '../../shared-types/results.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import { resultsAnswerSchema } from '../../shared-types/wire/results.ts';
import { paired } from '../fixtures/paired.ts';
import { pool25 } from '../fixtures/planning.ts';
import { type RunningServer, runServerOn } from '../fixtures/running-server.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';

const WEEK_MS = 7 * 86_400_000;
/** Fridays, 18:00 in Lisbon, where it is winter. */
const FIRST_FRIDAY = Date.UTC(2027, 0, 8, 18);
const SEND_OFFS = ['1:00', '1:10', '1:00'] as const;

const squadCsv = `swimmer,lane,event,course,time
Ada Vance,1,200 free,SCM,2:00.00
Bela Sorn,2,200 free,SCM,2:06.00
`;

const practice = (sendOff: string, week: number): string => `# Friday ${week + 1}

Pace: race pace
6 x 50 free @ ${sendOff} at 200 pace

Down
1 x 200 choice easy
`;

const browser = useChromium();

interface ThreeWeeks {
  readonly server: RunningServer<SteppedClock>;
  readonly runs: readonly RunId[];
  /** Ada's mean of the fifties, week by week, as its practice's results have it. */
  readonly adas: readonly string[];
}

/** The same set on three Fridays, the second time on another send-off. */
async function threeWeeks(): Promise<ThreeWeeks> {
  const clock = new SteppedClock(FIRST_FRIDAY);
  const server = await runServerOn(clock, { pages: async () => PAGES_FOLDER });
  const runs: RunId[] = [];
  const adas: string[] = [];
  for (const [week, sendOff] of SEND_OFFS.entries()) {
    await clock.towards(week * WEEK_MS);
    const parts = { server: paired(server.url), clock, newId: randomId, seed: week + 1 };
    const swum = { practiceText: practice(sendOff, week), squadCsv, pool: pool25 };
    const { followed } = await (await Rehearsal.prepared(parts, swum)).run();
    await server.ask('DELETE', '/api/runs/live');
    runs.push(followed.run.id);
    adas.push(await meanOf(server, followed.run.id, 'Ada Vance'));
  }
  return { server, runs, adas };
}

async function meanOf(server: RunningServer<SteppedClock>, run: RunId, name: string): Promise<string> {
  const { body } = await server.ask('GET', `/api/runs/${run}/results?role=desk`);
  const { sets, labels } = resultsAnswerSchema.parse(body);
  const own = sets[0]?.swimmers.find(({ swimmer }) => labels[swimmer] === name);
  if (!own || !isKnown(own.spread.meanMs)) throw new Error(`${name} has no mean`);
  return formatSwimTime(own.spread.meanMs, 1);
}

async function openDesk(url: string, address: string, colorScheme: 'light' | 'dark' = 'light'): Promise<Page> {
  const context = await browser().newContext({ viewport: { width: 1280, height: 800 }, colorScheme });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.goto(`${url}/desk${address}`);
  return page;
}

const widthOf = (page: Page): Promise<number> => page.evaluate(() => document.documentElement.scrollWidth);

test('a set of a practice leads to what it came to every time it was swum, and from there to those practices', async () => {
  const { server, runs, adas } = await threeWeeks();
  const page = await openDesk(server.url, '#results');
  const complaints = complaintsOf(page);
  await page.click('[data-set="0"] [data-action="season"]');
  await page.waitForSelector('[data-season] [data-chart="drawn"]');

  const rows = page.locator('[data-occurrence]');
  expect(await rows.count()).toBe(3);
  expect(await rows.first().textContent()).toContain('Fri 22 Jan 2027');
  expect(await rows.first().textContent()).toContain('since 8 Jan');
  expect(await rows.nth(1).textContent()).toContain('not as the last time');
  expect(await rows.nth(1).textContent()).toContain('@ 1:10');
  expect(await page.locator('[data-season] [role="img"]').getAttribute('aria-label')).toContain('of the squad: 3');

  await page.selectOption('[data-season-of]', { label: 'Ada Vance' });
  await expect.poll(() => rows.first().textContent()).toContain('@ 1:00');
  const means = await page.locator('[data-occurrence] td strong:first-child').allTextContents();
  expect(means.filter((text) => !/^[+−]|^0\.0$/.test(text))).toEqual([...adas].reverse());
  expect(await seriousFaults(page)).toEqual([]);
  expect(await widthOf(page)).toBe(1280);

  await rows.nth(2).getByRole('link').click();
  await page.waitForSelector(`[data-results="${runs[0]}"]`);
  await page.goBack();
  await page.waitForSelector('[data-season]');
  expect(complaints).toEqual([]);
}, 120_000);

test('sets are found by typing, and rehearsed ones are asked for by a tick only', async () => {
  const { server } = await threeWeeks();
  const page = await openDesk(server.url, '#results/season', 'dark');
  await page.waitForSelector('[data-kind]');
  expect(await page.locator('[data-kind]').count()).toBe(2);
  await page.fill('[data-find-set]', '6x50');
  expect(await page.locator('[data-kind]').allTextContents()).toEqual([
    expect.stringMatching(/^6 × 50 free.*race pace, swum 3 times by 2 swimmers.*last on Fri 22 Jan 2027/),
  ]);
  await page.fill('[data-find-set]', 'breast');
  await page.getByText('No set has that in it').waitFor();
  const asking = page.waitForRequest((request) => request.url().includes('rehearsed=1'));
  await page.check('[data-rehearsed]');
  await asking;
  expect(await seriousFaults(page)).toEqual([]);
}, 120_000);

test('a set that was not swum yet is no failure', async () => {
  const { server } = await threeWeeks();
  const page = await openDesk(
    server.url,
    `#results/season/${encodeURIComponent('power: 8 × 25 fly, from a dive, SCM')}`,
  );
  await page.waitForSelector('[data-not-swum]');
}, 120_000);

test('the weeks say what they have left out, by the squad or a swimmer, up to any day', async () => {
  const { server } = await threeWeeks();
  const page = await openDesk(server.url, '#results/weeks');
  const complaints = complaintsOf(page);
  await page.waitForSelector('[data-weeks="2027-01-22"]');
  expect(await page.locator('[data-left-out]').textContent()).toBe(
    'Left out: active rest, best average, stand-up, power, threshold, skills.',
  );
  // Six fifties on 1:00.
  expect(await page.locator('tr[data-style="race pace"]').textContent()).toBe('race pace1300 m6 min');
  expect(await page.locator('[data-week]').count()).toBe(12);
  const cellsOf = (day: string) => page.locator(`[data-week="${day}"] td`).allTextContents();
  // Six on 1:10.
  expect((await cellsOf('2027-01-15'))[0]).toBe('7 min1 set300 m');
  expect((await cellsOf('2027-01-15'))[1]).toBe('none');
  expect((await cellsOf('2027-01-01')).every((cell) => cell === 'none')).toBe(true);

  await page.selectOption('[data-week-of]', { label: 'Ada Vance' });
  await page.waitForSelector('.weeks[aria-busy="false"]');
  expect((await cellsOf('2027-01-22'))[0]).toBe('6 min1 set300 m');
  await page.fill('[data-week-day]', '2027-01-07');
  await page.waitForSelector('[data-weeks="2027-01-07"]');
  expect(await page.locator('[data-left-out]').textContent()).toBe('Nothing was swum in these seven days.');
  expect(await seriousFaults(page)).toEqual([]);
  expect(await widthOf(page)).toBe(1280);
  expect(complaints).toEqual([]);
}, 120_000);
