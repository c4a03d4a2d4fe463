import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { squadAnswerSchema } from '../../shared-types/wire/desk.ts';
import { type RunningServer, runServer, withDemo } from '../fixtures/running-server.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';
import { type PrintedPage, printed } from './printed.ts';

const browser = useChromium();

interface Opened {
  readonly page: Page;
  readonly server: RunningServer;
}

/** The demo's power practice on the desk; what asks for the printer does nothing. */
async function openPractice(): Promise<Opened> {
  const server = await runServer({ pages: async () => PAGES_FOLDER });
  await withDemo(server);
  const context = await browser().newContext({ viewport: { width: 1280, height: 800 }, colorScheme: 'dark' });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.addInitScript('window.print = () => {}');
  await page.goto(`${server.url}/desk`);
  await page.click('.library li button:has-text("power and speed")');
  await page.waitForSelector('[data-action="put-on-wall"]:not([disabled])');
  return { page, server };
}

async function press(page: Page, action: string): Promise<void> {
  await page.click('.more-actions summary');
  await page.click(`[data-action="${action}"]`);
}

const textOf = (pages: readonly PrintedPage[]): string => pages.map(({ text }) => text).join(' ');

test.for(['A4', 'Letter'] as const)('a practice is printed on one page of %s, with its cautions', async (format) => {
  const { page } = await openPractice();
  const complaints = complaintsOf(page);
  await page.click('.more-actions summary');
  expect(await seriousFaults(page)).toEqual([]);
  await page.click('[data-action="print-practice"]');
  const pages = await printed(page, format);
  expect(pages).toHaveLength(1);
  expect(pages[0]?.beyond).toBeLessThanOrEqual(0);
  for (const words of ['Friday: power and speed', '8 x 25 free max with pulley 12 kg @ 2:00', '200 choice easy']) {
    expect(textOf(pages)).toContain(words);
  }
  expect(textOf(pages)).toContain('the lifeguard on duty decide');
  expect(textOf(pages)).toMatch(/1,800 m, 1:10:12; .*power 47 min/);
  for (const words of ['Put on the wall', 'Practices']) expect(textOf(pages)).not.toContain(words);
  expect(await page.locator('.paper *').count()).toBe(0);
  expect(complaints).toEqual([]);
});

test('two hours of practice are printed on one page, too', async () => {
  const { page } = await openPractice();
  const lines = Array.from({ length: 100 }, (_, place) => `${1 + (place % 9)} x 25 free @ :40`);
  await page.click('[data-action="new-practice"]');
  await page.click('.cm-content');
  await page.keyboard.insertText(`# Long\n\nMain\n${lines.join('\n')}\n`);
  await page.waitForSelector('[data-action="put-on-wall"]:not([disabled])');
  await press(page, 'print-practice');
  const pages = await printed(page, 'A4');
  expect(pages).toHaveLength(1);
  expect(textOf(pages).match(/ x 25 free @ :40/g)).toHaveLength(100);
  expect(pages[0]?.beyond).toBeLessThanOrEqual(0);
});

test.for(['A4', 'Letter'] as const)('a card for each lane is printed on %s, none split over pages', async (format) => {
  const { page, server } = await openPractice();
  const squad = squadAnswerSchema.parse((await server.ask('GET', '/api/squad')).body);
  await press(page, 'print-cards');
  const pages = await printed(page, format);
  expect(pages.length).toBeLessThanOrEqual(6);
  expect(Math.max(...pages.map(({ beyond }) => beyond))).toBeLessThanOrEqual(0);
  for (const lane of new Set(squad.swimmers.map((one) => one.lane))) {
    const own = pages.filter(({ text }) => text.includes(`Lane ${lane} group`));
    expect(own).toHaveLength(1);
    // Everybody of the lane stands on the page on which its card begins, and so does its last line.
    const card = own[0]?.text.split(`Lane ${lane} group`)[1]?.split(/Lane \d group/)[0] ?? '';
    for (const { name } of squad.swimmers.filter((one) => one.lane === lane)) {
      for (const part of name.split(/[ -]/)) expect(card).toContain(part);
    }
    expect(card).toContain('200 choice');
  }
  expect(textOf(pages)).toContain('Clock readings are for a pace clock that stands at :00');
});
