import { type ReadonlySignal, signal } from '@preact/signals';
import { diffLines } from 'diff';
import type { PracticeId } from '../../shared-types/brand.ts';
import type { PracticeSummary, StoredPractice } from '../../shared-types/wire/desk.ts';
import type { DeskServer } from './desk-server.ts';
import type { Manuscript } from './manuscript.ts';
import { type Problem, problemOf } from './problem.ts';

/** A line of two texts side by side. */
export interface ComparedLine {
  readonly text: string;
  /** old: only in the older text; new: only in the newer one. */
  readonly in: 'both' | 'old' | 'new';
}

/** The lines of two texts, those that only one has where they would stand. */
export function comparedLines(older: string, newer: string): ComparedLine[] {
  return diffLines(withEnd(older), withEnd(newer)).flatMap(({ value, added, removed }) => {
    const where = added ? 'new' : removed ? 'old' : 'both';
    return value
      .replace(/\n$/, '')
      .split('\n')
      .map((text): ComparedLine => ({ text, in: where }));
  });
}

/** So that a last line without an end is not another line than the same with one. */
const withEnd = (text: string): string => `${text.replace(/\r\n?/g, '\n').replace(/\n+$/, '')}\n`;

/** The saved versions of the practice that is open. */
export interface VersionsModel {
  /** The newest first; null: they are not looked at. */
  readonly versions: ReadonlySignal<readonly PracticeSummary[] | null>;
  /** The one that is compared with the text in the editor. */
  readonly shown: ReadonlySignal<StoredPractice | null>;
  readonly problem: ReadonlySignal<Problem | null>;
  open(id: PracticeId): Promise<void>;
  show(version: number): Promise<void>;
  /** Puts the shown version into the editor, where it can be undone, and is saved as a new version. */
  takeShown(): void;
  close(): void;
}

export function createVersions(
  server: Pick<DeskServer, 'versions' | 'practiceVersion'>,
  manuscript: Pick<Manuscript, 'write'>,
): VersionsModel {
  const versions = signal<readonly PracticeSummary[] | null>(null);
  const shown = signal<StoredPractice | null>(null);
  const problem = signal<Problem | null>(null);

  function close(): void {
    versions.value = null;
    shown.value = null;
    problem.value = null;
  }

  async function show(version: number): Promise<void> {
    const [known] = versions.peek() ?? [];
    if (!known) return;
    const answer = await server.practiceVersion(known.id, version);
    problem.value = answer.ok ? null : problemOf(answer);
    if (answer.ok && versions.peek()?.[0]?.id === known.id) shown.value = answer.value;
  }

  return {
    versions,
    shown,
    problem,
    show,
    close,
    open: async (id) => {
      close();
      const answer = await server.versions(id);
      problem.value = answer.ok ? null : problemOf(answer);
      versions.value = answer.ok ? answer.value.versions : [];
      // The one before the newest is what a coach looks for.
      const before = versions.value[1] ?? versions.value[0];
      if (before) await show(before.version);
    },
    takeShown: () => {
      const text = shown.peek()?.text;
      if (text !== undefined) manuscript.write(text);
      close();
    },
  };
}
