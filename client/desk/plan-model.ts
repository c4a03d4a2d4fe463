import { batch, computed, type ReadonlySignal, signal } from '@preact/signals';
import type { PracticeId } from '../../shared-types/brand.ts';
import type { CopiedWeek, PlannedDay, WeekPlan } from '../../shared-types/wire/plan.ts';
import type { DeskServer } from './desk-server.ts';
import { createNewest } from './newest.ts';
import { daysLater } from './plan-days.ts';
import { type Problem, problemOf } from './problem.ts';

/** Seven days of practices that are to be swum, and what they come to. */
export interface PlanModel {
  /** Null until the server has told. */
  readonly shown: ReadonlySignal<WeekPlan | null>;
  readonly problem: ReadonlySignal<Problem | null>;
  /** What was copied last, for as long as that week is shown. */
  readonly copied: ReadonlySignal<CopiedWeek | null>;
  /** Whether an answer is waited for. */
  readonly busy: ReadonlySignal<boolean>;
  /** Whether today is among the days. */
  readonly isThisWeek: ReadonlySignal<boolean>;
  reload(): Promise<void>;
  /** @param weeks later than the one shown; below 0: earlier */
  turn(weeks: number): Promise<void>;
  /** Back to the week of today. */
  turnToToday(): Promise<void>;
  add(day: string, practice: PracticeId): Promise<void>;
  /** @param place of the practice in the day */
  remove(day: string, place: number): Promise<void>;
  /** To another day, after what is planned there. */
  move(day: string, place: number, to: string): Promise<void>;
  /** Onto the week after, which is then shown. */
  copyOn(): Promise<void>;
}

const idsOf = ({ practices }: PlannedDay): PracticeId[] => practices.map(({ practice }) => practice);

const without = (ids: readonly PracticeId[], place: number): PracticeId[] => ids.filter((_, at) => at !== place);

export function createPlan(server: Pick<DeskServer, 'weekPlan' | 'planDay' | 'copyWeek'>): PlanModel {
  const from = signal<string | null>(null);
  const shown = signal<WeekPlan | null>(null);
  const problem = signal<Problem | null>(null);
  const copied = signal<CopiedWeek | null>(null);
  const newest = createNewest();

  const reload = (): Promise<void> =>
    newest.take(server.weekPlan(from.peek()), (answer) => {
      if (!answer.ok) {
        problem.value = problemOf(answer);
        return;
      }
      shown.value = answer.value;
      from.value = answer.value.days[0]?.day ?? null;
    });

  const dayOf = (day: string): PlannedDay | undefined => shown.peek()?.days.find((one) => one.day === day);

  /** @returns whether the server has taken it */
  async function plan(day: string, practices: readonly PracticeId[]): Promise<boolean> {
    const before = dayOf(day);
    if (!before) return false;
    const answer = await server.planDay(day, { practices: [...practices], instead: idsOf(before) });
    problem.value = answer.ok ? null : problemOf(answer);
    return answer.ok;
  }

  async function change(work: () => Promise<unknown>): Promise<void> {
    copied.value = null;
    await work();
    await reload();
  }

  function turnTo(day: string | null): Promise<void> {
    batch(() => {
      from.value = day;
      problem.value = null;
      copied.value = null;
    });
    return reload();
  }

  return {
    shown,
    problem,
    copied,
    busy: newest.isBehind,
    isThisWeek: computed(() => {
      const week = shown.value;
      return week?.days.some(({ day }) => day === week.today) ?? false;
    }),
    reload,
    turn: (weeks) => {
      const first = from.peek();
      return turnTo(first === null ? null : daysLater(first, weeks * 7));
    },
    turnToToday: () => turnTo(null),
    add: (day, practice) => change(() => plan(day, [...idsOf(dayOf(day) ?? { day, practices: [] }), practice])),
    remove: (day, place) =>
      change(async () => {
        const known = dayOf(day);
        if (known) await plan(day, without(idsOf(known), place));
      }),
    move: (day, place, to) =>
      change(async () => {
        const [known, onto] = [dayOf(day), dayOf(to)];
        const moved = known && idsOf(known)[place];
        if (!known || !onto || moved === undefined || day === to) return;
        // Stands there before it goes here: what goes wrong in between leaves it twice, and nothing lost.
        if (await plan(to, [...idsOf(onto), moved])) await plan(day, without(idsOf(known), place));
      }),
    copyOn: async () => {
      const first = from.peek();
      if (first === null) return;
      const to = daysLater(first, 7);
      const answer = await server.copyWeek({ from: first, to });
      if (!answer.ok) {
        problem.value = problemOf(answer);
        return;
      }
      await turnTo(to);
      copied.value = answer.value;
    },
  };
}
