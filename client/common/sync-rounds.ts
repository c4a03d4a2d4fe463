import { syncAnswerSchema } from '../../shared-types/wire/from-server.ts';
import type { LinkParts } from './link-parts.ts';
import type { SyncedClock } from './pool-clock.ts';

/** [SYN2] Eight exchanges in the first second, then one every two seconds. */
const FIRST_EXCHANGES = 8;
const FIRST_EVERY_MS = 125;
const THEN_EVERY_MS = 2000;

/** An answer later than this says nothing worth having, ms. */
const WITHIN_MS = 3000;

/** Keeps the clock in step with the server while the link is up. */
export class SyncRounds {
  readonly #parts: LinkParts;
  readonly #clock: SyncedClock;
  readonly #onAnswer: () => void;
  #callOff: () => void = () => {};
  #asked = 0;
  /** Exchanges begun in an earlier round are not for the clock as it is now. */
  #round = 0;

  constructor(parts: LinkParts, clock: SyncedClock, onAnswer: () => void) {
    this.#parts = parts;
    this.#clock = clock;
    this.#onAnswer = onAnswer;
  }

  /** Begins anew with the quick exchanges. */
  begin(): void {
    this.end();
    this.#asked = 0;
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
    this.#asked += 1;
    const delayMs = this.#asked < FIRST_EXCHANGES ? FIRST_EVERY_MS : THEN_EVERY_MS;
    this.#callOff = this.#parts.later(delayMs, () => this.#tick());
    this.#exchange(this.#round).catch(() => undefined);
  }

  async #exchange(round: number): Promise<void> {
    const askedAt = this.#parts.pageNow();
    const answer = await this.#parts.socket.ask('sync', { askedAt }, WITHIN_MS);
    const heardAt = this.#parts.pageNow();
    const read = syncAnswerSchema.safeParse(answer);
    if (!read.success || round !== this.#round) return;
    this.#clock.learn({ askedAt, ...read.data, heardAt });
    this.#onAnswer();
  }
}
