import { batch, type ReadonlySignal, signal } from '@preact/signals';
import type { SwimmerId } from '../../shared-types/brand.ts';
import { isolated } from '../../shared-types/isolated.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import type { SquadAnswer } from '../../shared-types/wire/desk.ts';
import { SWIMMER_SETS_A_PAGE, type SwimmerAnswer } from '../../shared-types/wire/swimmer.ts';
import type { DeskServer, Outcome } from './desk-server.ts';
import type { StepWords } from './lane-words.ts';
import { createNewest } from './newest.ts';
import { type Problem, problemOf } from './problem.ts';
import type { SquadModel } from './squad-model.ts';

/** What was done to a swimmer, so that it can be taken back; null: not in the squad. */
interface Step {
  readonly before: Swimmer | null;
  readonly after: Swimmer | null;
  /** What an undo takes back: `Undo: 200 free 1:58.40 of Ada Vint`. */
  readonly words: string;
}

export interface SwimmerModel {
  /** Null until the server has told. */
  readonly shown: ReadonlySignal<SwimmerAnswer | null>;
  readonly problem: ReadonlySignal<Problem | null>;
  readonly lastStep: ReadonlySignal<Step | null>;
  readonly busy: ReadonlySignal<boolean>;
  /** @param swimmer null: none is looked at */
  choose(swimmer: SwimmerId | null): Promise<void>;
  reload(): Promise<void>;
  showOlder(): Promise<void>;
  /** Changes the swimmer who is shown. @returns whether it was saved */
  save(next: Swimmer, words: StepWords): Promise<boolean>;
  /** @returns whether the swimmer is in the squad now */
  add(swimmer: Swimmer): Promise<boolean>;
  /** Takes who is shown out of the squad. @returns whether that was done */
  remove(): Promise<boolean>;
  undo(): Promise<void>;
  /** Is stored no longer, so that nothing can be taken back. */
  forget(swimmer: SwimmerId): void;
}

type Server = Pick<DeskServer, 'swimmer' | 'saveSwimmer' | 'removeSwimmer'>;

const swimmerIn = ({ swimmers }: SquadAnswer, { id }: Swimmer): Swimmer | null =>
  swimmers.find((swimmer) => swimmer.id === id) ?? null;

export function createSwimmer(server: Server, squad: Pick<SquadModel, 'adopt'>): SwimmerModel {
  const shown = signal<SwimmerAnswer | null>(null);
  const problem = signal<Problem | null>(null);
  const lastStep = signal<Step | null>(null);
  const busy = signal(false);
  const newest = createNewest();
  let chosen: SwimmerId | null = null;
  let limit: number = SWIMMER_SETS_A_PAGE.usual;

  async function reload(): Promise<void> {
    if (chosen === null) return;
    await newest.take(server.swimmer(chosen, limit), (answer) => {
      problem.value = answer.ok ? null : problemOf(answer);
      shown.value = answer.ok ? answer.value : null;
    });
  }

  /** One change at a time, of what the last answer has shown. */
  async function change(
    asking: () => Promise<Outcome<SquadAnswer>>,
    step: Omit<Step, 'after'>,
    done: string,
    of: Swimmer,
  ) {
    if (busy.peek()) return false;
    busy.value = true;
    const answer = await asking();
    batch(() => {
      busy.value = false;
      problem.value = answer.ok ? null : problemOf(answer);
      if (!answer.ok) return;
      squad.adopt(answer.value, done);
      lastStep.value = { ...step, after: swimmerIn(answer.value, of) };
    });
    if (answer.ok) await reload();
    return answer.ok;
  }

  return {
    shown,
    problem,
    lastStep,
    busy,
    choose: async (swimmer) => {
      if (swimmer !== chosen) {
        newest.drop();
        limit = SWIMMER_SETS_A_PAGE.usual;
        batch(() => {
          shown.value = null;
          problem.value = null;
        });
      }
      chosen = swimmer;
      await reload();
    },
    reload,
    showOlder: () => {
      limit = Math.min(limit + SWIMMER_SETS_A_PAGE.usual, SWIMMER_SETS_A_PAGE.most);
      return reload();
    },
    save: async (next, { done, undo }) => {
      const before = shown.peek()?.swimmer;
      if (!before) return false;
      return change(() => server.saveSwimmer(next, before), { before, words: undo }, done, next);
    },
    add: (swimmer) =>
      change(
        () => server.saveSwimmer(swimmer, null),
        { before: null, words: `Undo: ${isolated(swimmer.name)} into the squad` },
        `${isolated(swimmer.name)} is in the squad now.`,
        swimmer,
      ),
    remove: async () => {
      const before = shown.peek()?.swimmer;
      if (!before) return false;
      chosen = null;
      newest.drop();
      const words = `Undo: ${isolated(before.name)} out of the squad`;
      const done = `${isolated(before.name)} is out of the squad; what they have swum stays.`;
      return change(() => server.removeSwimmer(before.id), { before, words }, done, before);
    },
    forget: (swimmer) => {
      const step = lastStep.peek();
      if ((step?.before ?? step?.after)?.id === swimmer) lastStep.value = null;
      if (chosen !== swimmer) return;
      chosen = null;
      newest.drop();
    },
    undo: async () => {
      const step = lastStep.peek();
      const of = step?.before ?? step?.after;
      if (!step || !of) return;
      const { before, after } = step;
      const back = () => (before ? server.saveSwimmer(before, after) : server.removeSwimmer(of.id));
      const isDone = await change(back, { before: null, words: '' }, 'That is taken back.', of);
      if (isDone) lastStep.value = null;
    },
  };
}
