import type { BrowserContext, Page } from 'playwright-core';
import { describe, expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { practiceIdSchema } from '../../shared-types/brand.ts';
import type { Run } from '../../shared-types/events.ts';
import { foldMarks, type Mark, marksOf, NO_MARKS } from '../../shared-types/marks.ts';
import { liveRunSchema } from '../../shared-types/wire/from-server.ts';
import { RunningClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServerOn, withDemo, withRun } from '../fixtures/running-server.ts';
import { seriousFaults, useChromium } from './chrome.ts';
import { TestDeck } from './deck-on-tablet.ts';

const browser = useChromium();

const SIZES = { 'a tablet lying': [1024, 768], 'a tablet standing': [768, 1024] } as const;

const serve = (): Promise<RunningServer> =>
  runServerOn(new RunningClock(), { allowedHosts: ['pool.test'], pages: async () => PAGES_FOLDER });

async function device([width, height]: readonly [number, number] = [1024, 768]): Promise<BrowserContext> {
  const context = await browser().newContext({ viewport: { width, height }, hasTouch: true });
  onTestFinished(() => context.close());
  return context;
}

const marksIn = (server: RunningServer, run: Pick<Run, 'id'>): Mark[] =>
  marksOf(foldMarks(NO_MARKS, server.farwall.store.marks.eventsOf(run.id)));

describe('times on deck', () => {
  test("[CMD5] a press takes the time of the lane's next swimmer at its own instant, and undo takes it back", async () => {
    const server = await serve();
    const run = await withRun(server);
    const deck = await TestDeck.on(await device(), server);
    expect(await deck.page.locator('[data-lane="1"] [data-press="time"]').isDisabled()).toBe(true);
    await deck.start();
    await deck.time(1);
    await expect.poll(() => marksIn(server, run)).toMatchObject([{ lane: 1, state: 'counts', pass: 1 }]);
    const [mark] = marksIn(server, run);
    expect(mark?.ms).toBeGreaterThan(0);
    expect(mark?.ms).toBeLessThan(10_000);
    expect(await deck.lastTime(1)).toMatch(/^\S+ \d+\.\d −[\d:]+\.\d$/);
    await deck.press('undo-time');
    await expect.poll(() => marksIn(server, run)[0]?.state).toBe('void');
    await deck.page.waitForSelector('[data-lane="1"] [data-last-time]:empty', { state: 'attached' });
    expect(deck.complaints).toEqual([]);
  });

  test('[CMD8] marks made without the server arrive once each when it is back', async () => {
    const server = await serve();
    const run = await withRun(server);
    const deck = await TestDeck.on(await device(), server);
    await deck.start();
    await deck.cut();
    for (const lane of [1, 2, 3]) await deck.time(lane);
    await deck.keeps('3 times taken are kept');
    expect(await deck.page.locator('[data-press="hold"]').isDisabled()).toBe(true);
    expect(marksIn(server, run)).toEqual([]);
    deck.isCut = false;
    await deck.live();
    await expect
      .poll(() => marksIn(server, run).map(({ lane, state }) => `${lane} ${state}`))
      .toEqual(['1 counts', '2 counts', '3 counts']);
    await deck.page.waitForSelector('[data-kept]', { state: 'detached' });
    expect(await deck.page.evaluate(() => localStorage.length)).toBe(0);
    expect(server.farwall.store.marks.eventsOf(run.id)).toHaveLength(3);
    expect(server.logged).toEqual([]);
  });

  test('[CMD8] a deck that is reloaded still has what its outbox held, and sends it', async () => {
    const server = await serve();
    const run = await withRun(server);
    const deck = await TestDeck.on(await device(), server);
    await deck.start();
    await deck.cut();
    await deck.time(1);
    await deck.time(2);
    await deck.page.reload();
    await deck.keeps('2 times taken are kept');
    deck.isCut = false;
    await deck.live();
    await expect.poll(() => marksIn(server, run).map(({ state }) => state)).toEqual(['counts', 'counts']);
    await expect.poll(() => deck.lastTime(2)).toMatch(/^\S+ \d+\.\d/);
    expect(await deck.page.evaluate(() => localStorage.length)).toBe(0);
  });

  test('[CMD8] what one page of the tablet left behind another sends, once', async () => {
    const server = await serve();
    const run = await withRun(server);
    const tablet = await device();
    const [deck, other] = [await TestDeck.on(tablet, server), await TestDeck.on(tablet, server)];
    await deck.start();
    await Promise.all([deck.cut(), other.cut()]);
    await deck.time(1);
    await other.time(2);
    await deck.page.close();
    other.isCut = false;
    await other.live();
    await expect.poll(() => marksIn(server, run)).toHaveLength(2);
    expect(new Set(marksIn(server, run).map(({ device }) => device)).size).toBe(2);
  });

  test('[CMD6] the newest press is undone, as the button says, after finish too', async () => {
    const server = await serve();
    await withRun(server);
    const deck = await TestDeck.on(await device(), server);
    await deck.start();
    await deck.press('hold');
    const undo = deck.page.locator('[data-press="undo"]:enabled');
    await undo.getByText('hold,', { exact: false }).waitFor();
    await undo.tap();
    await deck.page.waitForSelector('[data-deck][data-state="running"]');
    await deck.page.waitForSelector('[data-press="undo"]', { state: 'detached' });
    await deck.page.locator('[data-press="finish"]:enabled').focus();
    await deck.page.keyboard.down('Enter');
    await deck.page.waitForSelector('[data-deck][data-state="finished"]');
    await deck.page.keyboard.up('Enter');
    await undo.getByText('finish,', { exact: false }).waitFor();
    await undo.tap();
    await deck.page.waitForSelector('[data-deck][data-state="running"]');
  });

  test('[CMD2] a go is recalled, and a lane that was never shifted cannot be realigned, in words', async () => {
    const server = await serve();
    await withDemo(server);
    const id = practiceIdSchema.parse(randomId());
    const text = 'Main set\n4 x 50 free on go\n';
    await server.ask('PUT', `/api/practices/${id}`, { body: { text, baseVersion: 0 } });
    const body = { practice: id, version: 1, replace: false };
    const { run } = liveRunSchema.parse((await server.ask('POST', '/api/runs', { body })).body);
    if (!run) throw new Error('nothing is on the wall');
    const deck = await TestDeck.on(await device(), server);
    await deck.start();
    expect(await deck.page.locator('[data-press="go"]').count()).toBe(0);
    await deck.page.locator('[data-lane="1"] [data-menu]').tap();
    await deck.page.locator('[data-lane="1"] [data-press="realign"]:enabled').tap();
    await deck.page.locator('[data-notice]').getByText('Lane 1 swims with the others.').waitFor();
    await deck.page.locator('[data-notice] button').tap();
    await deck.press('go', 'now');
    await deck.press('recall');
    await deck.page.waitForSelector('[data-press="go"]');
    const kinds = server.farwall.store.runs.eventsOf(run.id).map(({ kind }) => kind);
    expect(kinds).toEqual(['start', 'go', 'recall']);
  });

  test.for(Object.entries(SIZES))('nothing overlaps on %s with times taken and a menu open', async ([, size]) => {
    const server = await serve();
    await withRun(server);
    const deck = await TestDeck.on(await device(size), server);
    await deck.start();
    for (const lane of [1, 2, 6]) await deck.time(lane);
    await deck.page.evaluate(() => document.fonts.ready);
    expect(await faultsOf(deck.page)).toEqual([]);
    await deck.page.locator('[data-lane="3"] [data-menu]').tap();
    await deck.page.waitForSelector('[data-panel]');
    expect(await faultsOf(deck.page)).toEqual([]);
    expect(await seriousFaults(deck.page)).toEqual([]);
  });
});

/** Buttons under 44 px, off the screen or over each other; words that stick out of their row. */
const faultsOf = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const all = [...document.querySelectorAll('.deck button')].map((button) => ({
      name: button.getAttribute('aria-label') ?? button.textContent,
      box: button.getBoundingClientRect(),
    }));
    // The lanes are out of sight while a panel is open.
    const buttons = all.filter(({ box }) => box.width > 0);
    const faults = buttons.flatMap(({ name, box }) => [
      ...(Math.min(box.width, box.height) < 44 ? [`${name} is ${box.width} × ${box.height}`] : []),
      ...(box.right > innerWidth || box.bottom > innerHeight ? [`${name} is not on the screen`] : []),
    ]);
    for (const [place, { name, box }] of buttons.entries()) {
      for (const other of buttons.slice(place + 1)) {
        const apart = Math.max(
          Math.max(box.left - other.box.right, other.box.left - box.right),
          Math.max(box.top - other.box.bottom, other.box.top - box.bottom),
        );
        if (apart < 4) faults.push(`${name} is over ${other.name}`);
      }
    }
    for (const lane of document.querySelectorAll('.lane')) {
      const row = lane.getBoundingClientRect();
      for (const words of lane.querySelectorAll('span')) {
        const box = words.getBoundingClientRect();
        const isOut = box.top < row.top - 1 || box.bottom > row.bottom + 1 || box.right > row.right + 1;
        if (box.height > 0 && isOut)
          faults.push(`${words.textContent} sticks out of lane ${lane.getAttribute('data-lane')}`);
      }
    }
    return faults;
  });
