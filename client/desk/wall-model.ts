import { type ReadonlySignal, signal } from '@preact/signals';
import { isolated } from '../../shared-types/isolated.ts';
import type { LivePractice } from '../common/live.ts';
import type { DeskServer, Outcome } from './desk-server.ts';
import type { Manuscript } from './manuscript.ts';
import { type Problem, problemOf } from './problem.ts';
import type { Questions } from './questions.ts';

/** What the desk does to the wall: puts a practice on, takes it off. */
export interface WallModel {
  readonly problem: ReadonlySignal<Problem | null>;
  readonly busy: ReadonlySignal<boolean>;
  /** Stores the open practice when it has changed, asks before a running one is ended, and puts it on. */
  putOn(): Promise<void>;
  takeOff(): Promise<void>;
}

/** The code of the server's refusal while another practice is being swum. */
const WALL_IN_USE = 'still-running';

/** The title to call a practice on the wall by. */
export const wallTitle = (live: LivePractice): string => live.sheet.title ?? 'Untitled practice';

export function createWall(
  server: Pick<DeskServer, 'putOnWall' | 'takeOff'>,
  live: ReadonlySignal<LivePractice | null>,
  manuscript: Manuscript,
  questions: Questions,
): WallModel {
  const problem = signal<Problem | null>(null);
  const busy = signal(false);

  const mayReplace = (reason: string): Promise<boolean> =>
    questions.ask({
      title: 'End the practice on the wall?',
      body: `${reason} Putting another one on ends it for all lanes, and it cannot be taken up again.`,
      yes: 'End it and put this one on',
      no: 'Leave it running',
    });

  const runningNow = (): LivePractice | null => {
    const state = live.value?.run.state;
    return state === 'running' || state === 'held' ? live.value : null;
  };

  /** Only while the server is asked: a button that is disabled while a dialog is open could not take the focus back. */
  async function whileBusy<T>(act: () => Promise<T>): Promise<T> {
    busy.value = true;
    const result = await act();
    busy.value = false;
    return result;
  }

  async function load(replace: boolean): Promise<Outcome<unknown> | null> {
    const stored = await manuscript.save();
    return stored && server.putOnWall({ practice: stored.id, version: stored.version, replace });
  }

  function tell(answer: Outcome<unknown> | null): void {
    problem.value = answer === null || answer.ok ? null : problemOf(answer);
  }

  async function putOn(): Promise<void> {
    const running = runningNow();
    if (running && !(await mayReplace(`“${isolated(wallTitle(running))}” is being swum.`))) return;
    const answer = await whileBusy(() => load(running !== null));
    // Somebody started one meanwhile: the server knows first.
    if (answer && !answer.ok && answer.code === WALL_IN_USE && !running) {
      if (await mayReplace(answer.message)) tell(await whileBusy(() => load(true)));
    } else tell(answer);
  }

  return {
    problem,
    busy,
    putOn,
    takeOff: async () => tell(await whileBusy(server.takeOff)),
  };
}
