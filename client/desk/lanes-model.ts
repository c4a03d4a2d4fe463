import { batch, type ReadonlySignal, type Signal, signal } from '@preact/signals';
import type { LaneNumber, SwimmerId } from '../../shared-types/brand.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import type { ChangeLanes, LanesProposal, LanesQuestion } from '../../shared-types/wire/lanes.ts';
import type { DeskServer } from './desk-server.ts';
import { changesBy, changesByOrder, changesByProposal, type Move, moveByKey, takenBack } from './lane-moves.ts';
import { movedWords, orderWords, PROPOSAL_WORDS, type StepWords } from './lane-words.ts';
import { type Problem, problemOf } from './problem.ts';
import type { SquadModel } from './squad-model.ts';

interface Proposed {
  readonly question: LanesQuestion;
  readonly proposal: LanesProposal;
}

/** What was changed, so that it can be taken back. */
interface Step {
  readonly changes: ChangeLanes;
  /** What an undo takes back, in words: `Undo: Ada Vint to lane 3`. */
  readonly words: string;
}

export interface LanesModel {
  /** Null: none is being looked at. */
  readonly proposed: ReadonlySignal<Proposed | null>;
  /** Why nothing was proposed. */
  readonly proposalProblem: ReadonlySignal<Problem | null>;
  /** Why somebody was not moved. */
  readonly problem: ReadonlySignal<Problem | null>;
  /** The last change; null: there is none. */
  readonly lastStep: ReadonlySignal<Step | null>;
  /** Whose handle was used last, to have the focus again where it has gone to. */
  readonly held: Signal<SwimmerId | null>;
  propose(question: LanesQuestion): Promise<void>;
  leave(): void;
  /** Everybody to the lanes that are proposed. */
  take(): Promise<void>;
  move(move: Move): Promise<void>;
  moveByKey(swimmer: SwimmerId, key: string): Promise<void>;
  /** Has the swimmers of a lane leave in this order. */
  order(lane: LaneNumber, swimmers: readonly SwimmerId[]): Promise<void>;
  undo(): Promise<void>;
}

type Server = Pick<DeskServer, 'proposeLanes' | 'changeLanes'>;

/** More steps back than anybody goes. */
const MOST_STEPS = 50;

export function createLanes(
  server: Server,
  squad: Pick<SquadModel, 'squad' | 'pool' | 'adopt' | 'reload'>,
): LanesModel {
  const proposed = signal<Proposed | null>(null);
  const proposalProblem = signal<Problem | null>(null);
  const problem = signal<Problem | null>(null);
  const steps: Step[] = [];
  const lastStep = signal<Step | null>(null);
  let queue: Promise<void> = Promise.resolve();

  const swimmers = (): readonly Swimmer[] => squad.squad.peek()?.swimmers ?? [];

  function remember(next: readonly Step[]): void {
    steps.splice(0, steps.length, ...next.slice(-MOST_STEPS));
    lastStep.value = steps[steps.length - 1] ?? null;
  }

  /** @returns whether it was done; when somebody else was faster nothing of before can be taken back any more */
  async function change(changes: ChangeLanes, words: string): Promise<boolean> {
    const answer = await server.changeLanes(changes);
    problem.value = answer.ok ? null : problemOf(answer);
    if (answer.ok) squad.adopt(answer.value, words);
    else if (answer.code === 'saved-in-between') {
      remember([]);
      await squad.reload();
    }
    return answer.ok;
  }

  /** One after the other: each goes by what the one before has made. */
  function inTurn(work: () => Promise<void>): Promise<void> {
    queue = queue.then(work);
    return queue;
  }

  /** Changes what is to change, if anything. */
  async function step(changes: ChangeLanes, words: StepWords): Promise<void> {
    if (changes.places.length === 0) return;
    if (await change(changes, words.done)) remember([...steps, { changes, words: words.undo }]);
  }

  const moved = async (move: Move | null): Promise<void> => {
    if (move) await step(changesBy(swimmers(), move), movedWords(swimmers(), move));
  };

  return {
    proposed,
    proposalProblem,
    problem,
    lastStep,
    held: signal<SwimmerId | null>(null),
    propose: async (question) => {
      const answer = await server.proposeLanes(question);
      batch(() => {
        proposalProblem.value = answer.ok ? null : problemOf(answer);
        proposed.value = answer.ok ? { question, proposal: answer.value } : null;
      });
    },
    leave: () => {
      proposed.value = null;
    },
    take: () =>
      inTurn(async () => {
        const open = proposed.peek();
        if (!open) return;
        await step(changesByProposal(swimmers(), open.proposal), PROPOSAL_WORDS);
        proposed.value = null;
      }),
    move: (move) => inTurn(() => moved(move)),
    moveByKey: (swimmer, key) =>
      inTurn(() => moved(moveByKey(swimmers(), swimmer, key, squad.pool.peek()?.lanes ?? 0))),
    order: (lane, ordered) => inTurn(() => step(changesByOrder(swimmers(), lane, ordered), orderWords(lane))),
    undo: () =>
      inTurn(async () => {
        const step = steps[steps.length - 1];
        if (step && (await change(takenBack(step.changes), 'That is taken back.'))) remember(steps.slice(0, -1));
      }),
  };
}
