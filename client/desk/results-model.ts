import { batch, effect, type ReadonlySignal, signal } from '@preact/signals';
import type { RunId } from '../../shared-types/brand.ts';
import { type ResultsAnswer, RUNS_A_PAGE, type RunSummary } from '../../shared-types/wire/results.ts';
import type { Link } from '../common/live.ts';
import type { DeskServer, Outcome } from './desk-server.ts';
import { createNewest } from './newest.ts';
import type { Later } from './preview-model.ts';
import { type Problem, problemOf } from './problem.ts';

/**
 * How long after a time was taken the server is asked anew, ms. Further times meanwhile wait for the same answer: of six
 * lanes one comes every few seconds, and a pause among them may never come.
 */
const AFTER_A_TIME_MS = 3000;

/** The practices that have been swum, and what the times of one of them say. */
export interface ResultsModel {
  /** The newest first; null until the server has told. */
  readonly runs: ReadonlySignal<readonly RunSummary[] | null>;
  /** Whether there are older ones. */
  readonly more: ReadonlySignal<boolean>;
  readonly chosen: ReadonlySignal<RunId | null>;
  /** Of the run that was chosen, or of the one before until they have come. */
  readonly shown: ReadonlySignal<ResultsAnswer | null>;
  readonly problem: ReadonlySignal<Problem | null>;
  choose(run: RunId): void;
  showOlder(): Promise<void>;
  /** What the chosen run's times say by now: after something was done to them. */
  askAgain(): Promise<void>;
  /** Keeps up with what is swum. @returns what ends that */
  follow(): () => void;
}

export function createResults(
  server: Pick<DeskServer, 'runs' | 'results'>,
  link: Pick<Link, 'practice' | 'times' | 'state'>,
  later: Later,
): ResultsModel {
  const runs = signal<readonly RunSummary[] | null>(null);
  const more = signal(false);
  const chosen = signal<RunId | null>(null);
  const shown = signal<ResultsAnswer | null>(null);
  const problem = signal<Problem | null>(null);
  const newest = createNewest();
  let callOff: (() => void) | null = null;

  function take<T>(answer: Outcome<T>, taken: (value: T) => void): void {
    batch(() => {
      problem.value = answer.ok ? null : problemOf(answer);
      if (answer.ok) taken(answer.value);
    });
  }

  const askResults = (run: RunId): Promise<void> =>
    newest.take(server.results(run), (answer) =>
      take(answer, (results) => {
        shown.value = results;
      }),
    );

  /** The list anew, as long as it was, and the results where they may have changed. */
  async function reload(): Promise<void> {
    const limit = Math.min(RUNS_A_PAGE.most, Math.max(RUNS_A_PAGE.usual, runs.peek()?.length ?? 0));
    const answer = await server.runs(limit);
    take(answer, (page) => {
      runs.value = page.runs;
      more.value = page.more;
      chosen.value ??= page.runs[0]?.id ?? null;
    });
    const run = chosen.peek();
    if (answer.ok && run !== null && mayHaveChanged(run)) await askResults(run);
  }

  function mayHaveChanged(run: RunId): boolean {
    const known = shown.peek()?.run;
    const told = runs.peek()?.find(({ id }) => id === run);
    return known?.id !== run || told === undefined || told.live || known.markSeq !== told.markSeq || known.live;
  }

  function reloadSoon(): void {
    callOff ??= later(() => {
      callOff = null;
      void reload();
    }, AFTER_A_TIME_MS);
  }

  function follow(): () => void {
    let before: string | null = null;
    const stop = effect(() => {
      const run = link.practice.value?.run;
      const { book, heard } = link.times;
      const late = `${heard.value?.run} ${heard.value?.seq}`;
      const now = `${run?.id} ${run?.seq} ${book.value.seq} ${late} ${link.state.value === 'live'}`;
      if (before === null) void reload();
      else if (now !== before) reloadSoon();
      before = now;
    });
    return () => {
      stop();
      callOff?.();
      callOff = null;
    };
  }

  return {
    runs,
    more,
    chosen,
    shown,
    problem,
    follow,
    choose: (run) => {
      chosen.value = run;
      void askResults(run);
    },
    askAgain: async () => {
      const run = chosen.peek();
      if (run !== null) await askResults(run);
    },
    showOlder: async () => {
      const known = runs.peek() ?? [];
      take(await server.runs(RUNS_A_PAGE.usual, known[known.length - 1]?.id), (page) => {
        runs.value = [...known, ...page.runs];
        more.value = page.more;
      });
    },
  };
}
