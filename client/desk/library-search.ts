import { batch, computed, type ReadonlySignal, signal } from '@preact/signals';
import type { FoundAnswer } from '../../shared-types/wire/library.ts';
import type { DeskServer } from './desk-server.ts';
import { createNewest } from './newest.ts';
import type { Later } from './preview-model.ts';
import { type Problem, problemOf } from './problem.ts';

/** What is looked for, as it is typed; empty: anything. */
export interface Wanted {
  readonly text: string;
  readonly style: string;
  /** Of the pool's unit. */
  readonly least: string;
  readonly most: string;
  /** YYYY-MM-DD. */
  readonly from: string;
  readonly to: string;
}

export const ANYTHING: Wanted = { text: '', style: '', least: '', most: '', from: '', to: '' };

/** So long after the last key the server is asked, ms. */
const AFTER_A_KEY_MS = 150;

/** Finds practices by what is in them. */
export interface LibrarySearch {
  readonly wanted: ReadonlySignal<Wanted>;
  /** Whether anything is looked for. */
  readonly isAsked: ReadonlySignal<boolean>;
  /** Of what was looked for before until the server has told; null while nothing is. */
  readonly found: ReadonlySignal<FoundAnswer | null>;
  readonly problem: ReadonlySignal<Problem | null>;
  want(more: Partial<Wanted>): void;
  /** Everything again. */
  clear(): void;
  /** Looks again: something in the library is another now. */
  reload(): void;
}

/** @param metresOf reads a distance of the pool's unit */
export function createLibrarySearch(
  server: Pick<DeskServer, 'findPractices'>,
  later: Later,
  metresOf: (text: string) => number | null,
): LibrarySearch {
  const wanted = signal<Wanted>(ANYTHING);
  const found = signal<FoundAnswer | null>(null);
  const problem = signal<Problem | null>(null);
  const isAsked = computed(() => Object.values(wanted.value).some((text) => text.trim() !== ''));
  const newest = createNewest();
  let callOff = (): void => {};

  function query({ text, style, least, most, from, to }: Wanted): URLSearchParams {
    const fields = { text: text.trim(), style, least: metresOf(least), most: metresOf(most), from, to };
    const said = Object.entries(fields).filter(([, value]) => value !== '' && value !== null);
    return new URLSearchParams(said.map(([name, value]) => [name, String(value)]));
  }

  const ask = (): Promise<void> =>
    newest.take(server.findPractices(query(wanted.peek())), (answer) => {
      problem.value = answer.ok ? null : problemOf(answer);
      if (answer.ok) found.value = answer.value;
    });

  function want(next: Wanted): void {
    callOff();
    batch(() => {
      wanted.value = next;
      if (isAsked.value) return;
      newest.drop();
      found.value = null;
      problem.value = null;
    });
    if (isAsked.peek()) callOff = later(() => void ask(), AFTER_A_KEY_MS);
  }

  return {
    wanted,
    isAsked,
    found,
    problem,
    want: (more) => want({ ...wanted.peek(), ...more }),
    clear: () => want(ANYTHING),
    reload: () => {
      if (isAsked.peek()) void ask();
    },
  };
}
