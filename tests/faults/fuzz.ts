import type { Marking } from '../../client/common/live.ts';
import { instant } from '../../shared-types/brand.ts';
import { expectedOn } from './expected-on.ts';
import { expectAgreement } from './fuzz-checks.ts';
import { drawnText, SQUAD } from './fuzz-practices.ts';
import { drawnMark, drawnPress, oneOf, weighted } from './fuzz-presses.ts';
import { FuzzRecord } from './fuzz-record.ts';
import { FuzzWorld, scattered } from './fuzz-world.ts';
import type { Mischief } from './simulated-network.ts';
import type { SimulatedScreen } from './simulated-screen.ts';

const STEPS = 300;
/** Between two steps, ms. */
const [SHORTEST_MS, LONGEST_MS] = [50, 60_000];
/** Pages ask again after 10 s at most; then corrections are slewed. Ms. */
const SETTLING_MS = 120_000;
const MISCHIEF: Mischief = { againShare: 0.08, lateShare: 0.08, byMs: 8000 };
/** After so many steps all is mended for a while, and everybody has to agree. */
const AGREE_EVERY = 75;
/** How often the shown clocks are looked at meanwhile, ms. */
const LOOK_EVERY_MS = 500;
/** How much later than pressed a press may be sent, ms. */
const LATE_MS = 6000;

/** One random course of events in a world, the same again for the same seed. */
export class Fuzz {
  readonly world: FuzzWorld;
  readonly record = new FuzzRecord();
  /** What was done, one line a step. */
  readonly steps: string[] = [];
  readonly #random: () => number;
  readonly #startedMs: number;

  constructor(seed: number, folder: string) {
    this.#random = scattered(seed);
    const form = { decks: 3, walls: 4, mischief: MISCHIEF };
    this.world = new FuzzWorld(folder, form, this.#random, this.record.onAnswer);
    this.#startedMs = this.world.time.nowMs;
  }

  /** @throws Error when something is not as it must be */
  async run(): Promise<void> {
    this.#putOn();
    for (let step = 1; step <= STEPS; step += 1) {
      this.#note(this.#act());
      await this.#pass(SHORTEST_MS * (LONGEST_MS / SHORTEST_MS) ** this.#random());
      this.record.look(this.world);
      if (step % AGREE_EVERY === 0) await this.#agree();
    }
  }

  async #pass(byMs: number): Promise<void> {
    for (let leftMs = byMs; leftMs > 0; leftMs -= LOOK_EVERY_MS) {
      await this.world.pass(Math.min(leftMs, LOOK_EVERY_MS));
      this.record.lookAtClocks(this.world);
    }
  }

  async #agree(): Promise<void> {
    this.world.mend();
    await this.#pass(SETTLING_MS);
    this.record.look(this.world);
    expectAgreement(this.world, this.record);
    this.world.meddle();
  }

  #note(what: string): void {
    const seconds = ((this.world.time.nowMs - this.#startedMs) / 1000).toFixed(2);
    this.steps.push(`${this.steps.length + 1}. at ${seconds} s: ${what}`);
  }

  #act(): string {
    const { server } = this.world;
    if (server.isUp && server.keeper.run?.state === 'finished' && this.#random() < 0.07) return this.#putOn();
    const happening = weighted<() => string>(
      [
        [34, () => this.#press()],
        [4, () => this.#pressTogether()],
        [24, () => this.#mark()],
        [5, () => this.#repair()],
        [10, () => 'nothing'],
        [3, () => this.#cut()],
        [3, () => this.#stall()],
        [8, () => this.#mendOne()],
        [3, () => this.#reload()],
        [2.5, () => this.#kill()],
        [server.isUp ? 0 : 10, () => this.#start()],
        [2, () => this.#setClock()],
        [2, () => this.#sleep()],
        [6, () => this.#wake()],
        [server.isUp ? 0.2 : 0, () => this.#putOn()],
      ],
      this.#random,
    );
    return happening();
  }

  #one(screens: readonly SimulatedScreen[]): SimulatedScreen {
    return oneOf(screens, this.#random);
  }

  #awakeDeck(): SimulatedScreen | null {
    const awake = this.world.decks.filter(({ isAsleep, link }) => !isAsleep && link.practice.value);
    return awake.length > 0 ? this.#one(awake) : null;
  }

  #name(screen: SimulatedScreen): string {
    return `${screen.role} ${this.world.screens.indexOf(screen)}`;
  }

  #press(): string {
    const deck = this.#awakeDeck();
    const practice = deck?.link.practice.value;
    if (!deck || !practice) return 'nobody to press';
    const lateMs = this.#random() < 0.1 ? LATE_MS * this.#random() : 0;
    const press = drawnPress(practice, instant(deck.page.pressedAt() - lateMs), this.#random);
    void deck.link.press(press);
    return `${this.#name(deck)} presses ${JSON.stringify(press)}`;
  }

  /** [CMD3] Two press the same at once. */
  #pressTogether(): string {
    const deck = this.#awakeDeck();
    const practice = deck?.link.practice.value;
    if (!deck || !practice) return 'nobody to press';
    const press = drawnPress(practice, deck.page.pressedAt(), this.#random);
    for (const other of this.world.decks) if (!other.isAsleep) void other.link.press(press);
    return `all decks press ${JSON.stringify(press)}`;
  }

  #mark(): string {
    const deck = this.#awakeDeck();
    const practice = deck?.link.practice.value;
    if (!deck || !practice) return 'nobody to take a time';
    const pressedAt = deck.page.pressedAt();
    const marking = drawnMark(practice, expectedOn(deck.link, pressedAt), pressedAt, this.#random);
    return this.#take(deck, marking);
  }

  #take(deck: SimulatedScreen, marking: Marking): string {
    const id = deck.link.times.mark(marking);
    if (id !== null) this.record.made.push({ id, kind: marking.kind });
    return `${this.#name(deck)} takes ${id} ${JSON.stringify(marking)}`;
  }

  #repair(): string {
    const deck = this.#awakeDeck();
    if (!deck) return 'nobody to repair a time';
    const waiting = deck.link.times.waiting.value.flatMap((command) => (command.kind === 'mark' ? [command.id] : []));
    const marks = [...deck.link.times.book.value.entries.keys(), ...waiting].slice(-8);
    if (marks.length === 0) return 'no time to repair';
    const mark = oneOf(marks, this.#random);
    const expected = expectedOn(deck.link, deck.page.pressedAt());
    if (expected.length > 0 && this.#random() < 0.2) {
      const { swimmer, step, pass, distance } = oneOf(expected, this.#random);
      return this.#take(deck, { kind: 'assign', mark, swimmer, step, pass, distance });
    }
    return this.#take(deck, { kind: this.#random() < 0.7 ? 'void' : 'restore', mark });
  }

  #cut(): string {
    const screen = this.#one(this.world.screens);
    screen.network.cut();
    return `${this.#name(screen)} is cut off`;
  }

  #stall(): string {
    const screen = this.#one(this.world.screens);
    screen.network.stall();
    return `${this.#name(screen)} stalls`;
  }

  #mendOne(): string {
    const broken = this.world.screens.filter(({ network }) => network.state !== 'up');
    if (broken.length === 0) return 'nothing to mend';
    const screen = this.#one(broken);
    screen.network.mend();
    return `${this.#name(screen)} is mended`;
  }

  /** Where the server does not answer there is no page to be had. */
  #reload(): string {
    const screen = this.#one(this.world.screens);
    if (screen.isAsleep || screen.network.state !== 'up' || !this.world.server.isUp) return 'no page to reload';
    screen.reload();
    return `${this.#name(screen)} is reloaded`;
  }

  #kill(): string {
    const { server } = this.world;
    server.kill();
    if (this.#random() < 0.5) server.start();
    return server.isUp ? 'the server is killed and started' : 'the server is killed';
  }

  #start(): string {
    this.world.server.start();
    return 'the server is started';
  }

  #setClock(): string {
    const byMs = this.#random() < 0.5 ? 3000 : -3000;
    this.world.time.machine.step(byMs);
    const andThen = this.#random() < 0.5 ? `, and ${this.#kill()}` : '';
    return `the server's time of day is set by ${byMs} ms${andThen}`;
  }

  #sleep(): string {
    const screen = this.#one(this.world.screens);
    if (screen.isAsleep) return 'sleeps on';
    screen.sleep(this.#random() < 0.5);
    return `${this.#name(screen)} falls asleep`;
  }

  #wake(): string {
    const asleep = this.world.screens.filter(({ isAsleep }) => isAsleep);
    if (asleep.length === 0) return 'nobody is asleep';
    const screen = this.#one(asleep);
    screen.wake();
    return `${this.#name(screen)} wakes`;
  }

  #putOn(): string {
    const text = drawnText(this.#random);
    const run = this.world.server.putOnWall('A practice', text, SQUAD);
    this.record.putOn(run);
    return `a practice is put on the wall: ${JSON.stringify(text)}`;
  }
}
