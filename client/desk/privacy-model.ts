import { batch, type ReadonlySignal, signal } from '@preact/signals';
import type { SwimmerId } from '../../shared-types/brand.ts';
import type { ClockFace } from '../../shared-types/time.ts';
import type { Former, KeepMonths, Privacy } from '../../shared-types/wire/privacy.ts';
import type { DeskServer, Outcome } from './desk-server.ts';
import { deletedWords, deleteQuestion, goneWords, keepQuestion, mentionWords, olderQuestion } from './privacy-words.ts';
import { type Problem, problemOf } from './problem.ts';
import type { Questions } from './questions.ts';

/** What is kept of swimmers, and who sees it. */
export interface PrivacyModel {
  /** Null until the server has told. */
  readonly privacy: ReadonlySignal<Privacy | null>;
  /** Who is out of the squad and still stored; null until asked for. */
  readonly former: ReadonlySignal<Former['swimmers'] | null>;
  readonly problem: ReadonlySignal<Problem | null>;
  /** What was done last, in words. */
  readonly done: ReadonlySignal<string>;
  /** Who was deleted last, in words, and where the name still stands in texts; null: nobody was. */
  readonly gone: ReadonlySignal<{ readonly words: string; readonly mentions: string } | null>;
  reload(): Promise<void>;
  /** Asks first where something stored is older than is to be kept. */
  save(next: Privacy): Promise<void>;
  /** Tells what would go, and asks. */
  deleteOlder(): Promise<void>;
  lookForFormer(): Promise<void>;
  /** Tells what would go, and asks. @returns whether the swimmer is deleted */
  deleteForGood(swimmer: SwimmerId): Promise<boolean>;
}

type Server = Pick<
  DeskServer,
  'privacy' | 'savePrivacy' | 'older' | 'deleteOlder' | 'former' | 'storedOf' | 'deleteForGood'
>;

interface Parts {
  readonly server: Server;
  readonly questions: Pick<Questions, 'ask'>;
  readonly face: () => ClockFace;
  /** Whether this desk is an owner's: others are not told. */
  readonly isOwners: () => boolean;
  /** Somebody is no longer stored. */
  readonly deleted: (swimmer: SwimmerId) => void;
}

const NOTHING_OLDER = 'Nothing is older.';

export function createPrivacy({ server, questions, face, isOwners, deleted }: Parts): PrivacyModel {
  const privacy = signal<Privacy | null>(null);
  const former = signal<Former['swimmers'] | null>(null);
  const problem = signal<Problem | null>(null);
  const done = signal('');
  const gone = signal<{ words: string; mentions: string } | null>(null);
  let isBusy = false;

  /** @returns null when it failed */
  async function asked<T>(question: Promise<Outcome<T>>): Promise<T | null> {
    const answer = await question;
    problem.value = answer.ok ? null : problemOf(answer);
    return answer.ok ? answer.value : null;
  }

  /** One press at a time, from the question to what came of it. */
  async function press<T>(work: () => Promise<T>, otherwise: T): Promise<T> {
    if (isBusy) return otherwise;
    isBusy = true;
    done.value = '';
    gone.value = null;
    problem.value = null;
    try {
      return await work();
    } finally {
      isBusy = false;
    }
  }

  async function reload(): Promise<void> {
    if (!isOwners()) return;
    const answer = await server.privacy();
    if (answer.ok) privacy.value = answer.value;
    if (former.peek()) await lookForFormer();
  }

  async function lookForFormer(): Promise<void> {
    const answer = await asked(server.former());
    if (answer) former.value = answer.swimmers;
  }

  async function deleteNow(months: KeepMonths): Promise<void> {
    const older = await asked(server.deleteOlder(months));
    if (older) done.value = older.practices === 0 ? NOTHING_OLDER : goneWords(older, face());
  }

  /** @returns whether so little may be kept; null when it could not be asked */
  async function mayKeepOnly(months: KeepMonths): Promise<boolean | null> {
    const older = await asked(server.older(months));
    if (!older) return null;
    return older.practices === 0 || questions.ask(keepQuestion(months, older, face()));
  }

  async function save(next: Privacy): Promise<void> {
    const { keepMonths } = next;
    const isLess = keepMonths !== null && keepMonths !== privacy.peek()?.keepMonths;
    if (isLess && !(await mayKeepOnly(keepMonths))) return;
    const stored = await asked(server.savePrivacy(next));
    if (!stored) return;
    privacy.value = stored;
    if (isLess) await deleteNow(keepMonths);
    done.value = `Saved. ${done.value}`.trim();
  }

  async function deleteOlder(): Promise<void> {
    const months = privacy.peek()?.keepMonths ?? null;
    const older = months === null ? null : await asked(server.older(months));
    if (months === null || !older) return;
    if (older.practices === 0) done.value = NOTHING_OLDER;
    else if (await questions.ask(olderQuestion(older, face()))) await deleteNow(months);
  }

  async function deleteForGood(swimmer: SwimmerId): Promise<boolean> {
    const stored = await asked(server.storedOf(swimmer));
    if (!stored || !(await questions.ask(deleteQuestion(stored)))) return false;
    const deletion = await asked(server.deleteForGood(swimmer));
    if (!deletion) return false;
    batch(() => {
      gone.value = { words: deletedWords(deletion), mentions: mentionWords(deletion.mentions) };
      former.value = former.value?.filter(({ id }) => id !== swimmer) ?? null;
    });
    deleted(swimmer);
    return true;
  }

  return {
    privacy,
    former,
    problem,
    done,
    gone,
    reload,
    save: (next) => press(() => save(next), undefined),
    deleteOlder: () => press(deleteOlder, undefined),
    lookForFormer,
    deleteForGood: (swimmer) => press(() => deleteForGood(swimmer), false),
  };
}
