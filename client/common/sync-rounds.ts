import { syncAnswerSchema } from '../../shared-types/wire/from-server.ts';
import type { LinkParts } from './link-parts.ts';
import type { SyncedClock } from './pool-clock.ts';

/** [SYN2] Eight exchanges in the first second, then one every two seconds. */
const FIRST_EXCHANGES = 8;
const FIRST_EVERY_MS = 125;
const THEN_EVERY_MS = 2000;

/** An answer later than this says nothing worth having, ms. */
const WITHIN_MS = 3000;

/** A timer so late says that the device slept or the page was put aside, ms. */
const SLEPT_MS = 5000;

/** What the rounds need of a link. */
export type RoundParts = Pick<LinkParts, 'later' | 'pageNow'> & { readonly socket: Pick<LinkParts['socket'], 'ask'> };

/** Keeps the clock in step with the server while the link is up. */
export class SyncRounds {
  readonly #parts: RoundParts;
  readonly #clock: SyncedClock;
  readonly #onAnswer: () => void;
  #callOff: () => void = () => {};
  #asked = 0;
  /** When the next exchange is due, page clock. */
  #dueAt = 0;
  /** Exchanges begun in an earlier round are not for the clock as it is now. */
  #round = 0;

  constructor(parts: RoundParts, clock: SyncedClock, onAnswer: () => void) {
    this.#parts = parts;
    this.#clock = clock;
    this.#onAnswer = onAnswer;
  }

  /** Begins anew with the quick exchanges. */
  begin(): void {
    this.end();
    this.#asked = 0;
    this.#dueAt = this.#parts.pageNow();
    this.#tick();
  }

  end(): void {
    this.#callOff();
    this.#round += 1;
  }

  #tick(): void {
    if (this.#clock.hasJumped()) {
      this.#clock.restart();
      this.#asked = 0;
      this.#round += 1;
    }
    // Asleep with both clocks going: what is known still holds, within a bound that has grown.
    if (this.#parts.pageNow() - this.#dueAt > SLEPT_MS) this.#asked = 0;
    this.#asked += 1;
    this.#askLater();
    this.#exchange(this.#round).catch(() => undefined);
  }

  #askLater(): void {
    const delayMs = this.#asked < FIRST_EXCHANGES ? FIRST_EVERY_MS : THEN_EVERY_MS;
    this.#dueAt = this.#parts.pageNow() + delayMs;
    this.#callOff();
    this.#callOff = this.#parts.later(delayMs, () => this.#tick());
  }

  async #exchange(round: number): Promise<void> {
    const askedAt = this.#parts.pageNow();
    const answer = await this.#parts.socket.ask('sync', { askedAt }, WITHIN_MS);
    const heardAt = this.#parts.pageNow();
    const read = syncAnswerSchema.safeParse(answer);
    if (!read.success || round !== this.#round) return;
    const contradicts = this.#clock.learn({ askedAt, ...read.data, heardAt });
    if (contradicts) this.#hurry();
    this.#onAnswer();
  }

  /** The pool's clock was set: the exchange that showed it is the first of the quick ones. */
  #hurry(): void {
    this.#asked = 1;
    this.#askLater();
  }
}
