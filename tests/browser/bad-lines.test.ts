import { expect, test } from 'vitest';
import { laneNumber, ms } from '../../shared-types/brand.ts';
import { seeded } from '../bench/seeded.ts';
import { drawnHolds, TcpProxy } from '../faults/tcp-proxy.ts';
import { useChromium } from './chrome.ts';
import { OtherDeck, PoolProcess } from './pool-process.ts';
import { originOf } from './true-time.ts';
import { errorOf, type Picture, WatchedDeck, WatchedDesk, WatchedWall } from './watched-pages.ts';

/** Pages in a real Chromium whose line to the server breaks, goes dead or is slow. */

const browser = useChromium();

const PRACTICE = 'Main set: aerobic\n20 x 25 free @ :30\n';

const isSocket = (firstLine: string): boolean => firstLine.startsWith('GET /socket.io/');

/** A websocket frame (RFC 6455 §5.2: final, text, two bytes) with socket.io's packet of a server that ends a socket. */
const DISCONNECT = Buffer.from([0x81, 2, ...Buffer.from('41')]);

/** [CMD8] Three seconds, and some for a busy machine; long before the socket itself gives up after seven. */
const SAID_WITHIN_MS = 3000 + 2000;
/** [CMD4] A press that is older does not count. */
const STALE_MS = 5000;

test('[CMD8] [FLT2] wall, deck and desk come back by themselves and catch up, however they were cut off', async () => {
  const pool = await PoolProcess.withPractice(PRACTICE);
  const line = await TcpProxy.to(pool.port);
  const wall = await WatchedWall.on(browser(), line.port);
  const deck = await WatchedDeck.on(browser(), line.port);
  const desk = await WatchedDesk.on(browser(), line.port);
  const pages = [wall, deck, desk];
  const all = (state: 'live' | 'alone') => Promise.all(pages.map((page) => page.links(state)));
  const other = new OtherDeck(pool);
  await other.press({ kind: 'start', when: 'now' });
  await deck.runs('running');
  const startedAs = (await pool.live()).run;

  line.cut();
  await all('alone');
  await other.press({ kind: 'next', when: 'now' });
  await other.press({ kind: 'hold' });
  await wall.isRight({ ...(await pool.live()), run: startedAs });
  line.mend();
  await all('live');
  await Promise.all([deck.runs('held'), desk.says('on hold')]);
  await wall.isRight(await pool.live());

  // Dead without anybody being told. A press into it is not answered, and comes too late to count.
  await other.press({ kind: 'resume', when: 'now' });
  await Promise.all([deck.runs('running'), desk.says('running')]);
  line.freeze();
  const frozenAt = performance.now();
  await deck.press('hold');
  const pressedAt = performance.now();
  await all('alone');
  expect(performance.now() - frozenAt).toBeLessThan(SAID_WITHIN_MS);
  await deck.says('presses will not count');
  expect(await deck.page.locator('[data-press="hold"]').isDisabled()).toBe(true);
  await deck.page.locator('[data-notice]').getByText('The server did not answer.', { exact: false }).waitFor();
  for (const lane of [2, 3]) await other.press({ kind: 'shift', lane: laneNumber(lane), byMs: ms(5000) });
  const shifted = await pool.live();
  await new Promise((resolve) => setTimeout(resolve, STALE_MS - (performance.now() - pressedAt)));
  line.mend();
  await all('live');
  const { lanes } = await wall.becomesRight(shifted);
  expect(Number(lanes[2]?.nextAt) - Number(lanes[0]?.nextAt)).toBe(5000);
  await deck.runs('running');

  // Told to go, from which a socket does not come back by itself.
  const left = all('alone');
  line.sayBack(DISCONNECT, isSocket);
  await left;
  await all('live');
  await other.press({ kind: 'hold' });
  await Promise.all([deck.runs('held'), desk.says('on hold')]);
  const { run } = await pool.live();
  await wall.isRight({ ...shifted, run });
  // start, next, hold, resume, two shifts, hold: the press into the dead line is none of them.
  expect(run.seq).toBe(7);
  for (const { complaints } of pages) expect(complaints()).toEqual([]);
}, 120_000);

/**
 * Pictures that show the estimate itself rather than move towards it: from half a second before to half a second after
 * them the wall has kept its pace. [SYN2] Otherwise it moves by 5 ms a second.
 */
function atRest(pictures: readonly Picture[]): Picture[] {
  const around = 5;
  return pictures.filter((_, place) => {
    const near = pictures.slice(Math.max(0, place - around), place + around + 1);
    const offsets = near.map(({ poolAt, drawnAt }) => poolAt - drawnAt);
    return near.length === 2 * around + 1 && Math.max(...offsets) - Math.min(...offsets) < 0.1;
  });
}

/** The mirror gives the bound in tenths of a millisecond. */
const MIRROR_STEP_MS = 0.05;

/** Pictures at rest that are enough to judge by, and pictures taken for them at most. */
const ENOUGH = 20;
const MOST_PICTURES = 400;

const SEEDS = [11, 12, 13];
const THERE = { delayMs: 2, jitterMs: 150, lossShare: 0.05 };
const BACK = { delayMs: 2, jitterMs: 0, lossShare: 0.05 };

test('[SYN2] over a line with 150 ms of jitter one way and stalls, the error of the wall’s clock is within its bound', async () => {
  const pool = await PoolProcess.withPractice(PRACTICE);
  const seen = await Promise.all(
    SEEDS.map(async (seed) => {
      const random = seeded(seed);
      const holds = { there: drawnHolds(THERE, random), back: drawnHolds(BACK, random) };
      const line = await TcpProxy.to(pool.port, holds);
      const wall = await WatchedWall.on(browser(), line.port);
      await wall.links('live');
      const pictures = await wall.pictures(60, 100);
      while (atRest(pictures).length < ENOUGH && pictures.length < MOST_PICTURES) {
        pictures.push(...(await wall.pictures(20, 100)));
      }
      return { seed, pictures, origin: await originOf(wall.page) };
    }),
  );
  await pool.kill();
  const truth = pool.clockOnDisk();
  for (const { seed, pictures, origin } of seen) {
    const rested = atRest(pictures);
    const errors = rested.map((picture) => ({ syncMs: picture.syncMs, errorMs: errorOf(picture, truth, origin) }));
    const { syncMs: lastMs, errorMs: offMs } = errors.at(-1) ?? {};
    console.log(
      `seed ${seed}: ${rested.length} pictures at rest, at last ${offMs?.toFixed(1)} off within ${lastMs} ms`,
    );
    expect(rested.length, `seed ${seed}`).toBeGreaterThanOrEqual(ENOUGH);
    for (const { syncMs, errorMs } of errors) {
      expect(Math.abs(errorMs), `seed ${seed}`).toBeLessThanOrEqual(syncMs + MIRROR_STEP_MS + origin.doubtMs);
    }
  }
}, 120_000);
