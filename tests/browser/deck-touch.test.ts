import type { BrowserContext, Locator, Page } from 'playwright-core';
import { describe, expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import type { RunState } from '../../shared-types/events.ts';
import { foldMarks, marksOf, NO_MARKS } from '../../shared-types/marks.ts';
import { RunningClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServerOn, withDemo, withRun } from '../fixtures/running-server.ts';
import { complaintsOf, seriousFaults, useChromium } from './chrome.ts';
import { clippedWords, crampedButtons, DEVICES, smallCells } from './deck-room.ts';
import { fingerOn } from './finger.ts';
import { fillPool } from './full-pool.ts';

const browser = useChromium();

const serve = (): Promise<RunningServer> =>
  runServerOn(new RunningClock(), { allowedHosts: ['pool.test'], pages: async () => PAGES_FOLDER });

interface OpenDeck {
  readonly page: Page;
  /** Errors of its script and breaches of its security policy. */
  readonly complaints: string[];
  press(kind: string, when?: string): Locator;
  becomes(state: RunState | 'idle'): Promise<unknown>;
}

/** @param loses messages of the server that this page is never to hear */
async function openDeck(
  server: RunningServer,
  size: keyof typeof DEVICES = 'a tablet lying',
  loses: (message: string) => boolean = () => false,
): Promise<OpenDeck> {
  const { width, height } = DEVICES[size];
  const context: BrowserContext = await browser().newContext({ viewport: { width, height }, hasTouch: true });
  onTestFinished(() => context.close());
  const page = await context.newPage();
  const complaints = complaintsOf(page);
  await page.routeWebSocket(/socket\.io/, (route) => {
    const beyond = route.connectToServer();
    beyond.onMessage((message) => {
      if (!loses(String(message))) route.send(message);
    });
  });
  await page.goto(`${server.url.replace('127.0.0.1', 'pool.test')}/deck`);
  await page.waitForSelector('[data-deck][data-link="live"][data-told="true"]');
  return {
    page,
    complaints,
    press: (kind, when) => page.locator(`[data-press="${kind}"]${when === undefined ? '' : `[data-when="${when}"]`}`),
    becomes: (state) => page.waitForSelector(`[data-deck][data-state="${state}"]`),
  };
}

describe('the deck in a wet hand', () => {
  test('runs a practice on plain http: start, hold, resume, next, shift, finish', async () => {
    const server = await serve();
    const run = await withRun(server);
    const { page, complaints, press, becomes } = await openDeck(server);
    expect(await page.evaluate(() => isSecureContext)).toBe(false);
    expect(await page.locator('[data-lane]').count()).toBe(6);
    await press('start', 'now').tap();
    await becomes('running');
    await page.waitForSelector('[data-press="hold"]:enabled');
    await page.locator('[data-lane="3"] [data-menu]').tap();
    await page.locator('[data-lane="3"] [data-by="5000"]').tap();
    await press('hold').tap();
    await becomes('held');
    expect(server.farwall.store.runs.eventsOf(run.id).map(({ kind }) => kind)).toEqual(['start', 'shift', 'hold']);
    await page.locator('[data-press="resume"][data-when="now"]:enabled').tap();
    await becomes('running');
    await page.locator('[data-press="next"][data-when="now"]:enabled').tap();
    await page.waitForSelector('[data-press="finish"]:enabled');
    const finger = await fingerOn(page, press('finish'));
    await finger.down();
    await becomes('finished');
    await finger.up();
    expect(complaints).toEqual([]);
  });

  test('acts when the finger is lifted inside the button, not when it slides off or is taken away', async () => {
    const server = await serve();
    await withRun(server);
    const { page, press, becomes } = await openDeck(server);
    const finger = await fingerOn(page, press('start', 'grid'));
    await finger.down();
    await finger.slideOff();
    await finger.up();
    await finger.down();
    await finger.takenAway();
    await finger.down();
    expect(server.farwall.keeper.run?.state).toBe('ready');
    await finger.up();
    await becomes('running');
    expect(server.farwall.keeper.run?.seq).toBe(1);
  });

  test('finishes nothing by a short touch', async () => {
    const server = await serve();
    await withRun(server);
    const { page, press } = await openDeck(server);
    const finger = await fingerOn(page, press('finish'));
    await finger.down();
    await page.waitForSelector('.finish.holding');
    await finger.up();
    await page.waitForSelector('.finish:not(.holding)');
    expect(server.farwall.keeper.run?.state).toBe('ready');
  });

  test('starts by key as well', async () => {
    const server = await serve();
    await withRun(server);
    const { page, press, becomes } = await openDeck(server);
    await press('start', ':00').focus();
    await page.keyboard.press('Enter');
    await becomes('running');
  });

  test('[CMD3] says in words what another device did when that came first, and catches up', async () => {
    const server = await serve();
    const run = await withRun(server);
    const { page, press, becomes } = await openDeck(server, 'a tablet lying', (message) => message.includes('"event"'));
    const other = server.screen('deck');
    await other.hello();
    await other.ask('command', other.command({ kind: 'start', when: 'now' }, run, server.farwall.clock.now()));
    await press('start', 'now').tap();
    await page.getByText('Another device started the practice', { exact: false }).waitFor();
    await becomes('running');
    expect(server.farwall.keeper.run?.seq).toBe(1);
  });

  test('says in words why a lane cannot leave so much earlier', async () => {
    const server = await serve();
    await withRun(server);
    const { page, press, becomes } = await openDeck(server);
    await press('start', 'grid').tap();
    await becomes('running');
    await page.locator('[data-lane="3"] [data-menu]').tap();
    const earlier = page.locator('[data-lane="3"] [data-by="-5000"]');
    await earlier.tap();
    await earlier.tap();
    await page.locator('[data-notice]').getByText('Lane 3', { exact: false }).waitFor();
    await page.locator('[data-notice] button').tap();
    await page.waitForSelector('[data-notice]:empty', { state: 'attached' });
  });

  test('[CMD8] says that presses will not count once the server is gone', async () => {
    const server = await serve();
    await withRun(server);
    const { page, press } = await openDeck(server);
    await server.farwall.close();
    await page.waitForSelector('[data-deck][data-link="alone"]');
    expect(await page.textContent('[data-link-words]')).toBe('server not reached: presses will not count');
    expect(await press('start', 'grid').isDisabled()).toBe(true);
    expect(await page.locator('[data-lane]').count()).toBe(6);
  });

  test('says what to do when nothing is on the wall, and shows a practice as soon as one is', async () => {
    const server = await serve();
    const { page, becomes } = await openDeck(server);
    expect(await page.textContent('h1')).toBe('Nothing is on the wall.');
    const [practice] = await withDemo(server);
    await server.ask('POST', '/api/runs', { body: { practice: practice?.id, version: 1, replace: false } });
    await becomes('ready');
  });

  test('does not say that nothing is on the wall while the sheet of what is on it has yet to come', async () => {
    const server = await serve();
    await withRun(server);
    const context = await browser().newContext();
    onTestFinished(() => context.close());
    const page = await context.newPage();
    const sheetAsked = Promise.withResolvers<void>();
    const mayCome = Promise.withResolvers<void>();
    await page.route('**/api/sheets/**', async (route) => {
      sheetAsked.resolve();
      await mayCome.promise;
      await route.continue();
    });
    await page.goto(`${server.url.replace('127.0.0.1', 'pool.test')}/deck`);
    await page.waitForSelector('[data-deck][data-link="live"]');
    await sheetAsked.promise;
    expect(await page.textContent('h1')).toBe('The practice is on its way.');
    mayCome.resolve();
    await page.waitForSelector('[data-deck][data-state="ready"]');
  });

  test.for(Object.entries(DEVICES))('has room for every button on %s', async ([name, { target }]) => {
    const server = await serve();
    await withRun(server);
    const size = name === 'a phone' || name === 'a tablet standing' ? name : 'a tablet lying';
    const { page, press, becomes } = await openDeck(server, size);
    await page.evaluate(() => document.fonts.ready);
    expect(await crampedButtons(page, target)).toEqual([]);
    await press('start', 'now').tap();
    await becomes('running');
    await page.waitForSelector('[data-press="hold"]:enabled');
    expect(await crampedButtons(page, target)).toEqual([]);
    expect(await seriousFaults(page)).toEqual([]);
  });

  test.for(Object.entries(DEVICES))(
    '[CMD7] has room for every button of what opens on %s, and hold in reach',
    async ([name, { target }]) => {
      const server = await serve();
      await withRun(server);
      const size = name === 'a phone' || name === 'a tablet standing' ? name : 'a tablet lying';
      const { page, press, becomes } = await openDeck(server, size);
      await page.evaluate(() => document.fonts.ready);
      await press('start', 'now').tap();
      await becomes('running');
      await page.waitForSelector('[data-press="hold"]:enabled');
      const isFit = async (opened: string): Promise<void> => {
        await page.waitForSelector(opened);
        expect(await crampedButtons(page, target)).toEqual([]);
        expect(await clippedWords(page)).toEqual([]);
        expect(await seriousFaults(page)).toEqual([]);
        await press('hold').tap({ trial: true });
      };
      await press('change').tap();
      await isFit('[data-value="intervalMs"]');
      await press('set').last().tap();
      await isFit('[data-set="5"]');
      await press('scope').tap();
      await isFit('[data-scope="lane 6"]');
      await press('close').tap();
      await page.locator('[data-lane="3"] [data-menu]').tap();
      await isFit('[data-lane="3"] [data-press="who"]');
      await press('times').tap();
      await isFit('[data-grid-set]');
      expect(await smallCells(page, target)).toEqual([]);
      await press('results').tap();
      await isFit('[data-lines-lane="3"]');
      await press('close').tap();
      await page.locator('[data-lane="3"] [data-menu]').tap();
      await press('keypad').tap();
      await isFit('[data-press="keep"]');
      await press('close').tap();
      await page.locator('[data-lane="3"] [data-menu]').tap();
      await press('who').tap();
      await isFit('[data-is="swims"]');
      await press('move').first().tap();
      await isFit('[data-press="to-lane"]');
      await page.keyboard.press('Escape');
      await page.waitForSelector('[data-is="swims"]');
      await page.keyboard.press('Escape');
      await page.waitForSelector('.lanes:not([hidden])');
    },
  );

  test('[CMD5] ten presses a tenth of a second apart over eight lanes are ten times, in the order of the fingers', async () => {
    const server = await serve();
    await fillPool(server, 'Main set\n4 x 50 free @ 1:30 :01 apart', 8, 2);
    const { page, press } = await openDeck(server);
    await press('start', 'now').tap();
    await page.waitForSelector('[data-lane="8"] [data-press="time"]:enabled');
    const { run } = server.farwall.keeper;
    if (!run) throw new Error('nothing is on the wall');
    const haveLeft = () => server.farwall.keeper.marks.departuresOf(run.id)?.departures.length;
    await expect.poll(haveLeft).toBe(16);
    const lanes = [1, 2, 3, 4, 5, 6, 7, 8, 1, 2];
    const places = await Promise.all(
      lanes.map(async (lane) => {
        const box = await page.locator(`[data-lane="${lane}"] [data-press="time"]`).boundingBox();
        return { x: (box?.x ?? 0) + 40, y: (box?.y ?? 0) + 40 };
      }),
    );
    const devtools = await page.context().newCDPSession(page);
    const firstAt = await page.evaluate(() => performance.now());
    for (const [place, point] of places.entries()) {
      await page.waitForFunction((at) => performance.now() >= at, firstAt + 100 * place);
      await devtools.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [point] });
      await devtools.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    }
    const stored = () => marksOf(foldMarks(NO_MARKS, server.farwall.store.marks.eventsOf(run.id)));
    await expect.poll(stored).toHaveLength(10);
    const inOrder = stored().toSorted((a, b) => a.pressedAt - b.pressedAt);
    expect(inOrder.map(({ lane }) => lane)).toEqual(lanes);
    expect(new Set(inOrder.map(({ pressedAt }) => pressedAt)).size).toBe(10);
    expect(new Set(inOrder.map(({ swimmer }) => swimmer)).size).toBe(10);
    expect(inOrder.filter(({ state }) => state !== 'counts')).toEqual([]);
  });

  test.for(Object.entries(DEVICES))(
    'has room for ten lanes of eight with a time in each on %s, and says what the times say so far',
    async ([name, { target }]) => {
      const server = await serve();
      await fillPool(server, 'Main set: best average\n6 x 50 free @ 1:30 at 200 pace', 10, 8);
      const size = name === 'a phone' || name === 'a tablet standing' ? name : 'a tablet lying';
      const { page, press, becomes } = await openDeck(server, size);
      await page.evaluate(() => document.fonts.ready);
      await press('start', 'now').tap();
      await becomes('running');
      const lanes = Array.from({ length: 10 }, (_, place) => place + 1);
      for (const lane of lanes) await page.locator(`[data-lane="${lane}"] [data-press="time"]:enabled`).tap();
      await page.waitForSelector('[data-lane="10"] [data-last-time]:not(:empty)', { state: 'attached' });
      expect(await crampedButtons(page, target)).toEqual([]);
      expect(await seriousFaults(page)).toEqual([]);
      await page.locator('[data-lane="7"] [data-menu]').tap();
      await press('results').tap();
      await page.locator('[data-lines-lane="7"]').getByText('mean ', { exact: false }).waitFor();
      expect(await page.locator('[data-lines-lane="7"] dd').allInnerTexts()).toHaveLength(8);
      await press('close').tap({ trial: true });
      expect(await seriousFaults(page)).toEqual([]);
    },
  );
});
