import { type ReadonlySignal, signal } from '@preact/signals-core';
import { type Tone, tonesBetween } from '../../shared-types/board/tones.ts';
import { instant } from '../../shared-types/brand.ts';
import type { LivePractice, PoolClock } from '../common/live.ts';
import { keepFromSilence, type SoundOutput } from './sound-output.ts';
import { SoundSchedule } from './sound-schedule.ts';
import type { SoundSetting } from './sound-setting.ts';
import { SoundTimeline } from './sound-timeline.ts';
import { SOUND_WORDS } from './words.ts';

/** Tones are handed to the output so long before they are due, ms. */
const AHEAD_MS = 5000;
/** An output that may sound does so within this, ms; one that ought to is asked to again after it. */
const ANSWERS_WITHIN_MS = 1000;

/** What a wall's sound needs of the page. */
export interface SoundParts {
  readonly setting: ReadonlySignal<SoundSetting>;
  readonly practice: ReadonlySignal<Pick<LivePractice, 'run' | 'sheet'> | null>;
  readonly clock: Pick<PoolClock, 'at' | 'boundMs'>;
  /** The page's monotonic clock, ms. */
  pageNow(): number;
  /** Null where the browser has none. */
  openOutput(): SoundOutput | null;
}

/** An output with what is known of it. */
interface Voice {
  readonly output: SoundOutput;
  readonly schedule: SoundSchedule;
  readonly timeline: SoundTimeline;
}

/**
 * The tones of one wall. Browsers keep an output still until somebody has pressed something on the page, or their own
 * settings let it sound at once. It runs while a practice is on the wall that has not ended, and stands still otherwise.
 */
export class WallSound {
  /** What there is to say about it; empty when all is well or it is off. */
  readonly notice = signal('');
  readonly #parts: SoundParts;
  /** Undefined until sound is wanted. */
  #voice: Voice | null | undefined;
  /** Whether the browser has ever let it sound. */
  #isLetSound = false;
  #askedAtMs = 0;

  constructor(parts: SoundParts) {
    this.#parts = parts;
    parts.setting.subscribe(() => this.refresh());
    parts.practice.subscribe(() => this.refresh());
  }

  /** Looks at clocks, practice and output anew. To be called some times a second: it does whatever has come due since. */
  refresh(): void {
    const { on, offsetMs } = this.#parts.setting.value;
    if (on && this.#voice === undefined) this.#voice = this.#open();
    if (this.#voice) {
      this.#schedule(this.#voice, on, offsetMs);
      this.#runOrStand(this.#voice, on);
    }
    this.notice.value = on ? this.#words() : '';
  }

  /** Somebody pressed something on the page; to be called while the browser counts that as a press. */
  press(): void {
    if (this.#voice && !this.#isLetSound) this.#ask(this.#voice.output);
  }

  #open(): Voice | null {
    const output = this.#parts.openOutput();
    if (!output) return null;
    keepFromSilence(output);
    output.addEventListener('statechange', () => this.refresh());
    this.#ask(output);
    return { output, schedule: new SoundSchedule(output), timeline: new SoundTimeline() };
  }

  #ask(output: SoundOutput): void {
    this.#askedAtMs = this.#parts.pageNow();
    output.resume().catch(() => {});
  }

  #runOrStand({ output, schedule }: Voice, on: boolean): void {
    const state = this.#parts.practice.value?.run.state ?? 'finished';
    const isNeeded = on && state !== 'finished';
    if (output.state === 'running') {
      this.#isLetSound = true;
      if (!isNeeded && !schedule.isSounding) output.suspend().catch(() => {});
    } else if (isNeeded && this.#isLetSound && this.#hasNotAnswered()) this.#ask(output);
  }

  #hasNotAnswered(): boolean {
    return this.#parts.pageNow() - this.#askedAtMs >= ANSWERS_WITHIN_MS;
  }

  #schedule({ output, schedule, timeline }: Voice, on: boolean, offsetMs: number): void {
    const pageMs = this.#parts.pageNow();
    const poolMs = this.#parts.clock.at(pageMs);
    if (output.state === 'running') timeline.look(output, pageMs);
    else timeline.forget();
    const due = on && timeline.isKnown ? this.#dueFrom(poolMs - offsetMs) : [];
    schedule.follow(due, (at) => timeline.at(pageMs + (at - poolMs) + offsetMs));
  }

  #dueFrom(poolMs: number): Tone[] {
    const { practice, clock } = this.#parts;
    // Without a bound the clock may be any: rather no tone than one at a wrong time.
    if (!practice.value || clock.boundMs() === null) return [];
    const { sheet, run } = practice.value;
    return tonesBetween(sheet, run, instant(poolMs), instant(poolMs + AHEAD_MS));
  }

  #words(): string {
    if (this.#voice === null) return SOUND_WORDS.none;
    return !this.#isLetSound && this.#hasNotAnswered() ? SOUND_WORDS.locked : '';
  }
}
