import { batch, type ReadonlySignal, signal } from '@preact/signals';
import type { LaneNumber, SwimmerId } from '../../shared-types/brand.ts';
import type { Pool } from '../../shared-types/pool.ts';
import type { SquadAnswer } from '../../shared-types/wire/desk.ts';
import { badRowsOf, type DeskServer, type SquadProblem } from './desk-server.ts';
import { type Problem, problemOf } from './problem.ts';

export interface SquadModel {
  /** Null until the server has said it. */
  readonly squad: ReadonlySignal<SquadAnswer | null>;
  readonly pool: ReadonlySignal<Pool | null>;
  readonly problem: ReadonlySignal<Problem | null>;
  /** Bad rows of the last file; with any, nothing was changed. */
  readonly badRows: ReadonlySignal<readonly SquadProblem[]>;
  readonly poolProblem: ReadonlySignal<Problem | null>;
  /** Good news about the last thing done, in words. */
  readonly done: ReadonlySignal<string>;
  readonly busy: ReadonlySignal<boolean>;
  reload(): Promise<void>;
  /** @returns whether the squad was taken */
  load(csv: string, fileName: string): Promise<boolean>;
  /** Has a lane leave in this order. */
  orderLane(lane: LaneNumber, swimmers: readonly SwimmerId[]): Promise<void>;
  savePool(pool: Pool): Promise<void>;
}

const loadedText = ({ swimmers }: SquadAnswer, fileName: string): string => {
  const placed = swimmers.filter(({ lane }) => lane !== undefined).length;
  return `${swimmers.length} swimmers from ${fileName}, ${placed} of them with a lane.`;
};

export function createSquad(
  server: Pick<DeskServer, 'squad' | 'loadSquad' | 'orderLane' | 'pool' | 'savePool'>,
  onChanged: () => void,
): SquadModel {
  const squad = signal<SquadAnswer | null>(null);
  const pool = signal<Pool | null>(null);
  const problem = signal<Problem | null>(null);
  const badRows = signal<readonly SquadProblem[]>([]);
  const poolProblem = signal<Problem | null>(null);
  const done = signal('');
  const busy = signal(false);

  return {
    squad,
    pool,
    problem,
    badRows,
    poolProblem,
    done,
    busy,
    reload: async () => {
      const [squadAnswer, poolAnswer] = await Promise.all([server.squad(), server.pool()]);
      batch(() => {
        problem.value = squadAnswer.ok ? null : problemOf(squadAnswer);
        poolProblem.value = poolAnswer.ok ? null : problemOf(poolAnswer);
        if (squadAnswer.ok) squad.value = squadAnswer.value;
        if (poolAnswer.ok) pool.value = poolAnswer.value;
      });
    },
    load: async (csv, fileName) => {
      busy.value = true;
      const answer = await server.loadSquad(csv, fileName);
      batch(() => {
        busy.value = false;
        problem.value = answer.ok ? null : problemOf(answer);
        badRows.value = answer.ok ? [] : badRowsOf(answer);
        done.value = answer.ok ? loadedText(answer.value, fileName) : '';
        if (answer.ok) squad.value = answer.value;
      });
      if (answer.ok) onChanged();
      return answer.ok;
    },
    orderLane: async (lane, swimmers) => {
      const answer = await server.orderLane(lane, swimmers);
      batch(() => {
        problem.value = answer.ok ? null : problemOf(answer);
        done.value = answer.ok ? `Lane ${lane} leaves in another order now.` : '';
        if (answer.ok) squad.value = answer.value;
      });
      if (answer.ok) onChanged();
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
