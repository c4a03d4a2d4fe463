import type { Page } from 'playwright-core';
import { describe, expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { type LaneNumber, laneNumber, practiceIdSchema } from '../../shared-types/brand.ts';
import { laneRunOf, repFrom, sendOffOf } from '../../shared-types/motion.ts';
import { laneOf, lineupOf, type Sheet, sheetSchema } from '../../shared-types/sheet.ts';
import type { LiveRun } from '../../shared-types/wire/from-server.ts';
import { RunningClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServerOn, withDemo } from '../fixtures/running-server.ts';
import { complaintsOf, useChromium } from './chrome.ts';

/** [CMD7] A practice changed by buttons while it is swum: a real server, a deck and a wall in a real Chromium. */

const browser = useChromium();

const TEXT = `Main set
6 x 50 free @ 1:00/1:10/1:20 at 200 pace
4 x 100 free @ 2:00/2:10/2:20 at 200 pace
`;

/** The demo's squad of 24 in six lanes: lanes 3 and 4 are group B. */
const LANE = laneNumber(3);
const [INTERVAL_MS, MORE_MS] = [70_000, 5000];

const serve = (): Promise<RunningServer> =>
  runServerOn(new RunningClock(), { allowedHosts: ['pool.test'], pages: async () => PAGES_FOLDER });

async function putOn(server: RunningServer): Promise<void> {
  await withDemo(server);
  const id = practiceIdSchema.parse(randomId());
  await server.ask('PUT', `/api/practices/${id}`, { body: { text: TEXT, baseVersion: 0 } });
  await server.ask('POST', '/api/runs', { body: { practice: id, version: 1, replace: false } });
}

/** @param loses messages of the server that this page is never to hear */
async function open(
  server: RunningServer,
  page: string,
  width: number,
  height: number,
  loses: (message: string) => boolean = () => false,
): Promise<Page> {
  const context = await browser().newContext({ viewport: { width, height }, hasTouch: true });
  onTestFinished(() => context.close());
  const opened = await context.newPage();
  await opened.routeWebSocket(/socket\.io/, (route) => {
    const beyond = route.connectToServer();
    beyond.onMessage((message) => {
      if (!loses(String(message))) route.send(message);
    });
  });
  await opened.goto(`${server.url.replace('127.0.0.1', 'pool.test')}/${page}`);
  return opened;
}

/** What a screen that opens now is told: the run and its sheet. */
class Wire {
  readonly #server: RunningServer;

  constructor(server: RunningServer) {
    this.#server = server;
  }

  async now(): Promise<{ readonly sheet: Sheet; readonly run: NonNullable<LiveRun['run']> }> {
    const screen = this.#server.screen('desk');
    const answer = await screen.hello();
    screen.socket.disconnect();
    if (!answer.ok || !answer.live.run) throw new Error('nothing is on the wall');
    const { run } = answer.live;
    const { body } = await this.#server.ask('GET', `/api/sheets/${run.sheet}?role=desk`);
    return { run, sheet: sheetSchema.parse(body) };
  }

  /** When the lane leaves on each of its reps, instants on the pool's clock; null where that is on the coach. */
  async leaves(lane: LaneNumber): Promise<(number | null)[]> {
    const { sheet, run } = await this.now();
    const laneRun = laneRunOf(sheet, run.motions, lane);
    if (!laneRun) throw new Error(`no lane ${lane}`);
    return laneRun.lane.steps.flatMap(({ kind }, index) => (kind === 'rep' ? [sendOffOf(laneRun, index)] : []));
  }

  /** Who swims the lane's reps from number `from` (the first is 0) on, once each. */
  async swimmers(lane: LaneNumber, from: number): Promise<readonly string[]> {
    const { sheet } = await this.now();
    const of = laneOf(sheet, lane);
    const step = of?.steps[repFrom(of, from, of.steps.length)];
    return of && step?.kind === 'rep' ? lineupOf(of, step) : [];
  }

  async repsOfSet(lane: LaneNumber, set: number): Promise<number> {
    const { sheet } = await this.now();
    return (laneOf(sheet, lane)?.steps ?? []).filter((step) => step.kind === 'rep' && step.set === set).length;
  }
}

/** Counts the looks at the wall's board in words, and those at which it had nothing to say of a lane. */
async function watch(wall: Page): Promise<() => Promise<{ looks: number; empty: number }>> {
  await wall.evaluate(() => {
    const board = document.querySelector<HTMLElement>('[data-board]');
    const seen = { looks: 0, empty: 0 };
    const look = (): void => {
      const lanes = [...(board?.querySelectorAll('[data-lane]') ?? [])];
      const isEmpty =
        board?.dataset.phase !== 'running' || lanes.length !== 6 || lanes.some((lane) => !lane.textContent);
      seen.looks += 1;
      if (isEmpty) seen.empty += 1;
      document.body.dataset.seen = JSON.stringify(seen);
    };
    if (board) new MutationObserver(look).observe(board, { subtree: true, childList: true, attributes: true });
  });
  return async () => JSON.parse((await wall.evaluate(() => document.body.dataset.seen)) ?? '{}');
}

const nextAt = async (wall: Page, lane: number): Promise<number> =>
  Number(
    await wall.evaluate(
      (number) => document.querySelector<HTMLElement>(`[data-board] [data-lane="${number}"]`)?.dataset.nextAt,
      lane,
    ),
  );

class Deck {
  readonly page: Page;

  constructor(page: Page) {
    this.page = page;
  }

  async press(kind: string, more = ''): Promise<void> {
    await this.page.locator(`[data-press="${kind}"]${more}:enabled`).first().tap();
  }

  /** Presses what makes another version of the sheet, and waits until this page swims by it. */
  async change(server: RunningServer, kind: string, more = ''): Promise<void> {
    const before = server.farwall.keeper.run?.seq ?? 0;
    await this.press(kind, more);
    await expect.poll(() => server.farwall.keeper.run?.seq).toBe(before + 1);
    await this.page.waitForSelector('[data-press="hold"]:enabled');
  }

  value(what: string): Promise<string | null> {
    return this.page.textContent(`[data-value="${what}"] strong`);
  }

  async openMenu(lane: number): Promise<void> {
    await this.page.locator(`[data-lane="${lane}"] [data-menu]`).tap();
    await this.page.locator(`[data-lane="${lane}"] [data-press="who"]`).tap();
    await this.page.waitForSelector('[data-panel]');
  }

  swimmer(id: string, press: string): Promise<void> {
    return this.page.locator(`[data-swimmer="${id}"] [data-press="${press}"]:enabled`).tap();
  }
}

describe('[CMD7] a practice changed on deck while it is swum', () => {
  test('[CMD7] interval, skip, sit out, back in, move, join, undo: what has begun stays, and the wall is never empty', async () => {
    const server = await serve();
    await putOn(server);
    const wire = new Wire(server);
    const wall = await open(server, 'wall', 1280, 720);
    const deck = new Deck(await open(server, 'deck', 1024, 768));
    const complaints = [complaintsOf(wall), complaintsOf(deck.page)];
    await deck.press('start', '[data-when="now"]');
    await deck.page.waitForSelector('[data-press="hold"]:enabled');
    await wall.waitForSelector('[data-board] [data-lane="3"][data-phase="swimming"]', { state: 'attached' });
    const start = (await wire.leaves(LANE))[0] ?? Number.NaN;
    const seen = await watch(wall);

    // Five seconds more for lane 3: the rep in hand keeps its time to the next, the others follow.
    await deck.press('change');
    await deck.press('scope');
    await deck.press('choose', '[data-scope="lane 3"]');
    expect(await deck.value('intervalMs')).toBe('1:10');
    await deck.change(server, 'adjust', `[data-what="intervalMs"][data-by="${MORE_MS}"]`);
    expect(await deck.value('intervalMs')).toBe('1:15');
    expect((await wire.leaves(LANE)).slice(0, 3)).toEqual([
      start,
      start + INTERVAL_MS,
      start + 2 * INTERVAL_MS + MORE_MS,
    ]);
    expect((await wire.leaves(laneNumber(4)))[2]).toBe(start + 2 * INTERVAL_MS);
    expect(await nextAt(wall, LANE)).toBe(start + INTERVAL_MS);

    // On the next rep the wall counts down to the new one.
    await deck.press('next', '[data-when="now"]');
    await wall.waitForSelector('[data-board] [data-lane="3"][data-phase="swimming"][data-rep="2"]', {
      state: 'attached',
    });
    const second = (await wire.leaves(LANE))[1] ?? Number.NaN;
    await expect.poll(() => nextAt(wall, LANE)).toBe(second + INTERVAL_MS + MORE_MS);
    expect(await nextAt(wall, 4)).toBe(second + INTERVAL_MS);

    // The second set is skipped, and the undo that is always in the same place brings it back.
    await deck.press('set', '[data-by="1"]');
    const whole = (await wire.now()).run.sheet;
    await deck.change(server, 'skip');
    expect(await wire.repsOfSet(LANE, 1)).toBe(0);
    await deck.page.locator('[data-set]').getByText('6 × 50 free', { exact: false }).waitFor();
    await deck.page.locator('[data-press="undo"]').getByText('change,', { exact: false }).waitFor();
    await deck.change(server, 'undo');
    expect(await wire.repsOfSet(LANE, 1)).toBe(4);
    expect((await wire.now()).run.sheet).toBe(whole);
    expect(await wire.leaves(LANE)).toContain(second + INTERVAL_MS + MORE_MS);
    await deck.press('close');

    // One of lane 3 sits out from the next rep on, and comes back to the same place.
    await deck.openMenu(LANE);
    const lineup = await wire.swimmers(LANE, 2);
    const [one = '', two = '', ...others] = lineup;
    await deck.change(server, 'sitOut', '');
    await deck.page.waitForSelector(`[data-swimmer="${one}"][data-is="out"]`);
    expect(await wire.swimmers(LANE, 2)).toEqual([two, ...others]);
    expect(await wire.swimmers(LANE, 1)).toEqual(lineup);
    await deck.swimmer(one, 'rejoin');
    await deck.page.waitForSelector(`[data-swimmer="${one}"][data-is="swims"]`);
    expect(await wire.swimmers(LANE, 2)).toEqual(lineup);

    // One moves to lane 4, one sits out and joins lane 5.
    await deck.swimmer(two, 'move');
    await deck.press('to-lane', '[data-to="4"]');
    await deck.page.waitForSelector(`[data-swimmer="${two}"]`, { state: 'detached' });
    expect(await wire.swimmers(LANE, 2)).toEqual([one, ...others]);
    expect((await wire.swimmers(laneNumber(4), 2)).at(-1)).toBe(two);
    await deck.swimmer(one, 'sitOut');
    await deck.page.waitForSelector(`[data-swimmer="${one}"][data-is="out"]`);
    await deck.press('close');
    await deck.openMenu(5);
    await deck.swimmer(one, 'join');
    await deck.page.waitForSelector(`[data-swimmer="${one}"][data-is="swims"]`);
    expect((await wire.swimmers(laneNumber(5), 2)).at(-1)).toBe(one);

    expect((await wire.leaves(LANE))[1]).toBe(second);
    const { looks, empty } = await seen();
    expect(looks).toBeGreaterThan(10);
    expect(empty).toBe(0);
    expect(complaints.flat()).toEqual([]);
    expect(server.logged).toEqual([]);
  }, 120_000);

  test('[CMD7] [CMD3] a change that another device overtook is refused in words, and the panel closes by one key', async () => {
    const server = await serve();
    await putOn(server);
    const deck = new Deck(await open(server, 'deck', 768, 1024, (message) => message.includes('"event"')));
    await deck.press('change');
    const other = server.screen('deck');
    await other.hello();
    const { run } = await new Wire(server).now();
    await other.ask('command', other.command({ kind: 'start', when: 'now' }, run, server.farwall.clock.now()));
    await deck.press('skip');
    await deck.page
      .locator('[data-notice]')
      .getByText('Another device started the practice', { exact: false })
      .waitFor();
    expect(server.farwall.keeper.run?.seq).toBe(1);
    await deck.page.keyboard.press('Escape');
    await deck.page.waitForSelector('[data-panel]', { state: 'detached' });
    await deck.page.waitForSelector('.lanes:not([hidden])');
    await deck.page.waitForSelector('[data-press="change"]:focus');
  });

  test('[SYN5] the deck shows how far its own clock and the walls’ may be off, with a warning above 50 ms', async () => {
    const server = await serve();
    await putOn(server);
    const deck = await open(server, 'deck', 390, 844);
    await deck.waitForSelector('[data-deck][data-link="live"]');
    const wall = server.screen('wall');
    await wall.hello();
    await wall.ask('status', { syncBoundMs: 12, width: 1920, height: 1080 });
    await deck.locator('[data-link-words]').getByText('walls ±12', { exact: false }).waitFor();
    await wall.ask('status', { syncBoundMs: 79.2, width: 1920, height: 1080 });
    await deck
      .locator('.warn[data-link-words]')
      .getByText('clock of a wall is only right within 80', { exact: false })
      .waitFor();
    const desk = await open(server, 'desk#today', 1366, 768);
    await desk.waitForSelector('[data-screen="wall"][data-warn="true"]');
    expect(await desk.textContent('[data-screen="wall"] td')).toMatch(/^only within 80\sms$/);
    await expect
      .poll(() => desk.textContent('[data-screen="deck"] td'), { timeout: 15_000 })
      .toMatch(/^within \d+\sms$/);
  });
});
