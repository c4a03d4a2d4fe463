import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { describe, expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { RunningClock } from '../fixtures/machine-clock.ts';
import { demoFolder } from '../fixtures/planning.ts';
import { type RunningServer, runServerOn } from '../fixtures/running-server.ts';
import { complaintsOf, useChromium } from './chrome.ts';
import { differenceFrom } from './pictures.ts';

/** A whole practice: a real server, a real database file, three pages in a real Chromium on plain http. */

const browser = useChromium();

const PRACTICE = `# Evening, short and sharp

Main set: race pace
4 x 25 free @ :25/:30/:35 (15 at 200 pace, 10 easy)
wait
2 x 50 free @ 1:00 at 200 pace
`;

/** 18:59:20 UTC: the pages have 40 s to open before the next full minute. */
const EVENING = Date.UTC(2027, 0, 15, 18, 59, 20);

const serve = (): Promise<RunningServer> =>
  runServerOn(new RunningClock(EVENING), { allowedHosts: ['pool.test'], pages: async () => PAGES_FOLDER });

async function open(
  server: RunningServer,
  page: string,
  viewport: { width: number; height: number },
  hasTouch = false,
): Promise<Page> {
  const context = await browser().newContext({ viewport, hasTouch });
  onTestFinished(() => context.close());
  const opened = await context.newPage();
  await opened.goto(`${server.url.replace('127.0.0.1', 'pool.test')}/${page}`);
  return opened;
}

/** A wall as its mirror tells of it. */
class WallSeen {
  readonly page: Page;

  constructor(page: Page) {
    this.page = page;
  }

  board(name: string): Promise<string> {
    return this.page.evaluate(
      (field) => document.querySelector<HTMLElement>('[data-board]')?.dataset[field] ?? '',
      name,
    );
  }

  lane(number: number): Promise<Record<string, string>> {
    return this.page.evaluate(
      (lane) =>
        ({ ...document.querySelector<HTMLElement>(`[data-board] [data-lane="${lane}"]`)?.dataset }) as Record<
          string,
          string
        >,
      number,
    );
  }

  async nextAt(lane: number): Promise<number> {
    return Number((await this.lane(lane)).nextAt || Number.NaN);
  }

  phase(phase: string): Promise<unknown> {
    return this.page.waitForSelector(`[data-board][data-phase="${phase}"]`, { state: 'attached', timeout: 90_000 });
  }

  lanePhase(lane: number, phase: string): Promise<unknown> {
    const selector = `[data-board] [data-lane="${lane}"][data-phase="${phase}"]`;
    return this.page.waitForSelector(selector, { state: 'attached', timeout: 90_000 });
  }

  /** Waits until the mirror says this of a lane. */
  laneShows(lane: number, field: 'rep' | 'nextAt', value: string): Promise<unknown> {
    const attribute = field === 'rep' ? 'data-rep' : 'data-next-at';
    const selector = `[data-board] [data-lane="${lane}"][${attribute}="${value}"]`;
    return this.page.waitForSelector(selector, { state: 'attached', timeout: 90_000 });
  }

  textOf(lane: number): Promise<string | null> {
    return this.page.textContent(`[data-board] [data-lane="${lane}"]`);
  }

  /** Waits until the wall has drawn a picture of this instant or a later one. */
  async reaches(instant: number): Promise<void> {
    await this.page.waitForFunction(
      (at) => Number(document.querySelector<HTMLElement>('[data-board]')?.dataset.poolAt) >= at,
      instant,
      { timeout: 90_000, polling: 20 },
    );
  }

  async differsFrom(picture: string): Promise<number> {
    return differenceFrom(picture, await this.page.screenshot());
  }
}

/** Pool instant drawn against the moment of its frame on the machine's own clock, ms. */
const offsetOf = (page: Page): Promise<number> =>
  page.evaluate(() => {
    const { poolAt, drawnAt } = document.querySelector<HTMLElement>('[data-board]')?.dataset ?? {};
    return Number(poolAt) - (performance.timeOrigin + Number(drawnAt));
  });

/** Share of changed pixels: the markers move between two screenshots. */
const SAME = 0.004;
/** The same where the instant of a press decides which second some figures show. */
const SAME_BUT_A_FIGURE = 0.03;

describe('a whole practice', () => {
  test('is pasted on the desk, put on the wall, started on the next :00, held, resumed, moved on, released and finished', async () => {
    const server = await serve();
    const desk = await open(server, 'desk', { width: 1366, height: 768 });
    const deck = await open(server, 'deck', { width: 1024, height: 768 }, true);
    const wall = new WallSeen(await open(server, 'wall', { width: 1920, height: 1080 }));
    const second = new WallSeen(await open(server, 'wall', { width: 1280, height: 720 }));
    const complaints = [desk, deck, wall.page, second.page].map(complaintsOf);
    await wall.phase('idle');

    await desk.click('[data-area="squad"]');
    await desk.fill('[data-squad-text]', readFileSync(new URL('squad.csv', demoFolder), 'utf8'));
    await desk.click('[data-action="preview-squad"]');
    await desk.click('[data-action="load-previewed"]');
    await desk.getByText('24 swimmers').first().waitFor();
    await desk.click('[data-area="practice"]');
    await desk.click('[data-action="new-practice"]');
    await desk.locator('.cm-content').focus();
    await desk.keyboard.insertText(PRACTICE);
    await desk.waitForSelector('[data-sheet-lane="6"]');
    await desk.click('[data-action="put-on-wall"]:enabled');

    await wall.phase('ready');
    expect(await wall.lane(6)).toMatchObject({ phase: 'ready', rep: '1', reps: '4', nextAt: '' });
    // Six lanes on 65 inches from 10 m, which is what a wall takes itself to be.
    expect(Number(await wall.board('readableToM'))).toBeGreaterThanOrEqual(10);

    await deck.locator('[data-press="start"][data-when=":00"]').tap();
    await wall.phase('running');
    const start = await wall.nextAt(1);
    expect(start % 60_000).toBe(0);
    expect(await wall.nextAt(6)).toBe(start);

    await wall.lanePhase(1, 'leaving');
    await wall.reaches(start - 3500);
    expect(await wall.differsFrom('leaving')).toBeLessThan(SAME);

    await wall.reaches(start + 6500);
    expect(await wall.lane(1)).toMatchObject({
      phase: 'swimming',
      rep: '1',
      reps: '4',
      nextAt: String(start + 25_000),
    });
    expect(await wall.nextAt(3)).toBe(start + 30_000);
    expect(await wall.nextAt(5)).toBe(start + 35_000);
    expect(await wall.differsFrom('swimming')).toBeLessThan(SAME);

    await wall.lanePhase(1, 'easy');
    await wall.reaches(start + 26_500);
    expect(await wall.lane(1)).toMatchObject({ phase: 'swimming', rep: '2', nextAt: String(start + 50_000) });
    expect(await wall.lane(3)).toMatchObject({ phase: 'leaving', rep: '2', nextAt: String(start + 30_000) });
    const offsets = await Promise.all([offsetOf(wall.page), offsetOf(second.page)]);
    expect(Math.abs((offsets[0] ?? Number.NaN) - (offsets[1] ?? Number.NaN))).toBeLessThanOrEqual(5);

    await deck.locator('[data-press="hold"]:enabled').tap();
    await wall.phase('held');
    expect((await wall.lane(1)).nextAt).toBe('');
    await wall.reaches(start + 31_500);
    expect(await wall.differsFrom('held')).toBeLessThan(SAME_BUT_A_FIGURE);

    await deck.locator('[data-press="resume"][data-when="grid"]:enabled').tap();
    await wall.phase('running');
    const resumed = await wall.nextAt(3);
    expect(resumed % 5000).toBe(0);
    expect((await wall.nextAt(1)) - resumed).toBe(20_000);
    expect((await wall.nextAt(5)) - resumed).toBe(5_000);

    await deck.locator('[data-press="next"][data-when="grid"]:enabled').tap();
    await wall.laneShows(1, 'rep', '3');
    const third = await wall.nextAt(1);
    expect(third % 5000).toBe(0);
    for (const lane of [3, 5]) expect(await wall.lane(lane)).toMatchObject({ rep: '2', nextAt: String(third) });

    await deck.locator('[data-lane="3"] [data-menu]').tap();
    await deck.locator('[data-lane="3"] [data-by="5000"]:enabled').tap();
    await wall.laneShows(3, 'nextAt', String(third + 5000));
    expect(await wall.nextAt(4)).toBe(third);

    await wall.reaches(third + 5200);
    await deck.locator('[data-press="next"][data-when="now"]:enabled').tap();
    await wall.laneShows(1, 'rep', '4');
    await deck.locator('[data-press="next"][data-when="now"]:enabled').tap();
    await wall.lanePhase(1, 'gate');
    expect(await wall.lane(1)).toMatchObject({ rep: '1', reps: '2', nextAt: '' });
    expect(await wall.lane(5)).toMatchObject({ phase: 'swimming', rep: '4', reps: '4' });
    expect(await wall.textOf(1)).toContain('Lane 1: wait');

    // Four swimmers :05 apart: before the last of lane 5 has left on the rep in hand, a go would leave him behind.
    await wall.reaches(third + 26_000);
    await deck.locator('[data-press="go"][data-when="grid"]:enabled').tap();
    await wall.laneShows(6, 'rep', '1');
    const released = await wall.nextAt(6);
    expect(released % 5000).toBe(0);
    await wall.reaches(released + 1500);
    for (const lane of [1, 6]) {
      expect(await wall.lane(lane)).toMatchObject({
        phase: 'swimming',
        rep: '1',
        reps: '2',
        nextAt: String(released + 60_000),
      });
    }
    expect(await wall.differsFrom('released')).toBeLessThan(SAME_BUT_A_FIGURE);

    const finish = await deck.locator('[data-press="finish"]').boundingBox();
    const devtools = await deck.context().newCDPSession(deck);
    const finger = { x: (finish?.x ?? 0) + (finish?.width ?? 0) / 2, y: (finish?.y ?? 0) + (finish?.height ?? 0) / 2 };
    await devtools.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [finger] });
    await wall.phase('finished');
    await devtools.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    expect(await second.board('phase')).toBe('finished');

    const run = server.farwall.keeper.run;
    const kinds = run ? server.farwall.store.runs.eventsOf(run.id).map(({ kind }) => kind) : [];
    expect(kinds).toEqual(['start', 'hold', 'resume', 'next', 'shift', 'next', 'next', 'go', 'finish']);
    expect(complaints.flat()).toEqual([]);
    expect(server.logged).toEqual([]);
  }, 400_000);
});
