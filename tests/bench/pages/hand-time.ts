interface Timer {
  readonly callback: () => void;
  readonly dueMs: number;
}

/** Frames between which the browser comes to show something. */
const FRAMES_AT_ONCE = 50;

/** Takes the place of the page's clocks, timers and frames: time goes by only when it is told to. */
export class HandTime {
  readonly #shownFrame: () => Promise<unknown>;
  #nowMs = performance.now();
  #frames: FrameRequestCallback[] = [];
  readonly #timers = new Map<number, Timer>();
  #lastId = 0;

  constructor() {
    const request = window.requestAnimationFrame.bind(window);
    this.#shownFrame = () => new Promise((resolve) => request(resolve));
    const originMs = Date.now() - this.#nowMs;
    Object.assign(performance, { now: () => this.#nowMs });
    Object.assign(Date, { now: () => originMs + this.#nowMs });
    Object.assign(window, {
      requestAnimationFrame: (callback: FrameRequestCallback) => this.#frames.push(callback),
      setTimeout: (callback: () => void, delayMs = 0) => this.#later(callback, delayMs),
      clearTimeout: (id: number) => void this.#timers.delete(id),
    });
  }

  get nowMs(): number {
    return this.#nowMs;
  }

  /** So many frames, `everyMs` apart. */
  async advance(frames: number, everyMs: number): Promise<void> {
    for (let frame = 1; frame <= frames; frame += 1) {
      this.#pass(everyMs);
      if (frame % FRAMES_AT_ONCE === 0) await this.#shownFrame();
    }
  }

  #later(callback: () => void, delayMs: number): number {
    this.#lastId += 1;
    this.#timers.set(this.#lastId, { callback, dueMs: this.#nowMs + delayMs });
    return this.#lastId;
  }

  #pass(byMs: number): void {
    this.#nowMs += byMs;
    for (const [id, { callback, dueMs }] of [...this.#timers]) {
      if (dueMs > this.#nowMs || !this.#timers.delete(id)) continue;
      callback();
    }
    const asked = this.#frames;
    this.#frames = [];
    for (const callback of asked) callback(this.#nowMs);
  }
}
