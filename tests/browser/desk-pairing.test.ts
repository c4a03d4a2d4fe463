import type { BrowserContext, Page } from 'playwright-core';
import { describe, expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { type RunningServer, runServer, withRun } from '../fixtures/running-server.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';

const browser = useChromium();

const withPages = (setup: Parameters<typeof runServer>[0] = {}): Promise<RunningServer> =>
  runServer({ pages: async () => PAGES_FOLDER, ...setup });

/** A device that has never been here. */
async function newDevice(size = { width: 1024, height: 768 }): Promise<BrowserContext> {
  const context = await browser().newContext({ viewport: size });
  onTestFinished(() => context.close());
  await context.clearCookies();
  return context;
}

async function openToday({ url }: RunningServer): Promise<{ desk: Page; complaints: string[] }> {
  const context = await browser().newContext({ viewport: { width: 1280, height: 900 } });
  onTestFinished(() => context.close());
  const desk = await context.newPage();
  const complaints = complaintsOf(desk);
  await desk.goto(`${url}/desk#today`);
  await desk.waitForSelector('[data-action="pair-coach"]');
  return { desk, complaints };
}

/** Presses for a code on the desk. @returns the code, and the address that its picture holds */
async function codeOn(desk: Page, access: string): Promise<{ code: string; address: string }> {
  await desk.click(`[data-action="pair-${access}"]`);
  const code = (await desk.textContent('[data-code]')) ?? '';
  return { code, address: (await desk.getAttribute('[data-qr]', 'data-qr')) ?? '' };
}

/** What no coach's desk may offer, by action or by the name of a field. */
const FOR_OWNERS = [
  ...['demo', 'remove-demo', 'bring-back-demo', 'save', 'delete', 'copy-week', 'take-over', 'undo-take-over'],
  ...['new-swimmer', 'save-swimmer', 'remove-swimmer', 'change-time', 'remove-time', 'save-time', 'name', 'short'],
  ...['preview-squad', 'undo-load', 'take-lanes', 'save-pool', 'save-privacy', 'export-swimmer', 'delete-for-good'],
  ...['set-wall', 'forget-wall', 'end-device', 'pair-screen', 'pair-coach', 'pair-owner'],
];

describe('a tablet', () => {
  test('is asked for the code, paired by it, seen on the desk, and cut off there', async () => {
    const server = await withPages();
    await withRun(server);
    const { desk, complaints } = await openToday(server);
    // Only the area scrolls: with the whole page its head would go.
    expect(await desk.evaluate(() => document.documentElement.scrollHeight <= window.innerHeight)).toBe(true);
    const { code } = await codeOn(desk, 'coach');
    expect(await seriousFaults(desk)).toEqual([]);

    const tablet = await newDevice({ width: 768, height: 1024 });
    const page = await tablet.newPage();
    const held = complaintsOf(page);
    await page.goto(`${server.url}/deck`);
    await page.waitForURL('**/pair?to=/deck');
    expect(await seriousFaults(page)).toEqual([]);
    await page.fill('[name="code"]', 'AAAA-AAAA');
    await page.fill('[name="name"]', 'Far tablet');
    await page.press('[name="name"]', 'Enter');
    await page.waitForSelector('[role="alert"]');
    expect(await page.textContent('[role="alert"]')).toContain('This is not the code that the desk shows now.');
    await page.fill('[name="code"]', code.toLowerCase().replace('-', ''));
    await page.press('[name="code"]', 'Enter');
    await page.waitForSelector('[data-deck][data-link="live"]');
    expect(new URL(page.url()).pathname).toBe('/deck');
    expect(await page.evaluate(() => document.cookie)).toBe('');

    await desk.waitForSelector('[data-joined]');
    expect(await desk.textContent('[data-joined]')).toBe('“Far tablet” is paired.');
    await desk.waitForSelector('[data-device="coach"]:has-text("1 page open")');
    await desk.click('[data-device="coach"] [data-action="end-device"]');
    await desk.click('dialog .strong');
    await page.waitForURL('**/pair?to=/deck&ended');
    expect(await page.textContent('[data-ended]')).toContain('The pairing of this device was ended');
    await desk.waitForSelector('[data-device="coach"]', { state: 'detached' });
    expect(held).toEqual([]);
    expect(complaints).toEqual([]);
  });

  test('that is opened by the picture has the code already, and it is out of the address', async () => {
    const server = await withPages();
    const { desk } = await openToday(server);
    const { code, address } = await codeOn(desk, 'screen');
    const { pathname, search, hash } = new URL(address);
    expect([pathname, search, hash]).toEqual(['/pair', '?to=/wall', `#code=${code}`]);
    const tv = await newDevice({ width: 1920, height: 1080 });
    const page = await tv.newPage();
    await page.goto(`${server.url}${pathname}${search}${hash}`);
    expect(await page.inputValue('[name="code"]')).toBe(code);
    expect(page.url()).toBe(`${server.url}/pair?to=/wall`);
    await page.click('button');
    await page.waitForSelector('[data-board][data-link="live"]', { state: 'attached' });
    // What it may not do it is told, and how to change that.
    await page.goto(`${server.url}/desk`);
    await page.waitForSelector('[data-paired="screen"]');
    expect(await page.textContent('[data-paired]')).toContain('For the desk that is not enough: pair it anew.');
    await page.click('[data-action="leave"]');
    await page.waitForSelector('[data-paired]', { state: 'detached' });
    await page.goto(`${server.url}/wall`);
    await page.waitForURL('**/pair?to=/wall');
  });
});

describe('a desk that is paired as a coach', () => {
  test('says what it may not do, and has no list of devices', async () => {
    const server = await withPages();
    await withRun(server);
    const { desk } = await openToday(server);
    const { code } = await codeOn(desk, 'coach');
    const page = await (await newDevice()).newPage();
    await page.goto(`${server.url}/pair?to=/desk#code=${code}`);
    await page.click('button');
    await page.waitForSelector('[data-desk] [data-link="live"]');
    await page.waitForSelector('[data-only-coach]');
    await page.goto(`${server.url}/desk#today`);
    await page.waitForSelector('[data-live-title]');
    expect(await page.locator('.devices-card, .pair-device').count()).toBe(0);
    expect(await seriousFaults(page)).toEqual([]);
  });

  test('reads everything, and has nothing alive that is for owners', async () => {
    const server = await withPages();
    await withRun(server);
    const { desk } = await openToday(server);
    const { code } = await codeOn(desk, 'coach');
    const page = await (await newDevice()).newPage();
    const refused: string[] = [];
    page.on('response', (answer) => {
      if (answer.status() === 403) refused.push(`${answer.request().method()} ${new URL(answer.url()).pathname}`);
    });
    await page.goto(`${server.url}/pair?to=/desk#code=${code}`);
    await page.click('button');
    await page.waitForSelector('[data-only-coach]');
    const [swimmer] = server.farwall.store.squad.squad().swimmers;
    const places = {
      practice: '.library',
      plan: '[data-day]',
      squad: '.squad-lane',
      [`squad/${swimmer?.id}`]: '[data-swimmer-page]',
      today: '.walls-card',
      results: '.runs',
    };
    const alive: string[] = [];
    for (const [hash, seen] of Object.entries(places)) {
      await page.goto(`${server.url}/desk#${hash}`);
      await page.waitForSelector(`main:not([hidden]) ${seen}`);
      const enabled = page.locator('main:not([hidden]) :is(button, input, select, textarea, a):enabled');
      alive.push(
        ...(await enabled.evaluateAll((all) =>
          all.map((one) => one.getAttribute('data-action') ?? one.getAttribute('name') ?? ''),
        )),
      );
      expect(await seriousFaults(page)).toEqual([]);
    }
    expect(alive).toContain('put-on-wall');
    expect(alive.filter((what) => FOR_OWNERS.includes(what))).toEqual([]);
    expect(refused).toEqual([]);
  });
});

describe('the first owner', () => {
  test('opens the address with the key, which is good once', async () => {
    const server = await withPages({ isPaired: false });
    const laptop = await newDevice();
    const page = await laptop.newPage();
    const address = `${server.url}/pair#key=${server.farwall.ownerKey}`;
    await page.goto(address);
    expect(await page.inputValue('[name="name"]')).toMatch(/^Desk, /);
    expect(page.url()).toBe(`${server.url}/pair`);
    await page.click('button');
    await page.waitForSelector('[data-desk] [data-link="live"]');
    expect(new URL(page.url()).pathname).toBe('/desk');

    const other = await (await newDevice()).newPage();
    await other.goto(address);
    await other.click('button');
    await other.waitForSelector('[role="alert"]');
    expect(await other.textContent('[role="alert"]')).toContain('This address has been used');
  });
});

describe('a page', () => {
  test('that has lost the server stays: it is not taken for one that is no longer paired', async () => {
    const server = await withPages();
    await withRun(server);
    const context = await browser().newContext();
    onTestFinished(() => context.close());
    const page = await context.newPage();
    await page.goto(`${server.url}/wall`);
    await page.waitForSelector('[data-board][data-link="live"]', { state: 'attached' });
    await server.farwall.close();
    await page.waitForSelector('[data-board][data-link="alone"]', { state: 'attached' });
    const tried = page.waitForEvent('requestfailed', (request) => request.url().endsWith('/api/access'));
    await tried;
    expect(new URL(page.url()).pathname).toBe('/wall');
  });
});
