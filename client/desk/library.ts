import { computed, type ReadonlySignal, signal } from '@preact/signals';
import type { PracticeId } from '../../shared-types/brand.ts';
import type { PracticeSummary } from '../../shared-types/wire/desk.ts';
import { newPracticeId } from '../common/ids.ts';
import type { DeskServer } from './desk-server.ts';
import type { Draft, Drafts } from './drafts.ts';
import type { Manuscript } from './manuscript.ts';
import { type Problem, problemOf } from './problem.ts';
import { titleOf } from './title.ts';

export interface LibraryEntry {
  readonly id: PracticeId;
  readonly title: string;
  readonly demo: boolean;
  /** Epoch ms; null when it was never stored. */
  readonly savedAt: number | null;
  /** There is text that only this browser has. */
  readonly unsaved: boolean;
}

export interface Library {
  readonly entries: ReadonlySignal<readonly LibraryEntry[]>;
  /** False until the server has said once what it has. */
  readonly known: ReadonlySignal<boolean>;
  readonly problem: ReadonlySignal<Problem | null>;
  reload(): Promise<void>;
  choose(id: PracticeId): Promise<void>;
  /** @param text what it starts with */
  startNew(text: string): void;
  /** Opens what was open last, or the newest, or a blank sheet. */
  resume(): Promise<void>;
  /** A new one with the same text, under another title. */
  copy(text: string): void;
  /** Deletes a stored practice; until something else is deleted that can be undone. */
  remove(id: PracticeId): Promise<void>;
  /** What was deleted last. */
  readonly removed: ReadonlySignal<Pick<LibraryEntry, 'id' | 'title'> | null>;
  undoRemove(): Promise<void>;
  /** Leaves the open practice where it is stored no longer and nothing of it would be lost. */
  leaveGone(): Promise<void>;
  /** Forgets a practice that was never stored. */
  discard(id: PracticeId): Promise<void>;
}

/** Practices that only this browser has: kept drafts, and the one being begun. */
function unstoredEntries(
  stored: readonly PracticeSummary[],
  drafts: readonly Draft[],
  open: Manuscript,
): LibraryEntry[] {
  const texts = new Map(drafts.map(({ id, text }) => [id, text]));
  const here = open.open.value;
  if (here) texts.set(here.id, open.text.value);
  return [...texts]
    .filter(([id]) => stored.every((practice) => practice.id !== id))
    .map(([id, text]) => ({ id, title: titleOf(text), demo: false, savedAt: null, unsaved: true }));
}

/** The first line is the title where it is one. */
const copied = (text: string): string =>
  /^#\s*\S/.test(text) ? text.replace(/^#\s*/, '# Copy of ') : `# Copy of ${titleOf(text)}\n\n${text}`;

const storedEntries = (stored: readonly PracticeSummary[], drafts: readonly Draft[]): LibraryEntry[] =>
  [...stored]
    .sort((a, b) => b.savedAt - a.savedAt)
    .map(({ id, title, demo, savedAt }) => ({
      id,
      title: title || 'Untitled practice',
      demo,
      savedAt,
      unsaved: drafts.some((draft) => draft.id === id),
    }));

export function createLibrary(
  server: Pick<DeskServer, 'practices' | 'practice' | 'deletePractice' | 'restorePractice'>,
  drafts: Drafts,
  manuscript: Manuscript,
): Library {
  const stored = signal<readonly PracticeSummary[]>([]);
  const known = signal(false);
  const problem = signal<Problem | null>(null);
  const removed = signal<Pick<LibraryEntry, 'id' | 'title'> | null>(null);
  let chosen: PracticeId | null = null;

  const isStored = (id: PracticeId): boolean => stored.peek().some((practice) => practice.id === id);

  async function reload(): Promise<void> {
    const answer = await server.practices();
    problem.value = answer.ok ? null : problemOf(answer);
    if (!answer.ok) return;
    stored.value = answer.value;
    known.value = true;
  }

  async function choose(id: PracticeId): Promise<void> {
    chosen = id;
    const isThere = isStored(id);
    // What was written to one that was deleted meanwhile still goes with the version it was made from.
    if (!isThere && !drafts.all.peek().some((draft) => draft.id === id && draft.baseVersion > 0)) {
      manuscript.openBlank(id);
      return;
    }
    const answer = await server.practice(id);
    // Another one was chosen while this one was on its way.
    if (chosen !== id) return;
    if (!answer.ok && !isThere) {
      manuscript.openBlank(id);
      return;
    }
    problem.value = answer.ok ? null : problemOf(answer);
    if (answer.ok) manuscript.openStored(answer.value);
  }

  function startNew(text: string): void {
    chosen = newPracticeId();
    manuscript.openBlank(chosen);
    if (text) manuscript.write(text);
  }

  const entries = computed(() => [
    ...unstoredEntries(stored.value, drafts.all.value, manuscript),
    ...storedEntries(stored.value, drafts.all.value),
  ]);

  async function resume(): Promise<void> {
    const last = drafts.lastOpen();
    const entry = entries.value.find(({ id }) => id === last) ?? entries.value[0];
    if (entry) await choose(entry.id);
    else startNew('');
  }

  async function remove(id: PracticeId): Promise<void> {
    const title = entries.value.find((entry) => entry.id === id)?.title ?? 'The practice';
    const answer = await server.deletePractice(id);
    problem.value = answer.ok ? null : problemOf(answer);
    if (!answer.ok) return;
    removed.value = { id, title };
    await reload();
    if (manuscript.open.peek()?.id !== id) return;
    manuscript.close();
    await resume();
  }

  async function leaveGone(): Promise<void> {
    const here = manuscript.open.peek();
    if (!here || here.baseVersion === 0 || manuscript.changed.peek() || isStored(here.id)) return;
    manuscript.close();
    await resume();
  }

  async function undoRemove(): Promise<void> {
    const last = removed.peek();
    if (!last) return;
    const answer = await server.restorePractice(last.id);
    problem.value = answer.ok ? null : problemOf(answer);
    if (!answer.ok) return;
    removed.value = null;
    await reload();
    await choose(last.id);
  }

  return {
    removed,
    remove,
    undoRemove,
    copy: (text) => startNew(copied(text)),
    entries,
    known,
    problem,
    reload,
    choose,
    startNew,
    resume,
    leaveGone,
    discard: async (id) => {
      drafts.drop(id);
      manuscript.close();
      await resume();
    },
  };
}
