import { effect, type ReadonlySignal, signal } from '@preact/signals';
import type { RunId } from '../../shared-types/brand.ts';
import { type LinesAnswer, linesAnswerSchema } from '../../shared-types/wire/results.ts';
import type { Link } from '../common/live.ts';

/** How long after a time was taken the server is asked anew, ms; further times meanwhile wait for the same answer. */
const AFTER_A_TIME_MS = 3000;

/** What the times of the practice on the wall say, as the server has worked it out. */
export interface LeadLines {
  /** Null until the server has told. */
  readonly shown: ReadonlySignal<LinesAnswer | null>;
  /** Keeps up with the times that are taken, for as long as somebody looks. @returns what ends that */
  follow(): () => void;
}

export interface LinesParts {
  readonly link: Pick<Link, 'practice' | 'times' | 'state'>;
  /** @throws (rejects) when the server does not answer in time */
  fetchJson(path: string): Promise<unknown>;
  /** Calls once after `delayMs`. @returns what calls it off */
  later(delayMs: number, call: () => void): () => void;
}

export function leadLinesOver({ link, fetchJson, later }: LinesParts): LeadLines {
  const shown = signal<LinesAnswer | null>(null);
  let callOff: (() => void) | null = null;

  async function ask(run: RunId): Promise<void> {
    const told = await fetchJson(`/api/runs/${run}/lines?role=deck`).catch(() => null);
    const answer = linesAnswerSchema.safeParse(told);
    // An answer that comes late must not hide a newer one, nor another practice's.
    const isNews = shown.peek()?.run !== run || (answer.data?.markSeq ?? 0) >= (shown.peek()?.markSeq ?? 0);
    if (answer.success && isNews && link.practice.peek()?.run.id === run) shown.value = answer.data;
  }

  function askNow(): void {
    const run = link.practice.peek()?.run.id;
    if (run !== undefined) void ask(run);
  }

  function askSoon(): void {
    callOff ??= later(AFTER_A_TIME_MS, () => {
      callOff = null;
      askNow();
    });
  }

  function follow(): () => void {
    let isFirst = true;
    const stop = effect(() => {
      const { run } = link.practice.value ?? {};
      // Read for what follows from them: another practice, a change of it, a time, the server that is back.
      void [run?.id, run?.seq, link.times.book.value.seq, link.state.value];
      if (isFirst) askNow();
      else askSoon();
      isFirst = false;
    });
    return () => {
      stop();
      callOff?.();
      callOff = null;
    };
  }

  return { shown, follow };
}
