import { type ReadonlySignal, signal } from '@preact/signals';
import type { PracticeId } from '../../shared-types/brand.ts';
import { isolated } from '../../shared-types/isolated.ts';
import { newPracticeId } from '../common/ids.ts';
import { counted } from './counted.ts';
import type { DeskServer } from './desk-server.ts';

/** A file that is not read before it is its turn. */
export interface ChosenFile {
  readonly name: string;
  text(): Promise<string>;
}

interface Progress {
  readonly done: number;
  readonly of: number;
}

/** Several files that become practices, one after the other. */
export interface FilesModel {
  /** Null while none are being saved. */
  readonly going: ReadonlySignal<Progress | null>;
  /** What has come of the last ones, in words; empty before. */
  readonly said: ReadonlySignal<string>;
  /** Those that were not saved, each with the reason. */
  readonly failed: ReadonlySignal<readonly string[]>;
  take(files: readonly ChosenFile[]): Promise<void>;
  /** What is saved by then stays. */
  stop(): void;
}

function outcomeWords(saved: number, { done, of }: Progress): string {
  const left = of - done;
  const stopped = left === 0 ? '' : ` Stopped: ${left === 1 ? '1 file is' : `${left} files are`} not read.`;
  return `${counted(saved, 'practice')} saved from ${of} files.${stopped}`;
}

/** @param onSaved the library has others now */
export function createFiles(server: Pick<DeskServer, 'savePractice'>, onSaved: () => Promise<unknown>): FilesModel {
  const going = signal<Progress | null>(null);
  const said = signal('');
  const failed = signal<readonly string[]>([]);
  let isStopped = false;

  /** @returns why it was not saved; null when it was */
  async function save(file: ChosenFile, id: PracticeId): Promise<string | null> {
    const text = await file.text().catch(() => null);
    if (text === null) return `${isolated(file.name)}: cannot be read.`;
    if (text.trim() === '') return `${isolated(file.name)}: there is nothing in it.`;
    const answer = await server.savePractice(id, { text, baseVersion: 0 });
    return answer.ok ? null : `${isolated(file.name)}: ${answer.message}`;
  }

  return {
    going,
    said,
    failed,
    take: async (files) => {
      if (going.peek()) return;
      isStopped = false;
      said.value = '';
      failed.value = [];
      let done = 0;
      for (const file of files) {
        if (isStopped) break;
        going.value = { done, of: files.length };
        const reason = await save(file, newPracticeId());
        if (reason !== null) failed.value = [...failed.peek(), reason];
        done += 1;
      }
      going.value = null;
      said.value = outcomeWords(done - failed.peek().length, { done, of: files.length });
      await onSaved();
    },
    stop: () => {
      isStopped = true;
    },
  };
}
