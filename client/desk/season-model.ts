import { type ReadonlySignal, type Signal, signal } from '@preact/signals';
import { SET_KINDS_A_PAGE, type SetHistoryAnswer, type SetKind } from '../../shared-types/wire/history.ts';
import type { DeskServer, Outcome } from './desk-server.ts';
import { createNewest, type Newest } from './newest.ts';
import { type Problem, problemOf } from './problem.ts';

/** The sets that have been swum, and what one of them came to each time. */
export interface SeasonModel {
  /** The last swum first; null until the server has told. */
  readonly kinds: ReadonlySignal<readonly SetKind[] | null>;
  /** Whether there are others. */
  readonly more: ReadonlySignal<boolean>;
  /** Whether those that were only rehearsed count, too. */
  readonly rehearsed: ReadonlySignal<boolean>;
  /** What is typed to find some of them. */
  readonly typed: Signal<string>;
  /** The loose signature of the one that is looked at. */
  readonly chosen: ReadonlySignal<string | null>;
  /** What it came to; of the one before until the server has told. */
  readonly shown: ReadonlySignal<SetHistoryAnswer | null>;
  /** The one that the server knows nothing of: it was not swum yet, or only rehearsed. */
  readonly unknown: ReadonlySignal<string | null>;
  readonly problem: ReadonlySignal<Problem | null>;
  /** Asks anew for what is shown. */
  reload(): Promise<void>;
  showOlder(): Promise<void>;
  choose(signature: string | null): Promise<void>;
  countRehearsed(rehearsed: boolean): Promise<void>;
}

export function createSeason(server: Pick<DeskServer, 'setKinds' | 'setHistory'>): SeasonModel {
  const kinds = signal<readonly SetKind[] | null>(null);
  const more = signal(false);
  const rehearsed = signal(false);
  const chosen = signal<string | null>(null);
  const shown = signal<SetHistoryAnswer | null>(null);
  const unknown = signal<string | null>(null);
  const problem = signal<Problem | null>(null);
  let limit: number = SET_KINDS_A_PAGE.usual;
  const newest = { kinds: createNewest(), history: createNewest() };

  const take = <T>(of: Newest, asking: Promise<Outcome<T>>, taken: (value: T) => void): Promise<void> =>
    of.take(asking, (answer) => {
      problem.value = answer.ok ? null : problemOf(answer);
      if (answer.ok) taken(answer.value);
    });

  const askKinds = (): Promise<void> =>
    take(newest.kinds, server.setKinds(limit, rehearsed.peek()), (answer) => {
      kinds.value = answer.kinds;
      more.value = answer.more;
    });

  async function askHistory(): Promise<void> {
    const signature = chosen.peek();
    if (signature === null) return;
    await take(newest.history, known(server.setHistory(signature, rehearsed.peek())), (answer) => {
      shown.value = answer ?? shown.peek();
      unknown.value = answer ? null : signature;
    });
  }

  async function reload(): Promise<void> {
    await Promise.all([askKinds(), askHistory()]);
  }

  return {
    kinds,
    more,
    rehearsed,
    typed: signal(''),
    chosen,
    shown,
    unknown,
    problem,
    reload,
    showOlder: () => {
      limit = SET_KINDS_A_PAGE.most;
      return askKinds();
    },
    choose: async (signature) => {
      if (signature === chosen.peek()) return;
      chosen.value = signature;
      await askHistory();
    },
    countRehearsed: (counted) => {
      rehearsed.value = counted;
      return reload();
    },
  };
}

/** That a set was not swum yet is no failure: its own practice leads here. */
async function known<T>(asking: Promise<Outcome<T>>): Promise<Outcome<T | null>> {
  const answer = await asking;
  return !answer.ok && answer.code === 'no-such-set' ? { ok: true, value: null } : answer;
}
