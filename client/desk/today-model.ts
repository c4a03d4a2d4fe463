import { type ReadonlySignal, signal } from '@preact/signals';
import type { PracticeId } from '../../shared-types/brand.ts';
import type { PlannedPractice } from '../../shared-types/wire/plan.ts';
import type { DeskServer } from './desk-server.ts';
import type { Library } from './library.ts';
import { createNewest } from './newest.ts';
import type { WallModel } from './wall-model.ts';

/** What is planned for today, to be put on the wall. */
export interface TodayModel {
  /** Null until the server has told. */
  readonly planned: ReadonlySignal<readonly PlannedPractice[] | null>;
  reload(): Promise<void>;
  /** Opens the practice and puts it on the wall. */
  putOn(practice: PracticeId): Promise<void>;
}

interface TodayParts {
  readonly server: Pick<DeskServer, 'weekPlan'>;
  readonly library: Pick<Library, 'choose'>;
  readonly manuscript: { readonly open: ReadonlySignal<{ readonly id: PracticeId } | null> };
  readonly wall: Pick<WallModel, 'putOn'>;
}

export function createToday({ server, library, manuscript, wall }: TodayParts): TodayModel {
  const planned = signal<readonly PlannedPractice[] | null>(null);
  const newest = createNewest();
  return {
    planned,
    reload: () =>
      newest.take(server.weekPlan(null), (answer) => {
        if (!answer.ok) return;
        const { today, days } = answer.value;
        planned.value = days.find(({ day }) => day === today)?.practices ?? [];
      }),
    putOn: async (practice) => {
      await library.choose(practice);
      // Where it could not be opened, what is open instead is another one.
      if (manuscript.open.peek()?.id === practice) await wall.putOn();
    },
  };
}
