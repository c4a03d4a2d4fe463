import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';
import { openSquad, withSquad } from './squad-page.ts';

const DEMO = readFileSync(new URL('../../server/demo/squad.csv', import.meta.url), 'utf8');

const browser = useChromium();

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
      const page = await openSquad(browser(), server, scheme);
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
      expect(await page.locator('.squad-list .badge').textContent()).toBe('invented demo squad');
      expect(await seriousFaults(page)).toEqual([]);
      expect(complaints).toEqual([]);
    },
  );

  test('that the desk has saved changes nothing when it is chosen again', async () => {
    const page = await openSquad(browser(), await withSquad());
    const [saved] = await Promise.all([page.waitForEvent('download'), page.click('[data-action="export-squad"]')]);
    await page.setInputFiles('.squad-file input[type="file"]', await saved.path());
    await page.click('[data-action="preview-squad"]:enabled');
    await page.getByText('Loading it would change nothing.').waitFor();
    expect(await page.locator('.preview-counts li').allTextContents()).toEqual(['24 as before']);
  });

  test('that cannot be read at all says what to mend and offers nothing to load', async () => {
    const page = await openSquad(browser(), await withSquad());
    await page.fill('[data-squad-text]', 'name,best\nAda,2:00');
    await page.click('[data-action="preview-squad"]');
    await page.waitForSelector('[data-bad-row="1"]');
    expect(await page.locator('[data-action="load-previewed"]').count()).toBe(0);
    await page.keyboard.press('Escape');
    await page.waitForSelector('dialog', { state: 'detached' });
    expect(await page.inputValue('[data-squad-text]')).toContain('Ada');
  });
});

describe('lanes on the desk', () => {
  /** The names in a lane, in the order in which they leave. */
  const namesIn = (page: Page, lane: number | 'none'): Promise<string[]> =>
    page.locator(`[data-lane-drop="${lane}"] tbody th[scope="row"]`).allTextContents();
  const handle = (page: Page, name: string) => page.getByRole('button', { name: new RegExp(`^Move ${name},`) });

  test('are changed with keys, the focus stays with the swimmer, and each step can be taken back', async () => {
    const server = await withSquad();
    const page = await openSquad(browser(), server);
    const complaints = complaintsOf(page);
    const [one, two] = [await namesIn(page, 1), await namesIn(page, 2)];
    const [first = ''] = one;
    await handle(page, first).focus();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('ArrowDown');
    await expect.poll(() => namesIn(page, 1)).toEqual([one[1], one[2], first, one[3]]);
    await page.keyboard.press('ArrowRight');
    await expect.poll(() => namesIn(page, 2)).toEqual([...two, first]);
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toContain(first);
    await page.keyboard.press('9');
    await page.getByText('There is no lane 9: the pool has 6 lanes.').waitFor();
    await page.keyboard.press('Delete');
    await expect.poll(() => namesIn(page, 'none')).toEqual([first]);
    expect(await seriousFaults(page)).toEqual([]);

    await page.reload();
    await page.waitForSelector('[data-lane-drop="none"]');
    expect(await namesIn(page, 1)).toEqual(one.slice(1));
    await handle(page, first).focus();
    await page.keyboard.press('1');
    await expect.poll(() => namesIn(page, 1)).toEqual([...one.slice(1), first]);
    await page.click('[data-action="undo-lanes"]');
    await expect.poll(() => namesIn(page, 'none')).toEqual([first]);
    expect(complaints).toEqual([]);
  });

  test('are changed by carrying a swimmer to a place in another', async () => {
    const page = await openSquad(browser(), await withSquad());
    const [one, two] = [await namesIn(page, 1), await namesIn(page, 2)];
    const [first = '', target = ''] = [one[3], two[1]];
    const from = handle(page, first);
    await from.scrollIntoViewIfNeeded();
    await page.locator('[data-lane-drop="2"]').scrollIntoViewIfNeeded();
    const [start, end] = [await from.boundingBox(), await page.getByRole('row', { name: target }).boundingBox()];
    if (!start || !end) throw new Error('the rows are not to be seen');
    await page.mouse.move(start.x + start.width / 2, start.y + start.height / 2);
    await page.mouse.down();
    await page.mouse.move(end.x + 40, end.y + 6, { steps: 5 });
    await page.waitForSelector('[data-drop-before]');
    await page.mouse.up();
    await expect.poll(() => namesIn(page, 2)).toEqual([two[0], first, ...two.slice(1)]);
    expect(await namesIn(page, 1)).toEqual(one.slice(0, 3));
    await page.click('[data-action="undo-lanes"]');
    await expect.poll(() => namesIn(page, 1)).toEqual(one);
    expect(await namesIn(page, 2)).toEqual(two);
  });

  test('come into sight while somebody is carried to the edge', async () => {
    const page = await openSquad(browser(), await withSquad());
    const before = await namesIn(page, 1);
    const start = await handle(page, before[0] ?? '').boundingBox();
    if (!start) throw new Error('the handle is not to be seen');
    await page.mouse.move(start.x + 8, start.y + 8);
    await page.mouse.down();
    await page.mouse.move(400, 780, { steps: 120 });
    for (let step = 0; step < 100; step += 1) await page.mouse.move(400 + (step % 2), 790);
    const last = await page.locator('[data-lane-drop="6"]').boundingBox();
    expect(last?.y).toBeLessThan(700);
    await page.keyboard.press('Escape');
    await page.mouse.up();
    expect(await page.locator('[data-carried]').count()).toBe(0);
    expect(await namesIn(page, 1)).toEqual(before);
  });

  test.for(['light', 'dark'] as const)('are proposed with their reasons, and taken or left (%s)', async (scheme) => {
    const page = await openSquad(browser(), await withSquad(), scheme);
    const before = await namesIn(page, 1);
    await page.fill('[name="capacity"]', '13');
    await page.click('[data-action="propose-lanes"]');
    await page.getByText('Write 1 to 12.').waitFor();
    await page.fill('[name="capacity"]', '6');
    await page.fill('[name="event"]', '100 free kick');
    await page.click('[data-action="propose-lanes"]');
    await page.waitForSelector('[data-proposed-lane="6"]');
    expect(await page.locator('[data-proposed-lane="1"] caption').textContent()).toMatch(
      /group A, mean 1:2\d\.\d\d, spread/,
    );
    expect(await seriousFaults(page)).toEqual([]);
    const proposed = await page.locator('[data-proposed-lane="1"] tbody th').allTextContents();
    expect(proposed).not.toEqual(before);
    await page.click('[data-action="leave-proposal"]');
    expect(await namesIn(page, 1)).toEqual(before);
    await page.click('[data-action="propose-lanes"]');
    await page.click('[data-action="take-lanes"]');
    await expect.poll(() => namesIn(page, 1)).toEqual(proposed);
    await page.click('[data-action="undo-lanes"]');
    await expect.poll(() => namesIn(page, 1)).toEqual(before);
    expect(await seriousFaults(page)).toEqual([]);
  });
});

describe('who is here today', () => {
  test.for(['light', 'dark'] as const)('is ticked off, counted, and left out of the sheet (%s)', async (scheme) => {
    const server = await withSquad();
    const page = await openSquad(browser(), server, scheme);
    const complaints = complaintsOf(page);
    const name = (await page.locator('[data-lane-drop="1"] tbody th').first().textContent()) ?? '';
    await page.getByRole('checkbox', { name: `${name} is here today` }).click();
    await page.getByText('23 of 24 swimmers are here today').waitFor();
    await page.getByText('away today').waitFor();
    expect(await seriousFaults(page)).toEqual([]);
    await page.click('[data-action="propose-lanes"]');
    await page.getByText(`Away today and left in their lanes: ${name}.`).waitFor();
    await page.click('[data-action="leave-proposal"]');

    await page.reload();
    await page.getByText('23 of 24 swimmers are here today').waitFor();
    await page.click('[data-area="practice"]');
    await page.waitForSelector('[data-sheet-lane="1"]');
    expect(await page.locator('[data-sheet-lane="1"]').getByText(name).count()).toBe(0);
    expect(complaints).toEqual([]);
  });
});
