import { batch, computed, type ReadonlySignal, signal } from '@preact/signals';
import type { PracticeId } from '../../shared-types/brand.ts';
import type { StoredPractice } from '../../shared-types/wire/desk.ts';
import type { DeskServer } from './desk-server.ts';
import type { Drafts } from './drafts.ts';
import { type Problem, problemOf } from './problem.ts';

/** The practice that is open in the editor. */
interface OpenPractice {
  readonly id: PracticeId;
  /** The stored version the text was made from; 0 when it was never stored. */
  readonly baseVersion: number;
  /** That version's text. */
  readonly storedText: string;
}

/** Somebody stored another version in between. */
interface Conflict {
  readonly mine: string;
  readonly theirs: StoredPractice;
}

export interface Manuscript {
  readonly open: ReadonlySignal<OpenPractice | null>;
  readonly text: ReadonlySignal<string>;
  readonly changed: ReadonlySignal<boolean>;
  readonly saving: ReadonlySignal<boolean>;
  readonly problem: ReadonlySignal<Problem | null>;
  readonly conflict: ReadonlySignal<Conflict | null>;
  write(text: string): void;
  openBlank(id: PracticeId): void;
  openStored(stored: StoredPractice): void;
  /** @returns the stored version of this very text, or null when it could not be stored (the model says why) */
  save(): Promise<StoredPractice | null>;
  settle(choice: 'mine' | 'theirs' | 'later'): Promise<void>;
  /** Back to the stored version. */
  revert(): void;
  close(): void;
}

/** The code of the server's refusal when the text was made from an older version. */
const SAVED_IN_BETWEEN = 'saved-in-between';

/** The editor counts every kind of line end as one `\n`. */
const plainLines = (text: string): string => text.replace(/\r\n?/g, '\n');

export function createManuscript(
  server: Pick<DeskServer, 'practice' | 'savePractice'>,
  drafts: Drafts,
  onSaved: () => void,
): Manuscript {
  const open = signal<OpenPractice | null>(null);
  const text = signal('');
  const saving = signal(false);
  const problem = signal<Problem | null>(null);
  const conflict = signal<Conflict | null>(null);
  const changed = computed(() => open.value !== null && text.value !== open.value.storedText);

  function show(next: OpenPractice, shownText: string): void {
    batch(() => {
      open.value = next;
      text.value = shownText;
      problem.value = null;
      conflict.value = null;
    });
    drafts.rememberOpen(next.id);
  }

  function keepDraft(): void {
    const here = open.value;
    if (!here) return;
    if (changed.value) drafts.keep({ id: here.id, text: text.value, baseVersion: here.baseVersion });
    else drafts.drop(here.id);
  }

  /** Typing goes on while the server stores: only what was sent counts as stored. */
  function noteStored(stored: StoredPractice): void {
    if (open.value?.id !== stored.id) return;
    open.value = { id: stored.id, baseVersion: stored.version, storedText: plainLines(stored.text) };
    keepDraft();
  }

  async function showConflict(id: PracticeId, mine: string): Promise<void> {
    const theirs = await server.practice(id);
    if (theirs.ok) conflict.value = { mine, theirs: theirs.value };
    else problem.value = problemOf(theirs);
  }

  async function store(here: OpenPractice, sent: string): Promise<StoredPractice | null> {
    saving.value = true;
    const answer = await server.savePractice(here.id, { text: sent, baseVersion: here.baseVersion });
    saving.value = false;
    problem.value = null;
    if (answer.ok) {
      noteStored(answer.value);
      onSaved();
      return answer.value;
    }
    if (answer.code === SAVED_IN_BETWEEN) await showConflict(here.id, sent);
    else problem.value = problemOf(answer);
    return null;
  }

  async function save(): Promise<StoredPractice | null> {
    const here = open.value;
    if (!here || saving.value) return null;
    if (text.value.trim() === '') {
      problem.value = { message: 'There is nothing to save yet.', fix: 'Write or paste a practice first.' };
      return null;
    }
    if (changed.value || here.baseVersion === 0) return store(here, text.value);
    const answer = await server.practice(here.id);
    if (answer.ok) return answer.value;
    problem.value = problemOf(answer);
    return null;
  }

  return {
    open,
    text,
    changed,
    saving,
    problem,
    conflict,
    save,
    write: (next) => {
      text.value = plainLines(next);
      keepDraft();
    },
    openBlank: (id) => show({ id, baseVersion: 0, storedText: '' }, draftText(drafts, id) ?? ''),
    openStored: (stored) => {
      const storedText = plainLines(stored.text);
      const draft = drafts.all.peek().find(({ id }) => id === stored.id);
      // A draft keeps the version it was made from: saving it over a newer one is a conflict to be shown.
      const baseVersion = draft?.baseVersion ?? stored.version;
      show({ id: stored.id, baseVersion, storedText }, draft?.text ?? storedText);
    },
    settle: async (choice) => {
      const here = open.value;
      const clash = conflict.value;
      conflict.value = null;
      if (!here || !clash || choice === 'later') return;
      const base = { id: here.id, baseVersion: clash.theirs.version, storedText: plainLines(clash.theirs.text) };
      show(base, choice === 'mine' ? text.value : base.storedText);
      keepDraft();
      if (choice === 'mine') await store(base, text.value);
    },
    revert: () => {
      if (open.value) text.value = open.value.storedText;
      keepDraft();
    },
    close: () => {
      batch(() => {
        open.value = null;
        text.value = '';
        problem.value = null;
      });
    },
  };
}

const draftText = (drafts: Drafts, id: PracticeId): string | undefined =>
  drafts.all.peek().find((draft) => draft.id === id)?.text;
