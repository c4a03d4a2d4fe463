import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { laneNumber, ms } from '../../shared-types/brand.ts';
import { TcpProxy } from '../faults/tcp-proxy.ts';
import { useChromium } from './chrome.ts';
import { countdownsReach, countdownsSeen, watchCountdowns } from './countdown-watch.ts';
import { expectInTime, type Lateness, latenessOf, report } from './lateness.ts';
import { OtherDeck, PoolProcess } from './pool-process.ts';
import { originOf } from './true-time.ts';
import { WatchedWall } from './watched-pages.ts';

/** When countdowns change on a real wall, held against the true reading of the server's clock. */

const browser = useChromium();

const FULL_HD = { width: 1920, height: 1080 };
const LANES = [1, 2, 3, 4, 5, 6];
/** So that the lanes' countdowns change at six instants of each second. */
const APART_MS = 170;
/** So many changes at least with the server, and without it. */
const [CONNECTED, ALONE] = [60, 30];
const AFTER_RECONNECT_MS = 3000;
/** A wall that has just been opened may know the clock less well, and moves towards it by 5 ms a second. */
const SETTLED_MS = 5;
/** Six lanes count down, and nothing else moves; swimmers' marks move in every frame. */
const PRACTICES = {
  'only countdowns': 'Main set: aerobic\n20 x 25 free @ :30\n',
  'marks too': 'Main set: race pace\n20 x 100 free @ 2:30 at 200 pace\n',
};

const pageNow = (page: Page): Promise<number> => page.evaluate(() => performance.now());

test.each(Object.entries(PRACTICES))(
  'a countdown changes in the first frame after its true instant, cut off or not: %s',
  async (_, text) => {
    const pool = await PoolProcess.withPractice(text);
    const line = await TcpProxy.to(pool.port);
    const wall = await WatchedWall.on(browser(), line.port, { size: FULL_HD, asking: '?renderer=canvas' });
    await wall.links('live');
    const deck = new OtherDeck(pool);
    await deck.press({ kind: 'start', when: 'now' });
    for (const lane of LANES.slice(1)) {
      await deck.press({ kind: 'shift', lane: laneNumber(lane), byMs: ms((lane - 1) * APART_MS) });
    }
    const live = await pool.live();
    await wall.becomesRight(live);
    await wall.knowsTimeWithin(SETTLED_MS);

    await watchCountdowns(wall.page);
    await countdownsReach(wall.page, CONNECTED);
    line.cut();
    await wall.links('alone');
    const cutAt = await pageNow(wall.page);
    await countdownsReach(wall.page, CONNECTED + ALONE);
    line.mend();
    await wall.links('live');
    const backAt = await pageNow(wall.page);
    await wall.page.waitForFunction((until) => performance.now() > until, backAt + AFTER_RECONNECT_MS);
    const watched = await countdownsSeen(wall.page);
    const origin = await originOf(wall.page);
    await pool.kill();

    const truth = { live, clock: pool.clockOnDisk(), origin };
    const lates = watched.changes.map((change) => latenessOf(change, watched, truth));
    const between = (from: number, to: number): Lateness[] =>
      lates.filter(({ change }) => change.drawnAt >= from && change.drawnAt < to);
    const justBack = between(backAt, Number.POSITIVE_INFINITY);
    report('with the server', between(0, cutAt));
    report('without it', between(cutAt, backAt));
    report('just back', justBack);
    expect(justBack.length).toBeGreaterThan(LANES.length);
    for (const late of lates) expectInTime(late);
  },
  180_000,
);
