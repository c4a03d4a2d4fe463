import type { SimulatedTime } from './simulated-time.ts';

/** How one screen's network treats what goes through it. */
export interface NetworkTraits {
  /** The least a message takes one way, ms. */
  readonly delayMs: number;
  /** Up to so much more, ms. */
  readonly jitterMs: number;
  /** Share of the HTTP questions that fail. */
  readonly failingShare: number;
}

/**
 * What messes with whole messages beyond what a network does: some come twice, some late and out of their order. The
 * server and the pages have to stand it.
 */
export interface Mischief {
  readonly againShare: number;
  readonly lateShare: number;
  /** By at most so much, ms. */
  readonly byMs: number;
}

export const NO_MISCHIEF: Mischief = { againShare: 0, lateShare: 0, byMs: 0 };

/** One that is hooked to a network. */
interface Listener {
  cut(): void;
  stall(): void;
  flow(): void;
}

/** The way between one screen and the server. */
export class SimulatedNetwork {
  readonly time: SimulatedTime;
  readonly random: () => number;
  readonly traits: NetworkTraits;
  mischief = NO_MISCHIEF;
  readonly #listeners = new Set<Listener>();
  #state: 'up' | 'cut' | 'stalled' = 'up';

  constructor(time: SimulatedTime, traits: NetworkTraits, random: () => number) {
    this.time = time;
    this.traits = traits;
    this.random = random;
  }

  get state(): 'up' | 'cut' | 'stalled' {
    return this.#state;
  }

  /** @returns what unhooks it */
  hook(listener: Listener): () => void {
    this.#listeners.add(listener);
    if (this.#state === 'stalled') listener.stall();
    return () => void this.#listeners.delete(listener);
  }

  /** Everything on its way is lost, and nothing comes through until it is mended. */
  cut(): void {
    this.#state = 'cut';
    for (const listener of [...this.#listeners]) listener.cut();
  }

  /** Nothing comes through until it is mended, but nothing is lost by that alone. */
  stall(): void {
    if (this.#state !== 'up') return;
    this.#state = 'stalled';
    for (const listener of [...this.#listeners]) listener.stall();
  }

  /** Everything comes through again, and what was held up first. */
  mend(): void {
    this.#state = 'up';
    for (const listener of [...this.#listeners]) listener.flow();
  }

  /** How long a message takes one way, ms. */
  delayMs(): number {
    return this.traits.delayMs + this.traits.jitterMs * this.random();
  }

  /** From 0 to `mostMs`. */
  upTo(mostMs: number): number {
    return mostMs * this.random();
  }
}
