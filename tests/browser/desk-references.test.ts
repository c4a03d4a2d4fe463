import type { Page } from 'playwright-core';
import { expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { pool25 } from '../fixtures/planning.ts';
import { SwumOnServer } from '../fixtures/swum-on-server.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';

const REHEARSED = {
  practiceText: `# Strength and speed

Raw: power
4 x 25 free max with pulley 10 kg @ 2:00
`,
  squadCsv: `swimmer,lane,event,course,time
Ada Vance,1,100 free,SCM,58.00
Bela Sorn,1,100 free,SCM,59.00
`,
  pool: { ...pool25, rig: { ratio: 10, stackHeightM: 2.5, timedDistance: 20 } },
};

const browser = useChromium();

async function openResults(url: string, colorScheme: 'light' | 'dark' = 'light'): Promise<Page> {
  const context = await browser().newContext({ viewport: { width: 1280, height: 800 }, colorScheme });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.goto(`${url}/desk#results`);
  return page;
}

test('loads are written down by keyboard, make the power, and stay for who looks later', async () => {
  const practice = await SwumOnServer.after(12, REHEARSED, { pages: async () => PAGES_FOLDER });
  for (const swimmer of ['Ada Vance', 'Bela Sorn']) {
    for (const rep of [1, 2, 3, 4]) {
      await practice.take({ swimmer, step: `4.0.0.${rep}`, distance: 20, seconds: 9 + rep });
    }
  }
  const page = await openResults(practice.server.url);
  const complaints = complaintsOf(page);
  const set = page.locator('[data-set="0"]');
  await set.locator('[data-caution]').getByText('the lifeguard on duty decide', { exact: false }).waitFor();
  expect(await page.locator('[data-caution]').count()).toBe(1);
  await set.getByText('Loads that were really pulled').click();
  const first = set.getByLabel('Ada Vance, rep 1', { exact: true });
  expect(await first.getAttribute('placeholder')).toBe('10 kg');
  await first.focus();
  await page.keyboard.type('12');
  await page.keyboard.press('Alt+ArrowRight');
  expect(await set.getByLabel('Ada Vance, rep 4', { exact: true }).inputValue()).toBe('12');
  await page.keyboard.press('Enter');
  await page.keyboard.type('heavy');
  await page.click('[data-action="keep-loads"]');
  await set.getByText('Bela Sorn, rep 1: “heavy” is not a load.', { exact: false }).waitFor();
  expect(await set.getByLabel('Bela Sorn, rep 1', { exact: true }).getAttribute('aria-invalid')).toBe('true');
  await set.getByLabel('Bela Sorn, rep 1', { exact: true }).fill('60 N');
  expect(await seriousFaults(page)).toEqual([]);
  await page.click('[data-action="keep-loads"]');
  // 12 kg, 10:1, 20 m in 10 s: 23.5 W; 60 N over 20 m in 10 s: 120 W (computed).
  const rows = set.locator('.times-table tbody tr');
  await rows.nth(0).getByText('12 kg, best 10.0, 23.5 W', { exact: false }).waitFor();
  await rows.nth(1).getByText('10 kg and 60 N, best 10.0, 120.0 W', { exact: false }).waitFor();
  expect(await first.inputValue()).toBe('12 kg');

  const other = await openResults(practice.server.url, 'dark');
  await other.locator('[data-set="0"]').getByText('Loads that were really pulled').click();
  expect(await other.getByLabel('Bela Sorn, rep 1', { exact: true }).inputValue()).toBe('60 N');
  expect(await seriousFaults(other)).toEqual([]);
  expect(complaints).toEqual([]);
});

test('a result is taken over as a reference and undone, and the other desk sees either when it asks again', async () => {
  const practice = await SwumOnServer.after(
    12,
    {
      practiceText: '# Fast\n\nBlocks: stand-up\n2 x 100 free from a dive max @ 4:00\n',
      squadCsv: `swimmer,lane,event,course,time,kind,date
Ada Vance,1,100 free,SCM,58.00,best,2026-06-01
,,100 free,SCM,59.10,test,2026-10-03
`,
      pool: pool25,
    },
    { pages: async () => PAGES_FOLDER },
  );
  await practice.take({ swimmer: 'Ada Vance', step: '4.0.0.1', seconds: 58.43 });
  await practice.take({ swimmer: 'Ada Vance', step: '4.0.0.2', seconds: 60.2 });
  const { url } = practice.server;
  const [page, other] = [await openResults(url), await openResults(url, 'dark')];
  const complaints = complaintsOf(page);
  const words = 'Ada Vance, 100 free SCM test 58.4 (before: 59.10 of 3 Oct 2026)';
  await page.getByText('References from this set: 1 on offer').click();
  await page.getByRole('button', { name: `Take over as reference: ${words}` }).click();
  const undo = page.getByRole('button', { name: `Undo: ${words}` });
  await undo.waitFor();
  expect(await seriousFaults(page)).toEqual([]);

  await other.locator('[data-run]').click();
  await other.getByText('References from this set: 1 taken over').click();
  await other.getByRole('button', { name: `Undo: ${words}` }).waitFor();
  expect(await seriousFaults(other)).toEqual([]);
  await other.reload();
  await other.click('[data-area="squad"]');
  await other.getByRole('link', { name: 'Ada Vance' }).click();
  const test = '[data-time="100 free SCM, test"]';
  await other.waitForSelector(test);
  expect(await other.locator(test).allInnerTexts()).toEqual([expect.stringMatching(/58\.4\s.*15 Jan 2027.*by hand/s)]);

  await undo.click();
  await page.getByRole('button', { name: `Take over as reference: ${words}` }).waitFor();
  await page.click('[data-area="squad"]');
  await page.getByRole('link', { name: 'Ada Vance' }).click();
  await page.locator(test).getByText('59.10').waitFor();
  await page.locator('[data-time="100 free SCM, best"]').getByText('58.00').waitFor();
  expect(complaints).toEqual([]);
});

test('the pulley and the tolerance are written on the squad page, and the results go by them', async () => {
  const practice = await SwumOnServer.after(12, { ...REHEARSED, pool: pool25 }, { pages: async () => PAGES_FOLDER });
  await practice.take({ swimmer: 'Ada Vance', step: '4.0.0.1', seconds: 12.5 });
  const page = await openResults(practice.server.url);
  await page.getByText('Loads that were really pulled').click();
  await page.getByText('Power needs the ratio of the pulley: write it on the squad page.', { exact: false }).waitFor();
  await page.click('[data-area="squad"]');
  const form = page.locator('form.pool');
  const write = (label: string, text: string): Promise<void> => form.getByLabel(label).fill(text);
  await write('Held within, s a 50', '0.5');
  await write('Pulley: rope out for 1 m up', '5');
  await write('Its stack goes up, m', '2.5');
  await write('It is timed over, m or yd', '20');
  await page.click('[data-action="save-pool"]');
  await form.getByText('Over 20 m at 5 : 1 the stack would go up 4.0 m, and it goes up 2.5 m.').waitFor();
  expect(await seriousFaults(page)).toEqual([]);
  await write('Pulley: rope out for 1 m up', '10:1');
  await page.click('[data-action="save-pool"]');
  await page.getByText('Pool settings saved.').waitFor();
  await page.click('[data-area="results"]');
  await page.locator('[data-run]').click();
  // 10 kg, 10:1, 25 m in 12.5 s: 19.6 W (computed); it was timed over the whole rep.
  await page.getByText('10 kg, best 12.5, 19.6 W', { exact: false }).waitFor();
  await page.getByText('within 0.5 s a 50', { exact: false }).waitFor();
});
