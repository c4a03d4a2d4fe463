import { describe, expect, it } from 'vitest';
import { seeded } from '../bench/seeded.ts';
import { SimulatedDevice } from './simulated-device.ts';
import { drawnLink, type Fate, SimulatedLink, SimulatedWay, type WayTraits } from './simulated-link.ts';
import { SimulatedTime } from './simulated-time.ts';

/** A way moved by hand: each message has the next of these fates. */
function byHand(fates: Fate[], inOrder = false) {
  const time = new SimulatedTime();
  const startMs = time.nowMs;
  const way = new SimulatedWay<string>(time, () => fates.shift() ?? [], inOrder);
  const heard: [string, number][] = [];
  way.onArrival((message) => void heard.push([message, time.nowMs - startMs]));
  return { time, way, heard };
}

describe('a simulated link', () => {
  it('delivers, delays, loses and doubles messages as told', async () => {
    const { time, way, heard } = byHand([[5], [], [1, 30]]);
    for (const message of ['late', 'lost', 'twice']) way.send(message);
    await time.pass(100);
    expect(heard).toEqual([
      ['twice', 1],
      ['late', 5],
      ['twice', 30],
    ]);
  });

  it('lets nothing overtake where messages come in order', async () => {
    const { time, way, heard } = byHand([[20], [1]], true);
    way.send('first');
    way.send('second');
    await time.pass(100);
    expect(heard).toEqual([
      ['first', 20],
      ['second', 20],
    ]);
  });

  it('loses both ways what is on its way when it is cut, and what is sent until it is mended', async () => {
    const { time, way, heard } = byHand([[10], [10]]);
    const back = new SimulatedWay<string>(time, () => [10]);
    back.onArrival((message) => void heard.push([message, 0]));
    const link = new SimulatedLink(way, back);
    link.there.send('on its way');
    link.back.send('on its way too');
    await time.pass(5);
    link.cut();
    link.there.send('while cut');
    link.mend();
    link.there.send('after');
    await time.pass(100);
    expect(heard).toEqual([['after', 15]]);
  });

  it('holds up while it stalls, and lets all arrive in its order when it flows again', async () => {
    const { time, way, heard } = byHand([[10], [20], [5]], true);
    way.send('first');
    way.send('second');
    way.stall();
    await time.pass(50);
    expect(heard).toEqual([]);
    way.flow();
    way.send('third');
    await time.pass(50);
    expect(heard).toEqual([
      ['first', 50],
      ['second', 50],
      ['third', 55],
    ]);
  });

  it('loses what is held up when it is cut', async () => {
    const { time, way, heard } = byHand([[10]], true);
    way.send('held up');
    way.stall();
    await time.pass(50);
    way.cut();
    way.flow();
    await time.pass(50);
    expect(heard).toEqual([]);
  });

  it('treats a thousand messages as its traits say, and the same again for the same seed', async () => {
    const traits: WayTraits = { delayMs: 10, jitterMs: 20, lossShare: 0.1, doubleShare: 0.2 };
    const sendAll = async (): Promise<number[]> => {
      const time = new SimulatedTime();
      const link = drawnLink<null, null>(time, { there: traits, back: traits }, seeded(7));
      const took: number[] = [];
      link.there.onArrival(() => void took.push(time.nowMs - startMs));
      const startMs = time.nowMs;
      for (let nth = 0; nth < 1000; nth += 1) link.there.send(null);
      await time.pass(100);
      return took;
    };
    const took = await sendAll();
    // 1000 · 0.9 · 1.2 = 1080, give or take four standard deviations.
    expect(took.length).toBeGreaterThan(1000);
    expect(took.length).toBeLessThan(1160);
    expect(took[0]).toBeGreaterThanOrEqual(10);
    expect(took.at(-1)).toBeLessThanOrEqual(30);
    expect(took.at(-1)).toBeGreaterThan(29);
    expect(await sendAll()).toEqual(took);
  });
});

describe('simulated time', () => {
  it('refuses to go back', async () => {
    await expect(new SimulatedTime().pass(-1)).rejects.toThrow(RangeError);
  });

  it('does what is due in its order, and what hangs on promises before the next', async () => {
    const time = new SimulatedTime();
    const done: string[] = [];
    time.later(20, () => void done.push('third'));
    time.later(10, () => void Promise.resolve().then(() => Promise.resolve().then(() => void done.push('first'))));
    time.later(10, () => void done.push('second'));
    time.later(15, () => void done.push('never'))();
    await time.pass(20);
    expect(done).toEqual(['first', 'second', 'third']);
  });
});

describe('a simulated device', () => {
  it('has clocks that drift from the pool’s', async () => {
    const time = new SimulatedTime();
    const device = new SimulatedDevice(time, { driftPpm: 50 });
    await time.pass(1_000_050);
    expect(device.pageNow()).toBeCloseTo(1_000_000, 6);
  });

  it('asleep its monotonic clock may stand still and its timers with it, its time of day does not; messages wait', async () => {
    const time = new SimulatedTime();
    const device = new SimulatedDevice(time, { wallAheadMs: 0 });
    const done: string[] = [];
    device.later(50, () => void done.push('timer'));
    device.later(60, () => void done.push('called off'))();
    device.sleep(true);
    device.whenAwake(() => void done.push('message'));
    await time.pass(1000);
    expect(done).toEqual([]);
    device.wake();
    expect(done).toEqual(['message']);
    expect(device.pageNow()).toBe(0);
    expect(device.wallNow()).toBe(1000);
    await time.pass(49);
    expect(done).toEqual(['message']);
    await time.pass(1);
    expect(done).toEqual(['message', 'timer']);
  });

  it('asleep with both clocks going on, its timers go off when it wakes', async () => {
    const time = new SimulatedTime();
    const device = new SimulatedDevice(time);
    const done: string[] = [];
    device.later(50, () => void done.push('timer'));
    device.sleep(false);
    await time.pass(1000);
    expect(done).toEqual([]);
    device.wake();
    expect(done).toEqual(['timer']);
    expect(device.pageNow()).toBe(1000);
  });
});
