import { SyncedClock } from '../../client/common/pool-clock.ts';
import { SyncRounds } from '../../client/common/sync-rounds.ts';
import { type PoolClock, poolClock } from '../../server/clock.ts';
import type { SimulatedDevice } from './simulated-device.ts';
import type { SimulatedLink } from './simulated-link.ts';
import type { SimulatedTime } from './simulated-time.ts';

/** A question about the pool's clock on its way, with the id that finds its answer. */
export interface Question {
  readonly id: number;
}
export interface Reply {
  readonly id: number;
  readonly answer: unknown;
}

/** The server's clock in a simulation. */
export class SimulatedPool {
  readonly #time: SimulatedTime;
  #clock: PoolClock;

  constructor(time: SimulatedTime) {
    this.#time = time;
    this.#clock = poolClock(time.machine, null);
  }

  now(): number {
    return this.#clock.now();
  }

  /** The server comes back on another anchor: its clock has moved by `byMs`. */
  step(byMs: number): void {
    this.#time.machine.step(byMs);
    this.#clock = poolClock(this.#time.machine, null);
  }
}

/** A page's real clock and exchanges, on a simulated device, link and server. */
export class SyncedPage {
  readonly clock: SyncedClock;
  readonly #device: SimulatedDevice;
  readonly #pool: SimulatedPool;
  readonly #link: SimulatedLink<Question, Reply>;
  readonly #rounds: SyncRounds;
  readonly #waiting = new Map<number, (answer: unknown) => void>();
  #questions = 0;

  constructor(device: SimulatedDevice, pool: SimulatedPool, link: SimulatedLink<Question, Reply>) {
    this.#device = device;
    this.#pool = pool;
    this.#link = link;
    this.clock = new SyncedClock(device);
    link.there.onArrival(({ id }) => {
      const at = pool.now();
      link.back.send({ id, answer: { receivedAt: at, answeredAt: at } });
    });
    link.back.onArrival(({ id, answer }) => device.whenAwake(() => this.#waiting.get(id)?.(answer)));
    const parts = {
      pageNow: () => device.pageNow(),
      later: (delayMs: number, call: () => void) => device.later(delayMs, call),
      socket: { ask: (_event: string, _payload: unknown, withinMs: number) => this.#ask(withinMs) },
    };
    this.#rounds = new SyncRounds(parts, this.clock, () => {});
  }

  /** The link is there, or there again. */
  connect(): void {
    this.#link.mend();
    this.#rounds.begin();
  }

  disconnect(): void {
    this.#link.cut();
    this.#rounds.end();
  }

  /** How many exchanges it has begun. */
  get questions(): number {
    return this.#questions;
  }

  /** Error of the estimate now, ms; > 0 when it is ahead of the pool's clock. */
  errorMs(): number {
    return this.clock.at(this.#device.pageNow()) - this.#pool.now();
  }

  #ask(withinMs: number): Promise<unknown> {
    this.#questions += 1;
    const id = this.#questions;
    return new Promise((resolve, reject) => {
      const callOff = this.#device.later(withinMs, () => {
        this.#waiting.delete(id);
        reject(new Error('no answer'));
      });
      this.#waiting.set(id, (answer) => {
        this.#waiting.delete(id);
        callOff();
        resolve(answer);
      });
      this.#link.there.send({ id });
    });
  }
}
