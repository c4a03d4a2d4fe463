import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { instant } from '../../shared-types/brand.ts';
import { nextGateOf, placeAt } from '../../shared-types/motion.ts';
import { expectedOn } from './expected-on.ts';
import { LONG_TEXT, SQUAD } from './fuzz-practices.ts';
import { drawnMark, oneOf, weighted } from './fuzz-presses.ts';
import { ROUNDING_MS } from './fuzz-record.ts';
import { FuzzWorld, scattered } from './fuzz-world.ts';
import type { SimulatedScreen } from './simulated-screen.ts';

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;

/** Between two things that coaches do, ms: as often as once in 15 s. */
const [SHORTEST_MS, LONGEST_MS] = [1000, 29_000];
/** A screen that has been live for so long has slewed what it was off by, ms. */
const SETTLED_AFTER_MS = 30_000;
/** How often all screens are looked at, ms. */
const LOOK_EVERY_MS = 10_000;

/** Like a hall's Wi-Fi on a busy day; the figures are invented. */
const WIFI = { delayMs: 2, jitterMs: 40, failingShare: 0.01 };

function heapBytes(): number {
  setFlagsFromString('--expose-gc');
  const gc: unknown = runInNewContext('gc');
  if (typeof gc !== 'function') throw new Error('there is no gc');
  gc();
  gc();
  return process.memoryUsage().heapUsed;
}

/** Practice after practice in a pool whose screens are all there, but for an outage now and then. */
export class Soak {
  readonly world: FuzzWorld;
  /** Heap in use after each hour, bytes. */
  readonly heaps: number[] = [];
  /**
   * What looks at settled screens found: how far the shown instant was at most from the pool's clock, how far the
   * estimate was at most beyond the bound that the screen itself gave, the widest bound (all ms), and how often what was
   * shown was beyond it, at all and in two looks on end. It may be for a moment: a better estimate is slewed to.
   */
  readonly seen = { looks: 0, worstMs: 0, widestMs: 0, estimateBeyondMs: 0, beyond: 0, stillBeyond: 0 };
  readonly counts = { practices: 0, presses: 0, marks: 0, outages: 0, kills: 0 };
  readonly #random: () => number;
  readonly #liveSinceMs = new Map<SimulatedScreen, number>();
  readonly #beyond = new Set<SimulatedScreen>();
  #lookedAtMs: number;

  constructor(seed: number, folder: string) {
    this.#random = scattered(seed);
    this.world = new FuzzWorld(folder, { decks: 3, walls: 4, traits: WIFI }, this.#random);
    this.#lookedAtMs = this.world.time.nowMs;
  }

  async run(hours: number): Promise<void> {
    const { time } = this.world;
    this.#putOn();
    for (let hour = 1; hour <= hours; hour += 1) {
      const until = time.nowMs + HOUR_MS;
      while (time.nowMs < until) {
        this.#act();
        await this.#pass(SHORTEST_MS + (LONGEST_MS - SHORTEST_MS) * this.#random());
      }
      this.heaps.push(heapBytes());
    }
    this.world.mend();
    await this.#pass(2 * MINUTE_MS);
  }

  async #pass(byMs: number): Promise<void> {
    const { time } = this.world;
    const until = time.nowMs + byMs;
    while (time.nowMs < until) {
      const next = Math.min(until, this.#lookedAtMs + LOOK_EVERY_MS);
      await this.world.pass(Math.max(0, next - time.nowMs));
      if (time.nowMs < this.#lookedAtMs + LOOK_EVERY_MS) continue;
      this.#lookedAtMs = time.nowMs;
      for (const screen of this.world.screens) this.#look(screen);
    }
  }

  #look(screen: SimulatedScreen): void {
    const { server, time } = this.world;
    const { link } = screen;
    if (link.state.value !== 'live' || !server.isUp) return void this.#liveSinceMs.delete(screen);
    const since = this.#liveSinceMs.get(screen) ?? time.nowMs;
    this.#liveSinceMs.set(screen, since);
    const boundMs = link.clock.boundMs();
    if (boundMs === null || time.nowMs - since < SETTLED_AFTER_MS) return;
    const { seen } = this;
    const now = server.clock.now();
    const errorMs = Math.abs(link.clock.now() - now);
    seen.looks += 1;
    seen.worstMs = Math.max(seen.worstMs, errorMs);
    seen.widestMs = Math.max(seen.widestMs, boundMs);
    seen.estimateBeyondMs = Math.max(seen.estimateBeyondMs, Math.abs(screen.page.pressedAt() - now) - boundMs);
    const isBeyond = errorMs > boundMs + ROUNDING_MS;
    if (isBeyond) seen.beyond += 1;
    if (isBeyond && this.#beyond.has(screen)) seen.stillBeyond += 1;
    if (isBeyond) this.#beyond.add(screen);
    else this.#beyond.delete(screen);
  }

  #act(): void {
    const happening = weighted<() => void>(
      [
        [60, () => this.#mark()],
        [40, () => this.#press()],
        [0.8, () => this.#outage()],
        [0.2, () => this.#kill()],
      ],
      this.#random,
    );
    happening();
  }

  #mark(): void {
    const { link, page } = oneOf(this.world.decks, this.#random);
    const practice = link.practice.value;
    if (!practice) return;
    const pressedAt = page.pressedAt();
    const expected = expectedOn(link, pressedAt);
    if (expected.length === 0) return;
    this.counts.marks += 1;
    link.times.mark(drawnMark(practice, expected, pressedAt, this.#random));
  }

  /** What a coach would do: start, say go where lanes wait, hold now and then and go on, put the next practice on. */
  #press(): void {
    const { link, page } = oneOf(this.world.decks, this.#random);
    const practice = link.practice.value;
    if (!practice) return;
    const { run, sheet } = practice;
    const pressedAt = page.pressedAt();
    const places = sheet.lanes.map((lane) => placeAt(sheet, run.motions, lane, instant(pressedAt)));
    if (run.state === 'finished' || places.every(({ state }) => state === 'done')) {
      this.#putOn();
      return;
    }
    const waiting = run.motions.find((_, place) => places[place]?.state === 'at gate');
    const gate = waiting === undefined ? null : nextGateOf(sheet, waiting);
    this.counts.presses += 1;
    if (run.state === 'ready') void link.press({ kind: 'start', when: 'grid', pressedAt });
    else if (run.state === 'held') void link.press({ kind: 'resume', when: 'grid', pressedAt });
    else if (gate !== null) void link.press({ kind: 'go', gate, when: 'grid', pressedAt });
    else if (this.#random() < 0.15) void link.press({ kind: 'hold', pressedAt });
    else if (this.#random() < 0.05) void link.press({ kind: 'next', when: 'grid', pressedAt });
    else this.counts.presses -= 1;
  }

  #putOn(): void {
    if (!this.world.server.isUp) return;
    this.counts.practices += 1;
    this.world.server.putOnWall('A practice', LONG_TEXT, SQUAD);
  }

  /** Somebody's radio is gone for up to ten minutes. */
  #outage(): void {
    const { network } = oneOf(this.world.screens, this.#random);
    this.counts.outages += 1;
    network.cut();
    this.world.time.later(network.upTo(10 * MINUTE_MS), () => network.mend());
  }

  #kill(): void {
    const { server, time } = this.world;
    this.counts.kills += 1;
    server.kill();
    time.later(MINUTE_MS * this.#random(), () => server.start());
  }
}
