import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { SteppedClock } from '../../server/rehearsal/clock.ts';
import { Rehearsal } from '../../server/rehearsal/rehearsal.ts';
import { HandMachineClock } from '../fixtures/machine-clock.ts';
import { paired } from '../fixtures/paired.ts';
import { best, pool25, swimmer } from '../fixtures/planning.ts';
import { runServer, runServerOn } from '../fixtures/running-server.ts';
import { Season } from '../fixtures/swum-season.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';

const REHEARSED = {
  practiceText: `# Two kinds of work

Pace: race pace
2 rounds, 2:00 between:
  4 x 50 free @ 1:00 at 200 pace

Average: best average
6 x 100 free @ 2:00 max

Down
1 x 200 choice easy
`,
  squadCsv: `swimmer,lane,event,course,time
Ada Vance,1,200 free,SCM,2:00.00
Ada Sorn,1,200 free,SCM,2:02.00
Cato Lind,2,100 fly,SCM,1:10.00
`,
  pool: pool25,
};

const browser = useChromium();

async function openResults(url: string, colorScheme: 'light' | 'dark'): Promise<Page> {
  const context = await browser().newContext({ viewport: { width: 1440, height: 900 }, colorScheme });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.goto(`${url}/desk#results`);
  return page;
}

const cellsOf = (page: Page, set: number, row: number): Promise<string[]> =>
  page.locator(`[data-set="${set}"] tbody tr`).nth(row).locator('th, td').allInnerTexts();

test('the desk shows the results as a practice is swum, says why a figure is not known, and keeps those of before', async () => {
  const clock = new SteppedClock(Date.UTC(2027, 0, 15, 12));
  const { url, ask, screen } = await runServerOn(clock, { pages: async () => PAGES_FOLDER });
  const rehearsal = await Rehearsal.prepared({ server: paired(url), clock, newId: randomId, seed: 7 }, REHEARSED);
  const page = await openResults(url, 'light');
  const complaints = complaintsOf(page);
  await page.locator('[data-set="0"]').getByText('Not swum.').waitFor();

  const { finished, followed, tally } = await rehearsal.run();
  expect(finished).toBe(true);
  await page.waitForSelector(`[data-results="${followed.run.id}"][data-times="${tally.marksStored}"]`);
  const heads = await page.locator('[data-set="0"] thead tr').last().locator('th').allInnerTexts();
  const reps = [1, 2, 3, 4, 5, 6, 7, 8].map((rep) => `rep ${rep}`);
  expect(heads.map((head) => head.replace('\n', ' '))).toEqual([
    'Swimmer',
    ...['Held', 'In a row', 'At pace'],
    ...reps,
    ...['Mean', 'Spread', 'Fade'],
  ]);
  const [name, held, , , first] = await cellsOf(page, 0, 0);
  expect(name).toMatch(/^Ada Vance\s+\d of 8 held/);
  expect(held).toMatch(/^\d of 8$/);
  // 2:00.00 is 30.0 a 50; whatever was swum, it is said what became of it.
  expect(first).toMatch(/^\d\d\.\d\s+asked\s+30\.0\s+(held|under|missed)$/);

  const unknown = page.locator('[data-set="0"] tbody tr').nth(2).locator('.unknown').first();
  expect(await unknown.getAttribute('aria-label')).toBe('not known: no target, or no times');
  await unknown.focus();
  await unknown.getByText('no target, or no times').waitFor({ state: 'visible' });
  expect(await seriousFaults(page)).toEqual([]);

  const downloading = page.waitForEvent('download');
  await page.click('[data-action="export"]');
  expect((await downloading).suggestedFilename()).toBe('results-2027-01-15.csv');

  await ask('DELETE', '/api/runs/live');
  await page.locator('[data-run]').getByText('finished, ', { exact: false }).waitFor();
  const late = screen('deck');
  await late.hello();
  const [mark] = followed.book.entries.keys();
  await late.ask('mark', { id: randomId(), device: late.device, run: followed.run.id, kind: 'void', mark });
  await page.waitForSelector(`[data-results="${followed.run.id}"][data-times="${tally.marksStored - 1}"]`);
  const size = await page.evaluate(() => {
    const { scrollWidth, scrollHeight } = document.documentElement;
    return [scrollWidth, scrollHeight];
  });
  expect(size).toEqual([1440, 900]);
  const dark = await openResults(url, 'dark');
  await dark.waitForSelector(`[data-results="${followed.run.id}"]`);
  expect(await seriousFaults(dark)).toEqual([]);
  expect(complaints).toEqual([]);
}, 120_000);

test('the desk writes beside a change what it is held against, and why there is none', async () => {
  const machine = new HandMachineClock({ wallMs: Date.UTC(2027, 0, 6, 18) });
  const { url, farwall } = await runServer({ machine, pages: async () => PAGES_FOLDER });
  farwall.store.squad.replace(
    { swimmers: [swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]), swimmer('Bo Tarn', 2, 'B', [])] },
    false,
  );
  const [ada] = farwall.store.squad.squad().swimmers;
  const season = new Season(farwall, { now: farwall.clock.now, pass: (byMs) => machine.pass(byMs) });
  const practice = (sendOff: string): string => `Main: best average\n6 x 100 free @ ${sendOff}\n`;
  // Only Ada is timed the first time.
  season.swim(practice('2:00'), { timeOf: ({ swimmer: own, rep }) => (own === ada?.id ? 62 + rep / 10 : null) });
  season.until(Date.UTC(2027, 0, 13, 18)).swim(practice('2:10'), { timeOf: ({ rep }) => 60.8 + rep / 10 });
  const page = await openResults(url, 'light');
  const change = page.locator('[data-set="0"] tbody tr').nth(0).locator('.figure').nth(3);
  await change.waitFor();
  const [written = ''] = await change.allInnerTexts();
  expect(written.replaceAll(/\s+/g, ' ')).toBe('−1.2 since 6 Jan 2027, other send-off or effort');
  const unknown = page.locator('[data-set="0"] tbody tr').nth(1).locator('.unknown').first();
  expect(await unknown.getAttribute('aria-label')).toBe('not known: not swum before');
  expect(await seriousFaults(page)).toEqual([]);
}, 120_000);
