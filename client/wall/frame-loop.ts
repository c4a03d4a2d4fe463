/** The browser's own timing, so that the loop can be driven by hand. */
export interface Timing {
  /** ms as performance.now(). */
  now(): number;
  /** Calls back with the frame's time, ms as performance.now(). */
  requestFrame(callback: (frameMs: number) => void): void;
  /** Calls back after `delayMs`; the function returned calls it off. */
  later(delayMs: number, callback: () => void): () => void;
}

export const browserTiming: Timing = {
  now: () => performance.now(),
  requestFrame: (callback) => {
    requestAnimationFrame(callback);
  },
  later: (delayMs, callback) => {
    const timer = setTimeout(callback, delayMs);
    return () => clearTimeout(timer);
  },
};

/** A frame is asked for this long before it is due, ms: it takes up to one refresh to come. */
const EARLY_MS = 12;
const AFTER_FAILURE_MS = 500;

/**
 * Draws when there is something to draw: `draw` does one frame and says how long nothing will change (0: something
 * moves, come back with the next frame). `wake` asks for a frame at once.
 */
export class FrameLoop {
  readonly #timing: Timing;
  readonly #draw: (frameMs: number) => number;
  #asked = false;
  #callOff: () => void = () => {};

  constructor(draw: (frameMs: number) => number, timing: Timing = browserTiming) {
    this.#draw = draw;
    this.#timing = timing;
  }

  wake(): void {
    this.#callOff();
    if (this.#asked) return;
    this.#asked = true;
    this.#timing.requestFrame((frameMs) => this.#frame(frameMs));
  }

  #frame(frameMs: number): void {
    this.#asked = false;
    const dueMs = frameMs + this.#drawn(frameMs) - EARLY_MS;
    // Counted from the frame's time, not from when its drawing was done.
    const waitMs = dueMs - this.#timing.now();
    if (waitMs <= 0) this.wake();
    else this.#callOff = this.#timing.later(waitMs, () => this.wake());
  }

  /** A picture that fails must not be the last: the next one may be all right. */
  #drawn(frameMs: number): number {
    try {
      return this.#draw(frameMs);
    } catch (error) {
      console.error('A picture of the wall could not be drawn.', error);
      return AFTER_FAILURE_MS;
    }
  }
}
