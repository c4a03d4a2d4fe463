import { type ReadonlySignal, signal } from '@preact/signals';
import type { RunId } from '../../shared-types/brand.ts';
import type { DeskServer, OfferedResult } from './desk-server.ts';
import { type Problem, problemOf } from './problem.ts';

interface OfferProblem extends Problem {
  readonly run: RunId;
  readonly set: number;
}

/** References that are made of results, and unmade. */
export interface ReferencesModel {
  readonly problem: ReadonlySignal<OfferProblem | null>;
  /** One is on its way: meanwhile nothing else is done. */
  readonly busy: ReadonlySignal<boolean>;
  takeOver(result: OfferedResult): Promise<void>;
  undo(result: OfferedResult): Promise<void>;
}

/** @param onChanged asks for everything anew in which references stand */
export function createReferences(
  server: Pick<DeskServer, 'takeOver' | 'undoTakeOver'>,
  onChanged: () => Promise<void>,
): ReferencesModel {
  const problem = signal<OfferProblem | null>(null);
  const busy = signal(false);

  async function act(result: OfferedResult, act: 'takeOver' | 'undoTakeOver'): Promise<void> {
    const { run, set } = result;
    if (busy.peek()) return;
    busy.value = true;
    const answer = await server[act](result);
    // Also after a refusal: then the page shows what is no longer so.
    await onChanged();
    problem.value = answer.ok ? null : { ...problemOf(answer), run, set };
    busy.value = false;
  }

  return {
    problem,
    busy,
    takeOver: (result) => act(result, 'takeOver'),
    undo: (result) => act(result, 'undoTakeOver'),
  };
}
