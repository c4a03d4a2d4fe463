import type { SimulatedTime } from './simulated-time.ts';

/** After how long each copy of a message arrives, ms: none when it is lost, two when it is doubled. */
export type Fate = readonly number[];

/** How one way of a link treats messages. */
export interface WayTraits {
  /** The least a message takes, ms. */
  readonly delayMs: number;
  /** Up to so much more, each amount as likely as another, ms. */
  readonly jitterMs: number;
  /** Share of the messages that never arrive. */
  readonly lossShare: number;
  /** Share of the messages that arrive twice, each copy in its own time; none when absent. */
  readonly doubleShare?: number;
  /** No message overtakes an earlier one, as on a socket. */
  readonly inOrder?: boolean;
}

/** Both ways; unequal traits make an asymmetric link. */
export interface LinkTraits {
  readonly there: WayTraits;
  readonly back: WayTraits;
}

/** One way of a link: what is sent arrives as its fate will have it, in simulated time. */
export class SimulatedWay<Message> {
  readonly #time: SimulatedTime;
  readonly #fateOf: () => Fate;
  readonly #inOrder: boolean;
  #heard: (message: Message) => void = () => {};
  #isCut = false;
  /** What has come while nothing arrives, in its order; null while it flows. */
  #stalled: Message[] | null = null;
  /** What was sent before a cut is for a connection that is no more. */
  #connection = 0;
  #lastAt = 0;

  /** @param fateOf asked once for every message sent; moves the link by hand or by chance */
  constructor(time: SimulatedTime, fateOf: () => Fate, inOrder = false) {
    this.#time = time;
    this.#fateOf = fateOf;
    this.#inOrder = inOrder;
  }

  onArrival(heard: (message: Message) => void): void {
    this.#heard = heard;
  }

  send(message: Message): void {
    if (this.#isCut) return;
    const connection = this.#connection;
    for (const delayMs of this.#fateOf()) {
      this.#time.later(this.#arrivesAfter(delayMs), () => {
        if (connection === this.#connection) this.#arrive(message);
      });
    }
  }

  /** From now on nothing arrives, but nothing is lost either. */
  stall(): void {
    this.#stalled ??= [];
  }

  /** What was held up arrives now. */
  flow(): void {
    const held = this.#stalled ?? [];
    this.#stalled = null;
    for (const message of held) this.#heard(message);
  }

  /** Whatever is on its way, and is sent until the link is mended, is lost. */
  cut(): void {
    this.#isCut = true;
    this.#connection += 1;
    if (this.#stalled) this.#stalled = [];
  }

  mend(): void {
    this.#isCut = false;
  }

  #arrive(message: Message): void {
    if (this.#stalled) this.#stalled.push(message);
    else this.#heard(message);
  }

  #arrivesAfter(delayMs: number): number {
    const now = this.#time.nowMs;
    if (this.#inOrder) this.#lastAt = Math.max(this.#lastAt, now + delayMs);
    return this.#inOrder ? this.#lastAt - now : delayMs;
  }
}

/** A connection between a page and the server: messages of any kind each way. */
export class SimulatedLink<There, Back> {
  readonly there: SimulatedWay<There>;
  readonly back: SimulatedWay<Back>;

  constructor(there: SimulatedWay<There>, back: SimulatedWay<Back>) {
    this.there = there;
    this.back = back;
  }

  cut(): void {
    this.there.cut();
    this.back.cut();
  }

  mend(): void {
    this.there.mend();
    this.back.mend();
  }
}

/** Fates drawn by chance. @param random numbers from 0 up to 1, the same again for the same seed */
export function drawnFates(traits: WayTraits, random: () => number): () => Fate {
  const { delayMs, jitterMs, lossShare, doubleShare = 0 } = traits;
  const copy = (): number => delayMs + jitterMs * random();
  return () => {
    if (random() < lossShare) return [];
    return random() < doubleShare ? [copy(), copy()] : [copy()];
  };
}

/** A link that treats messages as its traits say, by chance. */
export function drawnLink<There, Back>(
  time: SimulatedTime,
  { there, back }: LinkTraits,
  random: () => number,
): SimulatedLink<There, Back> {
  return new SimulatedLink<There, Back>(
    new SimulatedWay<There>(time, drawnFates(there, random), there.inOrder),
    new SimulatedWay<Back>(time, drawnFates(back, random), back.inOrder),
  );
}
