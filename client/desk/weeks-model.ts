import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { SwimmerId } from '../../shared-types/brand.ts';
import { WEEKS_A_PAGE, type WeeksAnswer } from '../../shared-types/wire/history.ts';
import type { DeskServer } from './desk-server.ts';
import { createNewest } from './newest.ts';
import { type Problem, problemOf } from './problem.ts';

/** What the weeks had in them, seven days each. */
export interface WeeksModel {
  /** The seventh day of the last one, YYYY-MM-DD; null until the server has told which day it is. */
  readonly day: ReadonlySignal<string | null>;
  /** Null: the squad. */
  readonly swimmer: ReadonlySignal<SwimmerId | null>;
  /** Whether what was only rehearsed counts, too. */
  readonly rehearsed: ReadonlySignal<boolean>;
  readonly shown: ReadonlySignal<WeeksAnswer | null>;
  /** Whether what is shown is of what was chosen before. */
  readonly isBehind: ReadonlySignal<boolean>;
  /** Whether more weeks can be asked for. */
  readonly more: ReadonlySignal<boolean>;
  readonly problem: ReadonlySignal<Problem | null>;
  /** Asks anew; up to today unless a day was chosen. */
  reload(): Promise<void>;
  /** @param day YYYY-MM-DD; null: today */
  endOn(day: string | null): Promise<void>;
  of(swimmer: SwimmerId | null): Promise<void>;
  countRehearsed(rehearsed: boolean): Promise<void>;
  showMore(): Promise<void>;
}

export function createWeeks(server: Pick<DeskServer, 'weeks'>): WeeksModel {
  const chosenDay = signal<string | null>(null);
  const swimmer = signal<SwimmerId | null>(null);
  const rehearsed = signal(false);
  const weeks = signal<number>(WEEKS_A_PAGE.usual);
  const shown = signal<WeeksAnswer | null>(null);
  const problem = signal<Problem | null>(null);
  const newest = createNewest();

  function reload(): Promise<void> {
    const asking = server.weeks({
      day: chosenDay.peek(),
      weeks: weeks.peek(),
      swimmer: swimmer.peek(),
      rehearsed: rehearsed.peek(),
    });
    return newest.take(asking, (answer) => {
      problem.value = answer.ok ? null : problemOf(answer);
      if (answer.ok) shown.value = answer.value;
    });
  }

  return {
    day: computed(() => chosenDay.value ?? shown.value?.weeks[0]?.day ?? null),
    swimmer,
    rehearsed,
    shown,
    problem,
    isBehind: newest.isBehind,
    more: computed(() => weeks.value < WEEKS_A_PAGE.most),
    reload,
    endOn: (chosen) => {
      chosenDay.value = chosen;
      return reload();
    },
    of: (chosen) => {
      swimmer.value = chosen;
      return reload();
    },
    countRehearsed: (counted) => {
      rehearsed.value = counted;
      return reload();
    },
    showMore: () => {
      weeks.value = WEEKS_A_PAGE.most;
      return reload();
    },
  };
}
