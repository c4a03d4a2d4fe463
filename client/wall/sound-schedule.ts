import type { Tone } from '../../shared-types/board/tones.ts';
import type { Instant } from '../../shared-types/brand.ts';
import { LONGEST_TONE_S, type SoundOutput, soundTone } from './sound-output.ts';

/** A tone is put elsewhere when its start has moved by more than this, s. */
const MOVED_S = 0.003;
/** So close to its start a tone counts as begun: the output may be at it already, s. */
const BEGUN_S = 0.03;
/** A tone is known for so long after its start, lest a clock put back sound it again, s. */
const KNOWN_S = 10;

interface Scheduled {
  /** On the output's clock, s. */
  readonly startsAt: number;
  takeBack(): void;
}

/** The tones that have been handed to an output ahead of their time. */
export class SoundSchedule {
  readonly #output: SoundOutput;
  readonly #scheduled = new Map<string, Scheduled>();

  constructor(output: SoundOutput) {
    this.#output = output;
  }

  /** Whether a tone is on its way or not over yet: stopped now, the output would sound the rest when it goes on. */
  get isSounding(): boolean {
    const now = this.#output.currentTime;
    return [...this.#scheduled.values()].some(({ startsAt }) => startsAt > now - LONGEST_TONE_S);
  }

  /**
   * Sees to it that of all tones that have not begun just these are to come. One whose start has passed is left out: a
   * late tone would start somebody late.
   * @param startOf when to sound a tone of the pool's instant, s on the output's clock
   */
  follow(due: readonly Tone[], startOf: (at: Instant) => number): void {
    const starts = new Map(due.map((tone) => [`${tone.kind} ${tone.at}`, { ...tone, startsAt: startOf(tone.at) }]));
    this.#takeBackAllBut(
      (key, { startsAt }) => Math.abs((starts.get(key)?.startsAt ?? Number.NaN) - startsAt) <= MOVED_S,
    );
    for (const [key, { kind, startsAt }] of starts) {
      if (this.#scheduled.has(key) || startsAt <= this.#output.currentTime) continue;
      this.#scheduled.set(key, { startsAt, takeBack: soundTone(this.#output, kind, startsAt) });
    }
  }

  #takeBackAllBut(isRight: (key: string, scheduled: Scheduled) => boolean): void {
    const now = this.#output.currentTime;
    for (const [key, scheduled] of this.#scheduled) {
      const hasBegun = scheduled.startsAt <= now + BEGUN_S;
      if (hasBegun ? scheduled.startsAt > now - KNOWN_S : isRight(key, scheduled)) continue;
      if (!hasBegun) scheduled.takeBack();
      this.#scheduled.delete(key);
    }
  }
}
