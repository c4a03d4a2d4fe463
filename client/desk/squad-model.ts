import { batch, type ReadonlySignal, signal } from '@preact/signals';
import type { Pool } from '../../shared-types/pool.ts';
import type { SquadAnswer } from '../../shared-types/wire/desk.ts';
import type { DeskServer } from './desk-server.ts';
import { createNewest } from './newest.ts';
import { type Problem, problemOf } from './problem.ts';

export interface SquadModel {
  /** Null until the server has said it. */
  readonly squad: ReadonlySignal<SquadAnswer | null>;
  readonly pool: ReadonlySignal<Pool | null>;
  readonly problem: ReadonlySignal<Problem | null>;
  readonly poolProblem: ReadonlySignal<Problem | null>;
  /** Good news about the last thing done, in words. */
  readonly done: ReadonlySignal<string>;
  reload(): Promise<void>;
  /** Goes on with another squad, as the server has stored it. @param words what was done */
  adopt(stored: SquadAnswer, words: string): void;
  savePool(pool: Pool): Promise<void>;
}

export function createSquad(
  server: Pick<DeskServer, 'squad' | 'pool' | 'savePool'>,
  onChanged: () => void,
): SquadModel {
  const squad = signal<SquadAnswer | null>(null);
  const pool = signal<Pool | null>(null);
  const problem = signal<Problem | null>(null);
  const poolProblem = signal<Problem | null>(null);
  const done = signal('');
  const asking = createNewest();

  return {
    squad,
    pool,
    problem,
    poolProblem,
    done,
    reload: () =>
      asking.take(Promise.all([server.squad(), server.pool()]), ([squadAnswer, poolAnswer]) => {
        problem.value = squadAnswer.ok ? null : problemOf(squadAnswer);
        poolProblem.value = poolAnswer.ok ? null : problemOf(poolAnswer);
        if (squadAnswer.ok) squad.value = squadAnswer.value;
        if (poolAnswer.ok) pool.value = poolAnswer.value;
      }),
    adopt: (stored, words) => {
      // What was asked for before may say how it was before.
      asking.drop();
      batch(() => {
        problem.value = null;
        squad.value = stored;
        done.value = words;
      });
      onChanged();
    },
    savePool: async (next) => {
      const answer = await server.savePool(next);
      batch(() => {
        poolProblem.value = answer.ok ? null : problemOf(answer);
        done.value = answer.ok ? 'Pool settings saved.' : '';
        if (answer.ok) pool.value = answer.value;
      });
      if (answer.ok) onChanged();
    },
  };
}
