/** How often the same is said at most, ms. */
const EVERY_MS = 200;

interface Waiting {
  readonly timer: NodeJS.Timeout;
  /** What is to be said when it is time; null: nothing new. */
  say: (() => void) | null;
}

/**
 * Of what is said so often that only the last counts, the first is said at once and the last soon: whoever has it said
 * again and again costs those who hear it next to nothing.
 */
export class LastSaid {
  readonly #waiting = new Map<string, Waiting>();

  /** @param what by which one takes the place of another */
  say(what: string, say: () => void): void {
    const waiting = this.#waiting.get(what);
    if (waiting) {
      waiting.say = say;
      return;
    }
    say();
    this.#waitFor(what);
  }

  end(): void {
    for (const { timer } of this.#waiting.values()) clearTimeout(timer);
    this.#waiting.clear();
  }

  #waitFor(what: string): void {
    const timer = setTimeout(() => {
      const said = this.#waiting.get(what)?.say;
      this.#waiting.delete(what);
      if (!said) return;
      said();
      this.#waitFor(what);
    }, EVERY_MS);
    this.#waiting.set(what, { timer: timer.unref(), say: null });
  }
}
