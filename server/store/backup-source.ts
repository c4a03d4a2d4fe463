import { backup, type DatabaseSync } from 'node:sqlite';
import { type Contents, contentsOf, numberOf } from './file-format.ts';

/**
 * How much is copied in one go, in pages of 4 KiB. A command that is stored meanwhile waits for the go in hand, so
 * it is kept to a millisecond or two.
 */
const PAGES_AT_ONCE = 100;

/** An open database that copies of can be made. */
export interface BackupSource {
  /** Grows with everything written through this connection. */
  changes(): number;
  contents(): Contents;
  /**
   * Copies the database into `file` with SQLite's online backup, off this thread; it may be written to meanwhile.
   * @param each is called between two goes; what it throws ends the copying
   */
  copyTo(file: string, each: () => void): Promise<void>;
}

export function backupSourceOn(sqlite: DatabaseSync): BackupSource {
  return {
    changes: () => numberOf(sqlite.prepare('SELECT total_changes() AS changes').get()?.changes),
    contents: () => contentsOf(sqlite),
    copyTo: async (file, each) => {
      await backup(sqlite, file, { rate: PAGES_AT_ONCE, progress: each });
    },
  };
}
