import { describe, expect, it } from 'vitest';
import { LONG_TEXT, SQUAD } from './fuzz-practices.ts';
import { FuzzWorld, scattered } from './fuzz-world.ts';
import { inMemoryFolder } from './memory-folder.ts';
import type { SimulatedScreen } from './simulated-screen.ts';

const FRAME_MS = 100;
/** A correction smaller than this within a frame is not seen: the limit at which deck and desk warn. */
const VISIBLE_MS = 50;
const MINUTE_MS = 60_000;
const SEEDS = [1, 2, 3, 4];

/** A cheap access point in the same hall; the figures are invented. */
const WIFI = { delayMs: 1.5, jitterMs: 3, failingShare: 0 };

/** Somebody who looks at a screen in every frame. */
class Watcher {
  readonly screen: SimulatedScreen;
  /** By how much the shown clock went off its steady pace in each frame, ms. */
  readonly offPaceMs: number[] = [];
  /** Whether a second ever went backwards. */
  wentBack = false;
  #last: { readonly shownAt: number; readonly pageMs: number } | null = null;

  constructor(screen: SimulatedScreen) {
    this.screen = screen;
  }

  look(): void {
    if (this.screen.isAsleep) return;
    const shown = { shownAt: this.screen.link.clock.now(), pageMs: this.screen.parts.device.pageNow() };
    if (this.#last) {
      const passedMs = shown.shownAt - this.#last.shownAt;
      this.offPaceMs.push(passedMs - (shown.pageMs - this.#last.pageMs));
      this.wentBack ||= passedMs < 0;
    }
    this.#last = shown;
  }

  /** Corrections that are seen; standing still over many frames is one. */
  get visible(): number {
    const seen = this.offPaceMs.map((offMs) => Math.abs(offMs) > VISIBLE_MS);
    return seen.filter((isSeen, frame) => isSeen && !seen[frame - 1]).length;
  }
}

/** A pool with a practice on its walls, and somebody who looks at each screen. */
class WatchedPool {
  readonly world: FuzzWorld;
  readonly watchers: readonly Watcher[];

  constructor(seed: number, folder: string, decks: number) {
    this.world = new FuzzWorld(folder, { decks, walls: 2, traits: WIFI }, scattered(seed));
    this.watchers = this.world.screens.map((screen) => new Watcher(screen));
    this.world.server.putOnWall('A practice', LONG_TEXT, SQUAD);
  }

  async press(kind: 'start' | 'hold'): Promise<void> {
    const [deck] = this.world.decks;
    if (!deck) throw new Error('there is no deck');
    const pressedAt = deck.page.pressedAt();
    const answer = deck.link.press(kind === 'start' ? { kind, when: 'grid', pressedAt } : { kind, pressedAt });
    await this.watch(1000);
    expect(await answer).toMatchObject({ ok: true });
  }

  /** Lets time go by, frame by frame. */
  async watch(forMs: number): Promise<void> {
    for (let passedMs = 0; passedMs < forMs; passedMs += FRAME_MS) {
      await this.world.pass(FRAME_MS);
      for (const watcher of this.watchers) watcher.look();
    }
  }

  /** Every screen is connected and has the run and the clock of the server. */
  expectRight(): void {
    const { keeper, clock } = this.world.server;
    for (const { link } of this.world.screens) {
      expect(link.state.value).toBe('live');
      expect(link.practice.value?.run).toEqual(keeper.run);
      expect(Math.abs(link.clock.now() - clock.now())).toBeLessThan(5);
    }
  }
}

/** A pool whose screens have been connected for a minute, with its practice under way or not; over when the work is. */
const inPool = (
  seed: number,
  isUnderWay: boolean,
  work: (pool: WatchedPool) => Promise<void>,
  decks = 1,
): Promise<void> =>
  inMemoryFolder(async (folder) => {
    const pool = new WatchedPool(seed, folder, decks);
    await pool.watch(MINUTE_MS);
    if (isUnderWay) await pool.press('start');
    for (const { offPaceMs } of pool.watchers) offPaceMs.length = 0;
    await work(pool);
    pool.world.server.close();
  });

describe('a wall that sleeps for ten minutes, with its whole link', () => {
  it.each([
    ['its monotonic clock stands still', true],
    ['both its clocks go on', false],
  ])(
    '[SYN3] %s: one visible correction at most, no second backwards, and it has what happened meanwhile',
    async (_, stands) => {
      for (const seed of SEEDS) {
        await inPool(seed, true, async (pool) => {
          const watcher = pool.watchers[1];
          watcher?.screen.sleep(stands);
          await pool.watch(5 * MINUTE_MS);
          await pool.press('hold');
          await pool.watch(5 * MINUTE_MS);
          watcher?.screen.wake();
          await pool.watch(MINUTE_MS);
          expect(pool.watchers.map(({ visible }) => visible)).toEqual([0, stands ? 1 : 0, 0]);
          expect(pool.watchers.map(({ wentBack }) => wentBack)).toEqual([false, false, false]);
          pool.expectRight();
        });
      }
    },
  );
});

describe.each([3000, -3000])('a server whose time of day is set by %i ms', (stepMs) => {
  it('[SYN3] goes on with its clock: nothing is seen', async () => {
    for (const seed of SEEDS) {
      await inPool(seed, true, async (pool) => {
        pool.world.time.machine.step(stepMs);
        await pool.watch(MINUTE_MS);
        expect(pool.watchers.map(({ visible }) => visible)).toEqual([0, 0, 0]);
        pool.expectRight();
      });
    }
  });

  it('[SYN3] killed and started again while lanes are swimming, keeps their clock: nothing is seen', async () => {
    for (const seed of SEEDS) {
      await inPool(seed, true, async (pool) => {
        pool.world.time.machine.step(stepMs);
        pool.world.server.kill();
        await pool.watch(2000);
        pool.world.server.start();
        await pool.watch(MINUTE_MS);
        expect(pool.watchers.map(({ visible }) => visible)).toEqual([0, 0, 0]);
        pool.expectRight();
      });
    }
  });

  it('[SYN3] [SYN4] started again with no practice under way: each screen is corrected once, none goes back', async () => {
    for (const seed of SEEDS) {
      await inPool(seed, false, async (pool) => {
        pool.world.time.machine.step(stepMs);
        pool.world.server.kill();
        await pool.watch(2000);
        pool.world.server.start();
        await pool.watch(MINUTE_MS);
        expect(pool.watchers.map(({ visible }) => visible)).toEqual([1, 1, 1]);
        expect(pool.watchers.map(({ wentBack }) => wentBack)).toEqual([false, false, false]);
        pool.expectRight();
      });
    }
  });
});

describe('a screen that is loaded in the middle of a set', () => {
  it('[FLT3] a wall is right within two seconds', async () => {
    for (const seed of SEEDS) {
      await inPool(seed, true, async (pool) => {
        await pool.watch(MINUTE_MS);
        pool.watchers[1]?.screen.reload();
        await pool.world.pass(2000);
        pool.expectRight();
      });
    }
  });

  it('[FLT4] another deck has the whole state of one that is lost', async () => {
    for (const seed of SEEDS) {
      await inPool(
        seed,
        true,
        async (pool) => {
          const [lost, other] = pool.world.decks;
          if (!lost || !other) throw new Error('there are not two decks');
          await pool.watch(20_000);
          const [left] = lost.link.times.departuresAt(lost.page.pressedAt());
          if (!left) throw new Error('nobody has left');
          const { swimmer, step, pass } = left;
          lost.link.times.mark({ kind: 'mark', swimmer, step, pass, distance: 50, pressedAt: lost.page.pressedAt() });
          await pool.press('hold');
          lost.network.cut();
          other.reload();
          await pool.watch(2000);
          const { keeper } = pool.world.server;
          expect(other.link.practice.value?.run).toEqual(keeper.run);
          expect(keeper.run?.state).toBe('held');
          expect([...other.link.times.book.value.entries.values()]).toMatchObject([
            { place: { swimmer, leftAt: left.at } },
          ]);
          expect(other.link.times.departuresAt(other.page.pressedAt())).toContainEqual(left);
        },
        2,
      );
    }
  });
});
