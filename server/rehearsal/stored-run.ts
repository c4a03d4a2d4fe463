import { isDeepStrictEqual } from 'node:util';
import { foldEvents, newRun } from '../../shared-types/fold.ts';
import { foldMarks, NO_MARKS } from '../../shared-types/marks.ts';
import { openStore, type Store } from '../store/store.ts';
import type { FollowedRun } from './followed-run.ts';

/** Whether the database in a folder, which no server uses, folds to the run and the times that a deck has followed. */
export function isStoredAsSeen(dataFolder: string, followed: FollowedRun): boolean {
  const opened = openStore(dataFolder);
  if (!opened.ok) return false;
  try {
    return foldsTo(opened.store, followed);
  } finally {
    opened.store.close();
  }
}

function foldsTo(store: Store, { run, book }: FollowedRun): boolean {
  const stored = store.runs.run(run.id);
  const sheet = stored && store.runs.sheet(stored.hash);
  if (!stored || !sheet) return false;
  const folded = foldEvents(newRun(stored.id, stored.hash, sheet, stored.loadedAt), store.runs.eventsOf(run.id));
  return isDeepStrictEqual(folded, run) && isDeepStrictEqual(foldMarks(NO_MARKS, store.marks.eventsOf(run.id)), book);
}
