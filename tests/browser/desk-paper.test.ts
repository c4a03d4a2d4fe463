import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { SteppedClock } from '../../server/rehearsal/clock.ts';
import { Rehearsal } from '../../server/rehearsal/rehearsal.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import { type ResultsAnswer, resultsAnswerSchema } from '../../shared-types/wire/results.ts';
import { paired } from '../fixtures/paired.ts';
import { pool25 } from '../fixtures/planning.ts';
import { runServerOn } from '../fixtures/running-server.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';
import { type PrintedPage, printed } from './printed.ts';

const NAMES = ['Ada', 'Bela', 'Cato', 'Dora', 'Emil'].flatMap((first) =>
  ['Vance', 'Amberley', 'Lind', 'Quill'].map((last) => `${first} ${last}`),
);

/** Twenty swimmers, a set of 24 reps, and one of paced and easy parts. */
const SWUM = {
  practiceText: `# Thursday, mixed groups

Pace: race pace
3 rounds, 1:00 between:
  8 x 50 free @ 1:00 at 200 pace

Rest: active rest
8 x 100 free @ 1:50 (50 at 200 pace, 50 easy)

Down
1 x 200 choice easy
`,
  squadCsv: `swimmer,lane,event,course,time\n${NAMES.map(
    (name, order) => `${name},${1 + (order % 5)},200 free,SCM,2:${String(order).padStart(2, '0')}.00\n`,
  ).join('')}`,
  pool: pool25,
};

const browser = useChromium();

interface Opened {
  readonly page: Page;
  readonly results: ResultsAnswer;
}

/** The results of such a practice on the desk; what asks for the printer does nothing. */
async function openResults(colorScheme: 'light' | 'dark'): Promise<Opened> {
  const clock = new SteppedClock(Date.UTC(2027, 0, 15, 12));
  const { url, ask } = await runServerOn(clock, { pages: async () => PAGES_FOLDER });
  const rehearsal = await Rehearsal.prepared({ server: paired(url), clock, newId: randomId, seed: 5 }, SWUM);
  const { followed } = await rehearsal.run();
  const answer = await ask('GET', `/api/runs/${followed.run.id}/results?role=desk`);
  const context = await browser().newContext({ viewport: { width: 1280, height: 800 }, colorScheme });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.addInitScript('window.print = () => {}');
  await page.goto(`${url}/desk#results`);
  await page.waitForSelector('[data-chart="drawn"]');
  return { page, results: resultsAnswerSchema.parse(answer.body) };
}

const textOf = (pages: readonly PrintedPage[]): string => pages.map(({ text }) => text).join(' ');

/** Every time of some reps as it is written. */
const timesOf = (results: ResultsAnswer, of: (swimmer: string) => boolean): string[] =>
  results.sets.flatMap(({ swimmers }) =>
    swimmers
      .filter(({ swimmer }) => of(results.labels[swimmer] ?? ''))
      .flatMap(({ reps }) => reps.flatMap(({ ms }) => (ms === null ? [] : [formatSwimTime(ms, 1)]))),
  );

/** How often each of these stands in a text: a time that was cut off is missing once. */
function missingFrom(text: string, wanted: readonly string[]): string[] {
  const left = text.split(' ');
  return wanted.filter((word) => {
    const at = left.indexOf(word);
    if (at >= 0) left.splice(at, 1);
    return at < 0;
  });
}

test.for(['A4', 'Letter'] as const)(
  'a practice is printed whole on %s, page by page with its name and day',
  async (format) => {
    const { page, results } = await openResults('dark');
    const complaints = complaintsOf(page);
    await page.click('[data-action="print"]');
    const pages = await printed(page, format);
    expect(pages.length).toBeGreaterThanOrEqual(3);
    expect(pages.length).toBeLessThanOrEqual(8);
    pages.forEach(({ text, beyond }, index) => {
      expect(text).toContain('Thursday, mixed groups, Fri 15 Jan 2027, 12:00');
      expect(text).toContain(`${index + 1} of ${pages.length}`);
      expect(beyond).toBeLessThanOrEqual(0);
    });
    expect(
      missingFrom(
        textOf(pages),
        timesOf(results, () => true),
      ),
    ).toEqual([]);
    for (const name of NAMES) expect(textOf(pages)).toContain(name);
    for (const words of ['Save as CSV', 'Print', 'Practices swum', 'Over the season']) {
      expect(textOf(pages)).not.toContain(words);
    }
    expect(complaints).toEqual([]);
    // What was put on paper is gone from the page again.
    expect(await page.locator('.paper *').count()).toBe(0);
    expect(await page.title()).not.toContain('Thursday');
  },
);

test('one swimmer is handed the own times of the whole practice and nobody else’s', async () => {
  const { page, results } = await openResults('light');
  await page.click('[data-action="print-one"]');
  await page.waitForSelector('dialog[open]');
  expect(await seriousFaults(page)).toEqual([]);
  await page.getByRole('button', { name: 'Dora Quill' }).click();
  const pages = await printed(page, 'A4');
  expect(pages).toHaveLength(1);
  const text = textOf(pages);
  expect(text).toContain('Dora Quill: Thursday, mixed groups, Fri 15 Jan 2027');
  expect(
    missingFrom(
      text,
      timesOf(results, (name) => name === 'Dora Quill'),
    ),
  ).toEqual([]);
  for (const name of NAMES.filter((other) => other !== 'Dora Quill')) expect(text).not.toContain(name);
  // From the browser's own menu it is the practice again.
  expect(textOf(await printed(page, 'A4'))).toContain('Ada Vance');
}, 120_000);
