import { describe, expect, it } from 'vitest';
import { seeded } from '../bench/seeded.ts';
import { PROFILES } from './network-profiles.ts';
import { SimulatedDevice } from './simulated-device.ts';
import { drawnLink, type LinkTraits } from './simulated-link.ts';
import { SimulatedTime } from './simulated-time.ts';
import { type Question, type Reply, SimulatedPool, SyncedPage } from './synced-page.ts';

const FRAME_MS = 100;
/** A correction smaller than this within a frame is not seen: the limit at which deck and desk warn. */
const VISIBLE_MS = 50;
const MINUTE_MS = 60_000;

const WIFI = PROFILES.goodWifi.link;

/** A page and somebody who looks at it in every frame. */
class WatchedPage {
  readonly time = new SimulatedTime();
  readonly pool = new SimulatedPool(this.time);
  readonly device: SimulatedDevice;
  readonly page: SyncedPage;
  /** By how much the shown clock went off its steady pace in each frame, ms. */
  readonly offPaceMs: number[] = [];
  #last: { readonly shownAt: number; readonly pageMs: number } | null = null;

  constructor(seed: number, { driftPpm = 20, traits = WIFI }: { driftPpm?: number; traits?: LinkTraits } = {}) {
    this.device = new SimulatedDevice(this.time, { driftPpm });
    this.page = new SyncedPage(this.device, this.pool, drawnLink<Question, Reply>(this.time, traits, seeded(seed)));
  }

  /** Lets time go by, frame by frame. */
  async watch(forMs: number): Promise<void> {
    for (let passedMs = 0; passedMs < forMs; passedMs += FRAME_MS) {
      await this.time.pass(FRAME_MS);
      this.look();
    }
  }

  look(): void {
    const shown = { shownAt: this.page.clock.now(), pageMs: this.device.pageNow() };
    if (this.#last) this.offPaceMs.push(shown.shownAt - this.#last.shownAt - (shown.pageMs - this.#last.pageMs));
    this.#last = shown;
  }

  /** Connected for a minute; what was seen until then is forgotten. */
  static async settled(seed: number): Promise<WatchedPage> {
    const watched = new WatchedPage(seed);
    watched.page.connect();
    await watched.watch(MINUTE_MS);
    watched.offPaceMs.length = 0;
    return watched;
  }

  /** Corrections that are seen; standing still over many frames is one. */
  get visible(): number {
    const seen = this.offPaceMs.map((offMs) => Math.abs(offMs) > VISIBLE_MS);
    return seen.filter((isSeen, frame) => isSeen && !seen[frame - 1]).length;
  }

  get shownErrorMs(): number {
    return this.page.clock.now() - this.pool.now();
  }
}

/** The seeds in whose runs something is not as it should be. */
async function failing(seeds: number, isRight: (seed: number) => Promise<boolean>): Promise<number[]> {
  const failed: number[] = [];
  for (let seed = 1; seed <= seeds; seed += 1) if (!(await isRight(seed))) failed.push(seed);
  return failed;
}

describe('a device that sleeps', () => {
  it.each([
    ['its monotonic clock stands still', true],
    ['both its clocks go on', false],
  ])('[SYN3] %s: at most one visible correction when it wakes', async (_, monotonicStands) => {
    const failed = await failing(8, async (seed) => {
      const watched = await WatchedPage.settled(seed);
      watched.device.sleep(monotonicStands);
      await watched.time.pass(10 * MINUTE_MS);
      watched.device.wake();
      await watched.watch(MINUTE_MS);
      return watched.visible === (monotonicStands ? 1 : 0) && Math.abs(watched.shownErrorMs) < 5;
    });
    expect(failed).toEqual([]);
  });

  it('[SYN3] is right again within 2.1 s of waking, though its monotonic clock stood still, and gives no bound until then', async () => {
    const watched = await WatchedPage.settled(1);
    watched.device.sleep(true);
    await watched.time.pass(10 * MINUTE_MS);
    watched.device.wake();
    expect(watched.page.clock.boundMs()).toBeNull();
    await watched.watch(2100);
    expect(Math.abs(watched.shownErrorMs)).toBeLessThan(5);
    expect(watched.page.clock.boundMs()).toBeLessThan(10);
  });

  it('[SYN2] makes the quick exchanges when it wakes, also when its monotonic clock went on', async () => {
    const watched = await WatchedPage.settled(1);
    watched.device.sleep(false);
    await watched.time.pass(10 * MINUTE_MS);
    const before = watched.page.questions;
    watched.device.wake();
    await watched.watch(1000);
    expect(watched.page.questions - before).toBe(8);
  });

  it('[SYN3] nothing is seen when somebody sets its time of day', async () => {
    const watched = await WatchedPage.settled(1);
    watched.device.setWall(3_600_000);
    await watched.watch(10_000);
    expect(watched.visible).toBe(0);
    expect(Math.abs(watched.shownErrorMs)).toBeLessThan(5);
  });
});

describe('a server whose clock was set', () => {
  it.each([3000, -3000])('[SYN4] by %i ms: one visible correction, no step back, right within 6 s', async (stepMs) => {
    const failed = await failing(8, async (seed) => {
      const watched = await WatchedPage.settled(seed);
      watched.pool.step(stepMs);
      await watched.watch(6000);
      const least = Math.min(...watched.offPaceMs);
      return watched.visible === 1 && least >= -FRAME_MS - 1e-3 && Math.abs(watched.shownErrorMs) < 5;
    });
    expect(failed).toEqual([]);
  });
});

describe('a wall without its server', () => {
  it('[FLT2] back after ten minutes it differs by at most 5 ms from a wall that was never cut off', async () => {
    const failed = await failing(8, async (seed) => {
      const watched = await WatchedPage.settled(seed);
      const other = drawnLink<Question, Reply>(watched.time, WIFI, seeded(seed + 1000));
      const neverCut = new SyncedPage(watched.device, watched.pool, other);
      neverCut.connect();
      await watched.time.pass(20 * MINUTE_MS);
      watched.page.disconnect();
      await watched.time.pass(10 * MINUTE_MS);
      watched.page.connect();
      await watched.time.pass(1000);
      const apartMs = Math.abs(watched.page.errorMs() - neverCut.errorMs());
      neverCut.disconnect();
      return apartMs <= 5;
    });
    expect(failed).toEqual([]);
  });
});

describe('whatever the link does', () => {
  const BAD: LinkTraits = {
    there: { delayMs: 2, jitterMs: 300, lossShare: 0.2, doubleShare: 0.2 },
    back: { delayMs: 30, jitterMs: 100, lossShare: 0.2, doubleShare: 0.2, inOrder: true },
  };

  /** One thing after another happens to a page. `set`: clocks are set too, and devices sleep. */
  async function misfortunes(seed: number, set: boolean, check: (watched: WatchedPage) => void): Promise<void> {
    const random = seeded(seed * 7919);
    const watched = new WatchedPage(seed, { driftPpm: 100 * random() - 50, traits: BAD });
    const happenings: (() => void | Promise<void>)[] = [
      () => watched.page.disconnect(),
      () => watched.page.connect(),
      () => watched.page.connect(),
    ];
    if (set) {
      happenings.push(
        () => watched.pool.step(40_000 * random() - 20_000),
        () => watched.device.setWall(40_000 * random() - 20_000),
        async () => {
          watched.device.sleep(random() < 0.5);
          await watched.time.pass(100_000 * random());
          watched.device.wake();
        },
      );
    }
    watched.page.connect();
    for (let nth = 0; nth < 25; nth += 1) {
      for (let frames = Math.floor(100 * random()); frames > 0; frames -= 1) {
        await watched.watch(FRAME_MS);
        check(watched);
      }
      await happenings[Math.floor(random() * happenings.length)]?.();
    }
  }

  it('[SYN4] what is shown never goes back once there is an estimate', async () => {
    for (let seed = 1; seed <= 12; seed += 1) {
      let last = Number.NEGATIVE_INFINITY;
      let isKnown = false;
      await misfortunes(seed, true, ({ page }) => {
        isKnown ||= page.clock.boundMs() !== null;
        const shownAt = page.clock.now();
        if (isKnown) expect(shownAt, `seed ${seed}`).toBeGreaterThanOrEqual(last);
        if (isKnown) last = shownAt;
      });
      expect(isKnown).toBe(true);
    }
  });

  it('[SYN2] the error of the estimate stays within its bound', async () => {
    for (let seed = 1; seed <= 12; seed += 1) {
      await misfortunes(seed, false, ({ page }) => {
        const error = Math.abs(page.errorMs());
        expect(error, `seed ${seed}`).toBeLessThanOrEqual(page.clock.boundMs() ?? Number.POSITIVE_INFINITY);
      });
    }
  });

  it('[SYN2] once an estimate stands, what is shown is corrected by at most 5 ms a second', async () => {
    for (let seed = 1; seed <= 12; seed += 1) {
      const watched = await WatchedPage.settled(seed);
      for (const change of ['disconnect', 'connect', 'disconnect', 'connect'] as const) {
        watched.page[change]();
        await watched.watch(20_000);
      }
      const most = Math.max(...watched.offPaceMs.map(Math.abs));
      // An instant has a resolution of 0.0002 ms.
      expect(most, `seed ${seed}`).toBeLessThanOrEqual(FRAME_MS * 0.005 + 1e-3);
      expect(most, `seed ${seed}`).toBeGreaterThan(0);
    }
  });
});
