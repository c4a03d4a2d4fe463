import { describe, expect, onTestFinished, test } from 'vitest';
import { PAGES_FOLDER } from '../../server/pages.ts';
import { foldMarks, marksOf, NO_MARKS } from '../../shared-types/marks.ts';
import { RunningClock } from '../fixtures/machine-clock.ts';
import { type RunningServer, runServerOn } from '../fixtures/running-server.ts';
import { seriousFaults, useChromium } from './chrome.ts';
import { TestDeck } from './deck-on-tablet.ts';
import { clippedWords, crampedButtons, DEVICES } from './deck-room.ts';
import { fingerOn } from './finger.ts';
import { fillPool } from './full-pool.ts';

const browser = useChromium();

const TEXT = 'Main set: stand-up\n2 x 50 free from a dive on go by heat max\n100 easy';

interface Pool {
  readonly server: RunningServer;
  readonly deck: TestDeck;
}

/** That practice on a deck of this size, its caution read, and its first heat in the water. */
async function firstHeat(
  lanes: number,
  { width, height }: { readonly width: number; readonly height: number },
): Promise<Pool> {
  const server = await runServerOn(new RunningClock(), {
    allowedHosts: ['pool.test'],
    pages: async () => PAGES_FOLDER,
  });
  await fillPool(server, TEXT, lanes, 2);
  const context = await browser().newContext({ viewport: { width, height }, hasTouch: true });
  onTestFinished(() => context.close());
  const deck = await TestDeck.on(context, server);
  await deck.page.evaluate(() => document.fonts.ready);
  await deck.page.locator('[data-caution]').getByText('the lifeguard on duty decide', { exact: false }).waitFor();
  await deck.press('read');
  await deck.page.waitForSelector('[data-caution]', { state: 'detached' });
  await deck.press('start', 'now');
  await deck.page.waitForSelector('[data-lane="1"] [data-press="time"]:enabled');
  return { server, deck };
}

const heatsSay = ({ page }: TestDeck, words: string): Promise<void> =>
  page.locator('[data-heats]').getByText(words, { exact: false }).waitFor({ state: 'attached' });

function takenIn({ server }: Pool): string[] {
  const { run } = server.farwall.keeper;
  const events = run ? server.farwall.store.marks.eventsOf(run.id) : [];
  return marksOf(foldMarks(NO_MARKS, events)).map(({ lane, step, state }) => `lane ${lane} ${step} ${state}`);
}

describe('heats on deck', () => {
  test('[CMD2] [CMD5] each is released, timed swimmer by swimmer, and recalled only by a press that is held', async () => {
    const pool = await firstHeat(3, DEVICES['a tablet lying']);
    const { deck } = pool;
    await heatsSay(deck, 'Heat 1 of 2 in the water');
    for (const lane of [1, 2, 3]) await deck.time(lane);
    await heatsSay(deck, 'Next: heat 2 of 2');
    expect(await deck.page.locator('[data-press="time"]:enabled').count()).toBe(0);
    await deck.page.locator('[data-press="go"][data-when="now"]:enabled').tap();
    await heatsSay(deck, 'Heat 2 of 2 in the water');
    await deck.page.waitForSelector('[data-lane="2"] [data-press="time"]:enabled');
    await deck.page.locator('[data-lane="2"] [data-press="time"]:enabled').tap();
    await expect.poll(() => takenIn(pool)).toHaveLength(4);
    const finger = await fingerOn(deck.page, deck.page.locator('[data-press="recall"]:enabled'));
    await finger.down();
    await deck.page.waitForSelector('.recall.holding');
    await finger.up();
    await deck.page.waitForSelector('.recall:not(.holding)');
    expect(takenIn(pool).filter((mark) => mark.endsWith('void'))).toEqual([]);
    await finger.down();
    await heatsSay(deck, 'Next: heat 2 of 2');
    await finger.up();
    await expect.poll(() => takenIn(pool).filter((mark) => mark.endsWith('void'))).toEqual(['lane 2 2.0.0.1.h2 void']);
    expect(deck.complaints).toEqual([]);
  });

  test.for(Object.entries(DEVICES).flatMap(([name, device]) => [6, 10].map((lanes) => ({ name, device, lanes }))))(
    'has room for $lanes lanes of it on $name',
    async ({ device, lanes }) => {
      const { deck } = await firstHeat(lanes, device);
      const isFit = async (): Promise<void> => {
        expect(await crampedButtons(deck.page, device.target)).toEqual([]);
        expect(await clippedWords(deck.page)).toEqual([]);
        expect(await seriousFaults(deck.page)).toEqual([]);
      };
      await deck.page.waitForSelector('[data-press="go"]:enabled');
      await isFit();
      for (const lane of [1, 2, 3, 4]) await deck.time(lane);
      await isFit();
      for (let lane = 5; lane <= lanes; lane += 1) await deck.time(lane);
      await heatsSay(deck, 'Next: heat 2 of 2');
      await isFit();
    },
  );
});
