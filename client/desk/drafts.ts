import { type ReadonlySignal, signal } from '@preact/signals';
import { z } from 'zod';
import { type PracticeId, practiceIdSchema } from '../../shared-types/brand.ts';

/**
 * Text that the server has not got yet, kept in this browser so that closing the laptop loses nothing.
 * One entry a practice, under its id.
 */
const draftSchema = z.object({
  id: practiceIdSchema,
  text: z.string(),
  /** The stored version this text was made from; 0 when it was never stored. */
  baseVersion: z.number().int().min(0),
});
export type Draft = z.infer<typeof draftSchema>;

export interface Drafts {
  readonly all: ReadonlySignal<readonly Draft[]>;
  keep(draft: Draft): void;
  drop(id: PracticeId): void;
  /** The practice that was open when the page was last left. */
  lastOpen(): PracticeId | null;
  rememberOpen(id: PracticeId): void;
}

const DRAFT_PREFIX = 'farwall.draft.';
const OPEN_KEY = 'farwall.desk.open';

function parseDraft(json: string | null): Draft[] {
  try {
    const read = draftSchema.safeParse(JSON.parse(json ?? 'null'));
    return read.success ? [read.data] : [];
  } catch {
    return [];
  }
}

/** A browser may forbid storage or have no room left: then there are no drafts, and the page says what is unsaved. */
export function ifAllowed<T>(act: () => T, otherwise: T): T {
  try {
    return act();
  } catch {
    return otherwise;
  }
}

function storedDrafts(storage: Storage): Draft[] {
  const keys = Array.from({ length: storage.length }, (_, place) => storage.key(place) ?? '');
  return keys.filter((key) => key.startsWith(DRAFT_PREFIX)).flatMap((key) => parseDraft(storage.getItem(key)));
}

/** The browser's lasting storage, or null where it is forbidden. */
export const keptStorage = (): Storage | null => ifAllowed(() => window.localStorage, null);

/** @param storage null: drafts last as long as the page */
export function draftsIn(storage: Storage | null): Drafts {
  const all = signal<readonly Draft[]>(storage ? ifAllowed(() => storedDrafts(storage), []) : []);
  const without = (id: PracticeId): Draft[] => all.peek().filter((draft) => draft.id !== id);
  return {
    all,
    keep: (draft) => {
      all.value = [...without(draft.id), draft];
      ifAllowed(() => storage?.setItem(DRAFT_PREFIX + draft.id, JSON.stringify(draft)), undefined);
    },
    drop: (id) => {
      all.value = without(id);
      ifAllowed(() => storage?.removeItem(DRAFT_PREFIX + id), undefined);
    },
    lastOpen: () => {
      const read = practiceIdSchema.safeParse(ifAllowed(() => storage?.getItem(OPEN_KEY), null));
      return read.success ? read.data : null;
    },
    rememberOpen: (id) => ifAllowed(() => storage?.setItem(OPEN_KEY, id), undefined),
  };
}
