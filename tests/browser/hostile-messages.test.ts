import { expect, test } from 'vitest';
import { laneNumber, ms } from '../../shared-types/brand.ts';
import { ACCESSES } from '../../shared-types/wire/access.ts';
import { seeded } from '../bench/seeded.ts';
import { HeapOf } from '../faults/heap-of.ts';
import { HostileSender } from '../faults/hostile-sender.ts';
import { pairAs } from '../fixtures/pairing.ts';
import { ask } from '../fixtures/running-server.ts';
import { useChromium } from './chrome.ts';
import { countdownsReach, countdownsSeen, watchCountdowns } from './countdown-watch.ts';
import { expectInTime, latenessOf, report } from './lateness.ts';
import { OtherDeck, PoolProcess } from './pool-process.ts';
import { originOf } from './true-time.ts';
import { WatchedWall } from './watched-pages.ts';

const browser = useChromium();

const SEED = 20_261_126;
const MESSAGES = 20_000;
/** Each with a limit of its own. */
const SENDERS = 18;
const PARTS = 8;
/** A tenth of a kilobyte a message would be 1.8. */
const MOST_GROWTH_MB = 3;
const APART_MS = 170;

/** Sends so many from all addresses at once. @returns what came of them */
async function sendAll(senders: readonly HostileSender[], messages: number): Promise<void> {
  await Promise.all(senders.map((sender) => sender.send(Math.ceil(messages / senders.length))));
}

test('20,000 hostile messages and requests: an answer to each, no fault, flat memory, and the wall goes on', {
  timeout: 300_000,
}, async () => {
  console.log(`seed ${SEED}`);
  const pool = await PoolProcess.withPractice('Main set: aerobic\n40 x 25 free @ :30\n', {
    NODE_OPTIONS: '--inspect=127.0.0.1:0',
  });
  const wall = await WatchedWall.on(browser(), pool.port, {
    size: { width: 640, height: 360 },
    asking: '?renderer=canvas',
  });
  await wall.links('live');
  const deck = new OtherDeck(pool);
  await deck.press({ kind: 'start', when: 'now' });
  for (const lane of [2, 3, 4, 5, 6]) {
    await deck.press({ kind: 'shift', lane: laneNumber(lane), byMs: ms((lane - 1) * APART_MS) });
  }
  const live = await pool.live();
  await wall.becomesRight(live);
  await wall.knowsTimeWithin(5);
  await watchCountdowns(wall.page);
  await countdownsReach(wall.page, 30);
  const quiet = (await countdownsSeen(wall.page)).changes.length;

  const server = {
    url: pool.url,
    ask: (method: string, path: string, asked = {}) => ask(pool.url, method, path, asked),
  };
  const senders: HostileSender[] = [];
  for (let nth = 0; nth < SENDERS; nth += 1) {
    const cookie = await pairAs(server, ACCESSES[nth % 3] ?? 'owner');
    const localAddress = `127.0.0.${nth + 10}`;
    senders.push(new HostileSender({ url: pool.url, localAddress, cookie, random: seeded(SEED + nth) }));
  }
  const heap = await HeapOf.on(pool.said());
  const heldMb: number[] = [];
  for (let part = 0; part < PARTS; part += 1) {
    await sendAll(senders, MESSAGES / PARTS);
    heldMb.push(await heap.usedMb());
  }
  heap.close();

  const tallies = senders.map(({ tally }) => tally);
  const total = (kind: keyof (typeof tallies)[number]): number => tallies.reduce((sum, tally) => sum + tally[kind], 0);
  const all = total('refused') + total('accepted') + total('closed');
  console.log(
    `${all} answered: ${JSON.stringify(tallies[0])} …; ${heldMb.map((mb) => mb.toFixed(1)).join(' → ')} MB held`,
  );
  expect(all).toBeGreaterThanOrEqual(MESSAGES);
  expect(total('unanswered')).toBe(0);
  expect(senders.flatMap(({ wrong }) => wrong)).toEqual([]);
  expect(pool.said()).not.toContain('"what":"fault"');
  const [first = 0, last = 0] = [heldMb[0], heldMb[PARTS - 1]];
  expect(last - first).toBeLessThan(MOST_GROWTH_MB);

  await countdownsReach(wall.page, quiet + 30);
  const watched = await countdownsSeen(wall.page);
  const origin = await originOf(wall.page);
  await wall.isRight(live);
  await pool.kill();
  const truth = { live, clock: pool.clockOnDisk(), origin };
  const lates = watched.changes.map((change) => latenessOf(change, watched, truth));
  report('quiet', lates.slice(0, quiet));
  report('among hostile messages', lates.slice(quiet));
  for (const late of lates) expectInTime(late);
  expect(lates.every(({ change }) => change.link === 'live')).toBe(true);
});
