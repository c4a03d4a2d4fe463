import type { BrowserContext } from 'playwright-core';
import { describe, expect, onTestFinished, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { practiceIdSchema, type RunId } from '../../shared-types/brand.ts';
import { foldMarks, type Mark, marksOf, NO_MARKS } from '../../shared-types/marks.ts';
import { liveRunSchema } from '../../shared-types/wire/from-server.ts';
import { RunningClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServerOn, withDemo } from '../fixtures/running-server.ts';
import { useChromium } from './chrome.ts';
import { TestDeck } from './deck-on-tablet.ts';

const browser = useChromium();

/** The demo's squad, one second apart, so that lanes soon have several swimmers on the way. */
const TEXT = `Main set
6 x 50 free @ 1:30 at 200 pace :01 apart
`;

interface Pool {
  readonly server: RunningServer;
  readonly deck: TestDeck;
  readonly run: RunId;
}

/** That practice, under way, on a tablet. */
async function underWay(): Promise<Pool> {
  const server = await runServerOn(new RunningClock(), {
    allowedHosts: ['pool.test'],
    pages: async () => PAGES_FOLDER,
  });
  await withDemo(server);
  const id = practiceIdSchema.parse(randomId());
  await server.ask('PUT', `/api/practices/${id}`, { body: { text: TEXT, baseVersion: 0 } });
  const body = { practice: id, version: 1, replace: false };
  const { run } = liveRunSchema.parse((await server.ask('POST', '/api/runs', { body })).body);
  if (!run) throw new Error('nothing is on the wall');
  const context: BrowserContext = await browser().newContext({
    viewport: { width: 1024, height: 768 },
    hasTouch: true,
  });
  onTestFinished(() => context.close());
  const deck = await TestDeck.on(context, server);
  await deck.start();
  return { server, deck, run: run.id };
}

const marksIn = ({ server, run }: Pool): Mark[] =>
  marksOf(foldMarks(NO_MARKS, server.farwall.store.marks.eventsOf(run)));

const statesIn = (pool: Pool): string[] => marksIn(pool).map(({ state, typed }) => `${state}${typed ? ' typed' : ''}`);

/** Whose time the lane's last one is. */
const nameOn = async (deck: TestDeck, lane: number): Promise<string> => (await deck.lastTime(lane)).split(' ')[0] ?? '';

describe('[CMD5] times put right on deck', () => {
  test('[CMD6] by one press each a time is taken back, counts again, and a swimmer is passed over; undo is in one place', async () => {
    const pool = await underWay();
    const { deck } = pool;
    await deck.time(1);
    const first = await nameOn(deck, 1);
    await deck.press('undo-time');
    await deck.press('bring-back');
    await expect.poll(() => statesIn(pool)).toEqual(['counts']);
    await deck.page.waitForSelector('[data-press="missed"]:enabled');
    await deck.press('missed');
    await deck.page.locator('[data-lane="1"] [data-last-time]').getByText('missed').waitFor({ state: 'attached' });
    await deck.press('undo-time');
    await expect.poll(() => nameOn(deck, 1)).toBe(first);
    expect(deck.complaints).toEqual([]);
  });

  test('[CMD5] five contacts at once are a palm: no time is taken', async () => {
    const pool = await underWay();
    const { page } = pool.deck;
    await page.waitForSelector('[data-lane="5"] [data-press="time"]:enabled');
    const boxes = await Promise.all(
      [1, 2, 3, 4, 5].map((lane) => page.locator(`[data-lane="${lane}"] [data-press="time"]`).boundingBox()),
    );
    const touchPoints = boxes.map((box, id) => ({ x: (box?.x ?? 0) + 60, y: (box?.y ?? 0) + 40, id }));
    const devtools = await page.context().newCDPSession(page);
    await devtools.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints });
    await devtools.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    await expect.poll(() => statesIn(pool)).toEqual(['void', 'void', 'void', 'void']);
    await pool.deck.time(2);
    await expect.poll(() => statesIn(pool)).toEqual(['void', 'void', 'void', 'void', 'counts']);
  });

  test('[CMD5] a time called out is typed on the keypad, and is the next swimmer’s', async () => {
    const pool = await underWay();
    const { deck } = pool;
    await deck.page.waitForSelector('[data-lane="2"] [data-press="time"]:enabled');
    await deck.page.locator('[data-lane="2"] [data-menu]').tap();
    await deck.press('keypad');
    for (const key of ['3', '1', '2', '9']) await deck.page.locator(`[data-key="${key}"]`).tap();
    await deck.press('rub');
    await deck.page.locator('[data-typed]').getByText('31.2').waitFor();
    await deck.press('keep');
    await expect.poll(() => marksIn(pool)).toMatchObject([{ lane: 2, ms: 31_200, typed: true, state: 'counts' }]);
    await deck.page.keyboard.type('7');
    await deck.page.keyboard.press('Enter');
    await deck.page.locator('[data-typed]').getByText('Type the tenth too: 29.5 is 295.').waitFor();
  });

  test('[CMD8] a table of times is typed without the server, and nothing of it is lost on reload', async () => {
    const pool = await underWay();
    const { deck } = pool;
    await deck.time(3);
    await expect.poll(() => statesIn(pool)).toEqual(['counts']);
    await deck.cut();
    await deck.page.locator('[data-lane="3"] [data-menu]').tap();
    await deck.press('times');
    const cell = (row: number) => deck.page.locator(`[data-row="${row}"][data-column="0"]`);
    await cell(1).waitFor();
    await cell(0).fill('1023');
    await cell(0).press('Enter');
    await deck.page.keyboard.type('31.5');
    await cell(1).press('Enter');
    await deck.keeps('3 times taken are kept');
    await cell(0).fill('abc');
    await cell(0).press('Tab');
    await deck.page.getByRole('alert').getByText('That is no time', { exact: false }).waitFor();
    await deck.page.reload();
    deck.isCut = false;
    await deck.live();
    await expect.poll(() => statesIn(pool).sort()).toEqual(['counts typed', 'counts typed', 'void']);
    await deck.page.locator('[data-lane="3"] [data-menu]').tap();
    await deck.press('times');
    await expect.poll(() => cell(0).inputValue()).toBe('1:02.3');
    await expect.poll(() => cell(1).inputValue()).toBe('31.5');
  });

  test('[CMD5] after the practice as well', async () => {
    const pool = await underWay();
    const { page } = pool.deck;
    await page.waitForSelector('[data-lane="4"] [data-press="time"]:enabled');
    await page.locator('[data-press="finish"]:enabled').focus();
    await page.keyboard.down('Enter');
    await page.waitForSelector('[data-deck][data-state="finished"]');
    await page.keyboard.up('Enter');
    await page.locator('[data-lane="4"] [data-menu]').tap();
    await pool.deck.press('times');
    await page.locator('[data-row="0"][data-column="0"]').fill('31,5');
    await page.keyboard.press('Enter');
    await expect.poll(() => marksIn(pool)).toMatchObject([{ lane: 4, ms: 31_500, typed: true, state: 'counts' }]);
  });
});
