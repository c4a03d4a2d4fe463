import { type ReadonlySignal, signal } from '@preact/signals';
import type { Link, Press } from '../common/live.ts';
import { answerWords } from './words.ts';

/** Run-wide buttons stay locked at least so long: a drop of water, or a second finger, is no second press. */
const LOCKED_MS = 700;
/** How long to wait for the event that a press has led to, once it was answered, ms. */
const EVENT_WITHIN_MS = 1000;
const NOTICE_MS = 8000;

/** What the coach is told about a press that came to nothing. */
interface Notice {
  readonly words: string;
}

/** Sends the deck's presses and says what became of them. */
export interface Presses {
  /** A run-wide press is on its way; its buttons are locked. */
  readonly busy: ReadonlySignal<boolean>;
  readonly notice: ReadonlySignal<Notice | null>;
  /** For the whole run (or a gate): locks until answered. */
  runWide(press: Press): void;
  /** For one lane: shifts commute, nothing is locked. */
  oneLane(press: Press): void;
  /** Something else the coach has to know. */
  tell(words: string): void;
  dismiss(): void;
}

export function pressesOver(link: Link): Presses {
  const busy = signal(false);
  const notice = signal<Notice | null>(null);
  let fading: ReturnType<typeof setTimeout> | undefined;

  const say = (words: string): void => {
    clearTimeout(fading);
    notice.value = words === '' ? null : { words };
    if (words !== '') fading = setTimeout(() => say(''), NOTICE_MS);
  };
  const send = async (press: Press): Promise<void> => {
    const answer = await link.press(press);
    say(answerWords(answer));
    if (answer?.ok) await folded(link, answer.seq);
  };
  const runWide = async (press: Press): Promise<void> => {
    busy.value = true;
    await Promise.all([send(press), pause(LOCKED_MS)]);
    busy.value = false;
  };
  return {
    busy,
    notice,
    runWide: (press) => {
      if (!busy.value) void runWide(press);
    },
    oneLane: (press) => void send(press),
    tell: say,
    dismiss: () => say(''),
  };
}

const pause = (delayMs: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, delayMs));

/** Until this page has followed the run up to `seq`, so that its buttons say what can be pressed then. */
function folded(link: Link, seq: number): Promise<void> {
  return new Promise((resolve) => {
    const giveUp = setTimeout(done, EVENT_WITHIN_MS);
    const stop = link.practice.subscribe((practice) => {
      if (!practice || practice.run.seq >= seq) queueMicrotask(done);
    });
    function done(): void {
      clearTimeout(giveUp);
      stop();
      resolve();
    }
  });
}
