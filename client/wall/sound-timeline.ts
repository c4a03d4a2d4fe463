import type { SoundOutput } from './sound-output.ts';

/** As many looks count, and the middle one is taken: they scatter a little. */
const LOOKS = 5;
/** A look this far from the others is no scatter: the output ran dry, or it or the page stood still in between, ms. */
const JUMP_MS = 3;
/** An output's report older than this is from before it was stopped, ms. */
const STALE_MS = 1000;
/** So many looks in a row wait for a report; an output that gives none by then never will. */
const PATIENT_LOOKS = 4;

/**
 * Where the output's clock stands to the page's: two clocks of different crystals, and the output's stops while it is
 * suspended or the device sleeps. So the page looks again and again.
 */
export class SoundTimeline {
  /** Output time that is heard at a page time minus that page time, ms; the newest last. */
  #looks: number[] = [];
  /** Looks in a row without a report. */
  #missing = 0;

  /** Whether there is anything to go by. */
  get isKnown(): boolean {
    return this.#looks.length > 0;
  }

  /** @param pageMs now, on the page's clock (performance.now()) */
  look(output: SoundOutput, pageMs: number): void {
    const reported = reportOf(output, pageMs);
    // What reports say and what readings say is not mixed.
    if ((reported === null) !== this.#missing > 0) this.#looks = [];
    this.#missing = reported === null ? this.#missing + 1 : 0;
    if (reported !== null) this.#take(reported);
    else if (this.#missing > PATIENT_LOOKS) this.#take(readingOf(output, pageMs));
  }

  forget(): void {
    this.#looks = [];
    this.#missing = 0;
  }

  /** What to sound at so that it is heard at `pageMs`, s on the output's clock; as known. */
  at(pageMs: number): number {
    return (pageMs + this.#middle()) / 1000;
  }

  #take(seen: number): void {
    if (Math.abs(seen - this.#middle()) > JUMP_MS) this.#looks = [];
    this.#looks = [...this.#looks, seen].slice(-LOOKS);
  }

  #middle(): number {
    const sorted = [...this.#looks].sort((a, b) => a - b);
    return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
  }
}

/**
 * From the output's own report, which names a pair: this instant of its clock leaves the loudspeaker at that time of the
 * page's. Null while it has none, or an old one.
 */
function reportOf(output: SoundOutput, pageMs: number): number | null {
  const { contextTime = 0, performanceTime = 0 } = output.getOutputTimestamp?.() ?? {};
  const isFresh = contextTime > 0 && Math.abs(pageMs - performanceTime) <= STALE_MS;
  return isFresh ? contextTime * 1000 - performanceTime : null;
}

/** From its clock as it reads now and the way to the ear: coarser, for the clock goes in steps. */
const readingOf = ({ currentTime, outputLatency = 0 }: SoundOutput, pageMs: number): number =>
  (currentTime - outputLatency) * 1000 - pageMs;
