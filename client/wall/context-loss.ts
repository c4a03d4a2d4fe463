/** A graphics context that is lost twice within this time cannot be relied on, ms. */
const NEAR_MS = 10 * 60_000;
/** Browsers that give a lost context back do so at once; ms. */
const RESTORED_WITHIN_MS = 5000;
const ASK_AGAIN_AFTER_MS = 5000;

/** What it takes of the page; tests bring their own. */
export interface LossParts {
  /** Monotonic, ms. */
  now(): number;
  /** Calls once after `delayMs`. @returns what calls it off */
  later(delayMs: number, call: () => void): () => void;
  /** Whether a page that is loaded now would come. */
  serverAnswers(): Promise<boolean>;
  /** Loads the page again, to draw in a way that has no such context to lose. */
  startAgain(): void;
}

/**
 * What a wall does about the losses of its graphics context: one that comes back is borne. After two losses in ten
 * minutes, or when it has not come back in five seconds, the page is loaded again; not before the server answers, since
 * a wall without its server goes on by itself but cannot be loaded.
 */
export class ContextLosses {
  readonly #parts: LossParts;
  #isLost = false;
  #lastAt = Number.NEGATIVE_INFINITY;
  #tooMany = false;
  #isLeaving = false;
  #callOff: () => void = () => {};

  constructor(parts: LossParts) {
    this.#parts = parts;
  }

  lost(): void {
    const now = this.#parts.now();
    this.#tooMany ||= now - this.#lastAt < NEAR_MS;
    this.#lastAt = now;
    this.#isLost = true;
    this.#callOff();
    this.#callOff = this.#parts.later(this.#tooMany ? 0 : RESTORED_WITHIN_MS, () => void this.#leave());
  }

  restored(): void {
    this.#isLost = false;
  }

  get #mustLeave(): boolean {
    return this.#isLost || this.#tooMany;
  }

  async #leave(): Promise<void> {
    if (this.#isLeaving) return;
    this.#isLeaving = true;
    while (this.#mustLeave && !(await this.#parts.serverAnswers())) {
      await new Promise<void>((resolve) => void this.#parts.later(ASK_AGAIN_AFTER_MS, resolve));
    }
    this.#isLeaving = false;
    if (this.#mustLeave) this.#parts.startAgain();
  }
}
