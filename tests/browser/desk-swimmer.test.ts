import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { swimmer } from '../fixtures/planning.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';
import { openSquad, withSquad } from './squad-page.ts';

const browser = useChromium();

const timesOn = (page: Page) => page.locator('[data-time]');

describe('one swimmer on the desk', () => {
  test.for(['light', 'dark'] as const)(
    'is opened from the squad, and times are added, changed and taken out, each with an undo (%s)',
    async (scheme) => {
      const server = await withSquad();
      const page = await openSquad(browser(), server, scheme);
      const complaints = complaintsOf(page);
      const first = page.locator('[data-lane-drop="1"] tbody th a').first();
      const name = (await first.textContent()) ?? '';
      await first.click();
      await page.waitForSelector('[data-swimmer-page]');
      const before = await timesOn(page).count();
      expect(await page.locator('[data-threshold="free"]').textContent()).toContain('critical speed');
      expect(await seriousFaults(page)).toEqual([]);

      await page.fill('.time-entry [name="event"]', '100 back');
      await page.fill('.time-entry [name="time"]', 'quick');
      await page.click('[data-action="save-time"]');
      await page.getByText('“quick” is not a swim time.').waitFor();
      await page.fill('.time-entry [name="time"]', '1.04,35');
      await page.fill('.time-entry [name="date"]', '2026-11-01');
      await page.click('[data-action="save-time"]');
      await page.locator('[data-time="100 back SCM, best"]').getByText('1:04.35').waitFor();
      expect(await page.inputValue('.time-entry [name="event"]')).toBe('');

      await page.click('[data-time="100 back SCM, best"] [data-action="change-time"]');
      await page.fill('.time-entry [name="time"]', '1:03.9');
      await page.click('[data-action="save-time"]');
      await page.locator('[data-time="100 back SCM, best"]').getByText('1:03.90').waitFor();
      await page.click('[data-action="undo-swimmer"]');
      await page.locator('[data-time="100 back SCM, best"]').getByText('1:04.35').waitFor();

      await page.click('[data-time="100 back SCM, best"] [data-action="remove-time"]');
      await page.waitForSelector('[data-time="100 back SCM, best"]', { state: 'detached' });
      expect(await timesOn(page).count()).toBe(before);
      await page.getByRole('button', { name: `Undo: 100 back SCM, best of ${name}` }).click();
      await page.waitForSelector('[data-time="100 back SCM, best"]');
      expect(complaints).toEqual([]);
    },
  );

  test('gets another name and a short one for walls; not the name of another', async () => {
    const server = await withSquad();
    const page = await openSquad(browser(), server);
    await page.locator('[data-lane-drop="1"] tbody th a').first().click();
    await page.fill('[name="name"]', 'marek  teskov');
    await page.click('[data-action="save-swimmer"]');
    await page.getByText('There is a swimmer called Marek Teskov already.').waitFor();
    await page.fill('[name="name"]', 'Ines Valdoro-Brandt');
    await page.fill('[name="short"]', 'Nessi');
    await page.click('[data-action="save-swimmer"]');
    await page.getByRole('heading', { name: 'Ines Valdoro-Brandt' }).waitFor();
    expect(server.farwall.store.squad.squad().swimmers[0]).toMatchObject({ short: 'Nessi' });
  });

  test('is taken out and put back, and another one added', async () => {
    const server = await withSquad();
    const page = await openSquad(browser(), server);
    await page.locator('[data-lane-drop="1"] tbody th a').first().click();
    await page.click('[data-action="remove-swimmer"]');
    await page.getByText('23 swimmers', { exact: true }).waitFor();
    await page.click('[data-action="undo-swimmer"]');
    await page.getByText('24 swimmers', { exact: true }).waitFor();

    await page.click('[data-action="new-swimmer"]');
    await page.click('[data-action="save-swimmer"]');
    await page.getByText('A swimmer needs a name.').waitFor();
    await page.fill('[name="name"]', 'Cy Orrin');
    expect(await seriousFaults(page)).toEqual([]);
    await page.click('[data-action="save-swimmer"]');
    await page.getByText('No times yet, so there are no targets. Add one below.').waitFor();
    await page.getByText('no lane').waitFor();
    await page.getByRole('link', { name: 'All swimmers' }).click();
    await page.locator('[data-lane-drop="none"]').getByText('Cy Orrin').waitFor();
  });

  test('changed on another desk shows there as well', async () => {
    const server = await withSquad();
    const [page, other] = [await openSquad(browser(), server), await openSquad(browser(), server)];
    await page.locator('[data-lane-drop="1"] tbody th a').first().click();
    await page.waitForSelector('[data-swimmer-page]');
    await other.goto(page.url());
    await other.waitForSelector('[data-swimmer-page]');
    await other.fill('[name="short"]', 'Nessi');
    await other.click('[data-action="save-swimmer"]');
    await expect.poll(() => page.inputValue('[name="short"]')).toBe('Nessi');
  });

  test('of hundreds without a lane is found by showing more of them', async () => {
    const server = await withSquad();
    const many = Array.from({ length: 70 }, (_, place) => {
      const { lane: _lane, ...rest } = swimmer(`Swimmer ${place}`, 1, 'A', []);
      return rest;
    });
    server.farwall.store.squad.replace({ swimmers: many }, false);
    const page = await openSquad(browser(), server);
    const rows = page.locator('[data-lane-drop="none"] [data-swimmer]');
    await expect.poll(() => rows.count()).toBe(30);
    await page.getByRole('button', { name: 'Show 30 more of 70 without a lane' }).click();
    await page.getByRole('button', { name: 'Show 10 more of 70 without a lane' }).click();
    expect(await rows.count()).toBe(70);
  });
});
