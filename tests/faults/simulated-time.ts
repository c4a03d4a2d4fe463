import { HandMachineClock } from '../fixtures/machine-clock.ts';

interface Due {
  readonly at: number;
  readonly call: () => void;
}

/** Everything that hangs on promises has happened: the next tick comes when no promise is left to be followed. */
const settled = (): Promise<void> => new Promise((resolve) => process.nextTick(resolve));

/**
 * Time for a simulation: it goes on only when told to, from one due call to the next, and never back. All of it is
 * counted on one machine's clocks, which the server of the simulation can be given.
 */
export class SimulatedTime {
  readonly machine = new HandMachineClock();
  /** Ascending; what is due at the same moment in the order of asking. */
  readonly #due: Due[] = [];

  get nowMs(): number {
    return this.machine.monotonicMs();
  }

  /** Calls once after `delayMs`. @returns what calls it off */
  later(delayMs: number, call: () => void): () => void {
    const due: Due = { at: this.nowMs + Math.max(0, delayMs), call };
    let place = this.#due.length;
    while (place > 0 && (this.#due[place - 1]?.at ?? 0) > due.at) place -= 1;
    this.#due.splice(place, 0, due);
    return () => {
      const found = this.#due.indexOf(due);
      if (found >= 0) this.#due.splice(found, 1);
    };
  }

  /** Lets `byMs` go by, call by call, with everything that hangs on promises. @throws RangeError when it is to go back */
  async pass(byMs: number): Promise<void> {
    if (byMs < 0) throw new RangeError('time does not go back');
    const until = this.nowMs + byMs;
    for (let next = this.#due[0]; next && next.at <= until; next = this.#due[0]) {
      this.#due.shift();
      this.#goTo(next.at);
      next.call();
      await settled();
    }
    this.#goTo(until);
  }

  /** Sums of fractions may be a hair off, which is not going back. */
  #goTo(at: number): void {
    this.machine.pass(Math.max(0, at - this.nowMs));
  }
}
