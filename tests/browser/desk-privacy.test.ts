import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { describe, expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { practiceIdSchema } from '../../shared-types/brand.ts';
import { swimmerExportSchema } from '../../shared-types/wire/privacy.ts';
import { RunningClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServer, runServerOn, withDemo, withRun } from '../fixtures/running-server.ts';
import { filesWith } from '../fixtures/stored-bytes.ts';
import { Season } from '../fixtures/swum-season.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';
import { openSquad, withSquad } from './squad-page.ts';

const browser = useChromium();
const DAY_MS = 86_400_000;

const laneText = (wall: Page): Promise<string | null> => wall.locator('[data-board] [data-lane="1"]').textContent();

async function openWall({ url }: RunningServer<RunningClock>): Promise<Page> {
  const context = await browser().newContext({ viewport: { width: 960, height: 540 } });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  await page.goto(`${url}/wall`);
  return page;
}

describe('names on walls', () => {
  test.for(['light', 'dark'] as const)('are chosen on the desk, and a wall shows them at once (%s)', async (scheme) => {
    const server = await runServerOn(new RunningClock(), { pages: async () => PAGES_FOLDER });
    await withRun(server);
    const wall = await openWall(server);
    await expect.poll(() => laneText(wall)).toContain('Ines');
    const desk = await openSquad(browser(), server, scheme);
    const complaints = complaintsOf(desk);
    expect(await seriousFaults(desk)).toEqual([]);
    await desk.selectOption('[name="wall-names"]', 'none');
    await desk.click('[data-action="save-privacy"]');
    await desk.getByText('Saved.').waitFor();
    await expect.poll(() => laneText(wall)).toContain('1st leaves next');
    expect(await wall.textContent('body')).not.toContain('Ines');
    await desk.selectOption('[name="wall-names"]', 'initials');
    await desk.click('[data-action="save-privacy"]');
    await expect.poll(() => laneText(wall)).toContain('IV leaves next');
    expect(complaints).toEqual([]);
  });
});

describe('a swimmer', () => {
  test('is saved as a file, and deleted for good once the desk has said what goes and which texts have the name', async () => {
    const server = await withSquad();
    const [ines] = server.farwall.store.squad.squad().swimmers;
    const body = { text: '# For Ines\n\n100 free easy\n', baseVersion: 0 };
    await server.ask('PUT', `/api/practices/${practiceIdSchema.parse(randomId())}`, { body });
    const page = await openSquad(browser(), server);
    const complaints = complaintsOf(page);
    await page.locator('[data-lane-drop="1"] tbody th a').first().click();
    const [file] = await Promise.all([page.waitForEvent('download'), page.click('[data-action="export-swimmer"]')]);
    const exported = swimmerExportSchema.parse(JSON.parse(await readFile(await file.path(), 'utf8')));
    expect(exported.name).toBe(ines?.name);

    await page.click('[data-action="delete-for-good"]');
    await page.getByRole('dialog').getByText('7 reference times', { exact: false }).waitFor();
    expect(await seriousFaults(page)).toEqual([]);
    await page.click('[data-answer="no"]');
    expect(await page.evaluate(() => document.activeElement?.getAttribute('data-action'))).toBe('delete-for-good');
    await page.click('[data-action="delete-for-good"]');
    await page.click('[data-answer="yes"]');
    await page.getByText(`${ines?.name} is deleted for good.`).waitFor();
    expect(await page.textContent('[data-mentions]')).toContain('“For Ines”');
    await page.getByText('23 swimmers', { exact: true }).waitFor();
    await expect.poll(() => filesWith(server.folder, ines?.name ?? '')).toEqual([]);
    expect(complaints).toEqual([]);
  });

  test('who was taken out of the squad before is still found, and nothing can be taken back after that', async () => {
    const server = await withSquad();
    const { farwall, machine } = server;
    // No longer the demo's, who are not asked after.
    farwall.store.squad.replace(farwall.store.squad.squad(), false);
    const season = new Season(farwall, { now: farwall.clock.now, pass: (byMs) => machine.pass(byMs) });
    season.swim('Main: best average\n2 x 100 free @ 2:00\n', { timeOf: () => 61 });
    const page = await openSquad(browser(), server);
    await page.locator('[data-lane-drop="1"] tbody th a').first().click();
    await page.click('[data-action="remove-swimmer"]');
    await page.waitForSelector('[data-action="undo-swimmer"]');
    await page.getByText('Out of the squad, but still stored').click();
    await page.getByRole('button', { name: 'Delete Ines Valdoro for good' }).click();
    await page.getByRole('dialog').getByText('2 times taken', { exact: false }).waitFor();
    await page.click('[data-answer="yes"]');
    await page.getByText('Nobody.').waitFor();
    expect(await page.locator('[data-action="undo-swimmer"]').count()).toBe(0);
    await expect.poll(() => filesWith(server.folder, 'Valdoro')).toEqual([]);
  });
});

test('what is older than is to be kept is told before it is deleted, by the day of the pool’s clock', async () => {
  const server = await runServer({ pages: async () => PAGES_FOLDER });
  await withDemo(server);
  const { farwall, machine } = server;
  const season = new Season(farwall, { now: farwall.clock.now, pass: (byMs) => machine.pass(byMs) });
  season.swim('Main: best average\n2 x 100 free @ 2:00\n', { timeOf: () => 61 });
  machine.pass(400 * DAY_MS);
  season.swim('Main: best average\n2 x 100 free @ 2:00\n', { timeOf: () => 60 });
  const page = await openSquad(browser(), server);
  await page.selectOption('[name="keep-months"]', '12');
  await page.click('[data-action="save-privacy"]');
  await page.getByRole('dialog').getByText('1 practice with 48 times', { exact: false }).waitFor();
  await page.click('[data-answer="no"]');
  expect(await page.inputValue('[name="keep-months"]')).toBe('none');
  await page.selectOption('[name="keep-months"]', '12');
  await page.click('[data-action="save-privacy"]');
  await page.click('[data-answer="yes"]');
  await page.getByText('Saved. Deleted: 1 practice with 48 times', { exact: false }).waitFor();
  expect(farwall.store.runList.page(10, null).runs).toHaveLength(1);
  await page.click('[data-action="delete-older"]');
  await page.getByText('Nothing is older.').waitFor();
});
