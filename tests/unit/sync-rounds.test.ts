import { beforeEach, describe, expect, it } from 'vitest';
import { SimulatedDevice } from '../faults/simulated-device.ts';
import { type Fate, SimulatedLink, SimulatedWay } from '../faults/simulated-link.ts';
import { SimulatedTime } from '../faults/simulated-time.ts';
import { type Question, type Reply, SimulatedPool, SyncedPage } from '../faults/synced-page.ts';

/** Questions take a millisecond; what answers take is set by hand. */
let answerFate: Fate;
let time: SimulatedTime;
let pool: SimulatedPool;
let device: SimulatedDevice;
let page: SyncedPage;

beforeEach(() => {
  answerFate = [1];
  time = new SimulatedTime();
  pool = new SimulatedPool(time);
  device = new SimulatedDevice(time);
  const there = new SimulatedWay<Question>(time, () => [1]);
  const back = new SimulatedWay<Reply>(time, () => answerFate);
  page = new SyncedPage(device, pool, new SimulatedLink(there, back));
  page.connect();
});

describe('the exchanges of a page', () => {
  it('[SYN2] are eight in the first second, then one every two seconds', async () => {
    await time.pass(999);
    expect(page.questions).toBe(8);
    await time.pass(10_000);
    expect(page.questions).toBe(13);
  });

  it('[SYN3] are eight in a second again once one shows that the pool’s clock was set', async () => {
    await time.pass(2000);
    pool.step(3000);
    await time.pass(875);
    expect(page.questions).toBe(9);
    await time.pass(1000);
    expect(page.questions).toBe(16);
    await time.pass(2000);
    expect(page.questions).toBe(17);
    expect(page.errorMs()).toBeCloseTo(0, 3);
  });

  it('[SYN3] are not learnt from when they were begun before a sleep that has been noticed', async () => {
    const asleepMs = 600_000;
    await time.pass(2875);
    answerFate = [asleepMs + 2004];
    await time.pass(1);
    device.sleep(true);
    await time.pass(asleepMs);
    answerFate = [20];
    device.wake();
    // The next exchange comes 1999 ms later and notices; the answer from before the sleep 5 ms after that.
    await time.pass(2010);
    expect(page.clock.boundMs()).toBeNull();
    await time.pass(15);
    expect(page.clock.boundMs()).toBeCloseTo(10.5, 1);
    expect(Math.abs(page.errorMs())).toBeLessThanOrEqual(10.5);
  });

  it('[SYN2] end with the connection', async () => {
    await time.pass(2000);
    page.disconnect();
    await time.pass(60_000);
    expect(page.questions).toBe(8);
  });
});
