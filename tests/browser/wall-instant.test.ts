import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { laneNumber, ms } from '../../shared-types/brand.ts';
import { quantile } from '../bench/measure.ts';
import { TcpProxy } from '../faults/tcp-proxy.ts';
import { useChromium } from './chrome.ts';
import {
  type CountdownChange,
  countdownsReach,
  countdownsSeen,
  type Watched,
  watchCountdowns,
} from './countdown-watch.ts';
import { boardOf, OtherDeck, PoolProcess, type RunOnWall } from './pool-process.ts';
import { type Origin, originOf, type TruePoolClock } from './true-time.ts';
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
/** The mirror gives the bound in tenths of a millisecond; Chromium's clock goes in such steps. */
const STEP_MS = 0.1;

interface Truth {
  readonly live: RunOnWall;
  readonly clock: TruePoolClock;
  readonly origin: Origin;
}

/** A change of a countdown against the instant at which it should come; ms of true pool time after that. */
interface Lateness {
  readonly change: CountdownChange;
  /** When the script of the frame that shows it was done. */
  readonly doneMs: number;
  /** The first frame before it that could have shown it; null: there is none. */
  readonly missedMs: number | null;
  /** How well all of this is known, together with what the wall knows of the clock. */
  readonly openMs: number;
}

function latenessOf(change: CountdownChange, { frames }: Watched, { live, clock, origin }: Truth): Lateness {
  const lane = boardOf(live, change.poolAt).lanes.find((one) => one.lane === change.lane);
  const nextAt = lane?.nextAt ?? Number.NaN;
  expect(change.nextAt).toBe(Math.round(nextAt));
  const dueAt = nextAt - (change.seconds ?? Number.NaN) * 1000;
  const after = (pageMs: number): number => clock.at(pageMs + origin.ms) - dueAt;
  const openMs = (change.syncMs ?? Number.NaN) + origin.doubtMs + STEP_MS;
  const missed = frames.filter(
    ({ at, calledUntil }) => at < change.drawnAt - STEP_MS && after(Math.min(at, calledUntil)) >= openMs,
  );
  const [first] = missed;
  return { change, doneMs: after(change.doneAt), missedMs: first ? after(first.at) : null, openMs };
}

/** It comes in the first frame that begins after its instant, as far as the wall can know that. */
function expectInTime({ change, doneMs, missedMs, openMs }: Lateness): void {
  const said = `lane ${change.lane} to ${change.seconds}, ${change.link}, done ${doneMs} ms after`;
  expect(doneMs, said).toBeGreaterThanOrEqual(-openMs);
  expect(missedMs, said).toBeNull();
}

function report(when: string, lates: readonly Lateness[]): void {
  const done = lates.map(({ doneMs }) => doneMs).toSorted((a, b) => a - b);
  const bounds = lates.map(({ change }) => change.syncMs ?? Number.NaN);
  const [p50, p95, most] = [0.5, 0.95, 1].map((share) => quantile(done, share).toFixed(1));
  const bound = Math.max(...bounds).toFixed(1);
  console.log(
    `${when}: ${lates.length} changes, late by ${p50} (p50), ${p95} (p95), ${most} ms at most; bound ${bound}`,
  );
}

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
