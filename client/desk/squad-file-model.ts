import { batch, type ReadonlySignal, signal } from '@preact/signals';
import type { SquadBefore, SquadPreview } from '../../shared-types/wire/squad.ts';
import type { DeskServer, Outcome } from './desk-server.ts';
import { type Problem, problemOf } from './problem.ts';
import type { SquadModel } from './squad-model.ts';
import { loadedWords, undoneWords } from './squad-preview-words.ts';

/** A file that is looked at before it is loaded. */
export interface SquadLook {
  readonly csv: string;
  readonly fileName: string;
  readonly preview: SquadPreview;
}

export interface SquadFileModel {
  /** Null: none is being looked at. */
  readonly look: ReadonlySignal<SquadLook | null>;
  /** What an undo would put back. */
  readonly before: ReadonlySignal<SquadBefore['before']>;
  readonly problem: ReadonlySignal<Problem | null>;
  readonly busy: ReadonlySignal<boolean>;
  reload(): Promise<void>;
  /** Asks what loading this would change; nothing is changed. */
  lookAt(csv: string, fileName: string): Promise<void>;
  leave(): void;
  /** Loads what is looked at, without its bad rows. @returns whether the squad was taken */
  load(): Promise<boolean>;
  undo(): Promise<void>;
}

type Server = Pick<DeskServer, 'previewSquad' | 'loadSquad' | 'squadBefore' | 'undoSquad'>;

export function createSquadFile(server: Server, squad: Pick<SquadModel, 'adopt' | 'reload'>): SquadFileModel {
  const look = signal<SquadLook | null>(null);
  const before = signal<SquadBefore['before']>(null);
  const problem = signal<Problem | null>(null);
  const busy = signal(false);

  /** One question at a time. @returns null when there was one already, or it failed */
  async function asked<T>(question: () => Promise<Outcome<T>>): Promise<T | null> {
    if (busy.peek()) return null;
    busy.value = true;
    const answer = await question();
    batch(() => {
      busy.value = false;
      problem.value = answer.ok ? null : problemOf(answer);
    });
    return answer.ok ? answer.value : null;
  }

  async function reload(): Promise<void> {
    const answer = await server.squadBefore();
    if (answer.ok) before.value = answer.value.before;
  }

  return {
    look,
    before,
    problem,
    busy,
    reload,
    lookAt: async (csv, fileName) => {
      const preview = await asked(() => server.previewSquad(csv, fileName));
      if (preview) look.value = { csv, fileName, preview };
    },
    leave: () => {
      look.value = null;
      problem.value = null;
    },
    load: async () => {
      const open = look.peek();
      if (!open) return false;
      const stored = await asked(() => server.loadSquad(open.csv, open.fileName));
      if (!stored) return false;
      look.value = null;
      squad.adopt(stored, loadedWords(stored, open));
      await reload();
      return true;
    },
    undo: async () => {
      const undone = before.peek();
      if (!undone) return;
      const stored = await asked(() => server.undoSquad(undone.loadedAt));
      if (stored) squad.adopt(stored, undoneWords(stored));
      else await squad.reload();
      await reload();
    },
  };
}
