import { batch, type ReadonlySignal, signal } from '@preact/signals';
import type { RemovedDemo } from '../../shared-types/wire/desk.ts';
import { SQUAD_STAYS } from './demo-words.ts';
import type { DeskServer, Outcome } from './desk-server.ts';
import { createNewest } from './newest.ts';
import { type Problem, problemOf } from './problem.ts';

/** The invented squad and practices to look around with. */
export interface DemoModel {
  /** What was removed today and can be brought back; null: nothing. */
  readonly removed: ReadonlySignal<RemovedDemo | null>;
  /** What is to be known about the last thing done, in words. */
  readonly note: ReadonlySignal<string>;
  readonly problem: ReadonlySignal<Problem | null>;
  reload(): Promise<void>;
  add(): Promise<void>;
  /** What somebody has changed stays; the rest can be brought back. */
  remove(): Promise<void>;
  bringBack(): Promise<void>;
}

/** What is to be done when the demo has come or gone. */
interface Followed {
  come(): Promise<void>;
  gone(): Promise<void>;
}

type Server = Pick<DeskServer, 'demo' | 'addDemo' | 'removeDemo' | 'bringDemoBack'>;

export function createDemo(server: Server, { come, gone }: Followed): DemoModel {
  const removed = signal<RemovedDemo | null>(null);
  const note = signal('');
  const problem = signal<Problem | null>(null);
  const newest = createNewest();
  let isBusy = false;

  /** One press at a time. @returns null when there was one already, or it failed */
  async function pressed<T>(question: () => Promise<Outcome<T>>): Promise<T | null> {
    if (isBusy) return null;
    isBusy = true;
    const answer = await question();
    isBusy = false;
    batch(() => {
      note.value = '';
      problem.value = answer.ok ? null : problemOf(answer);
    });
    return answer.ok ? answer.value : null;
  }

  const reload = (): Promise<void> =>
    newest.take(server.demo(), (answer) => {
      if (answer.ok) removed.value = answer.value.removed;
    });

  return {
    removed,
    note,
    problem,
    reload,
    add: async () => {
      if (await pressed(server.addDemo)) await come();
    },
    remove: async () => {
      const state = await pressed(server.removeDemo);
      if (!state) return;
      removed.value = state.removed;
      await gone();
    },
    bringBack: async () => {
      const expected = removed.peek();
      const restored = await pressed(server.bringDemoBack);
      if (!restored) return reload();
      if (restored.swimmers === 0 && expected?.swimmers) note.value = SQUAD_STAYS;
      await come();
    },
  };
}
