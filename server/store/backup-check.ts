import { DatabaseSync } from 'node:sqlite';
import { type Contents, contentsOf, openToRead, pragmaOf } from './file-format.ts';

export type Checked = { readonly ok: true; readonly contents: Contents } | { readonly ok: false; readonly why: string };

/** Makes a fresh copy one whole file that needs no write-ahead log beside it. */
export function settleCopy(file: string): void {
  const sqlite = new DatabaseSync(file);
  try {
    sqlite.exec('PRAGMA journal_mode = DELETE');
  } finally {
    sqlite.close();
  }
}

/** Reads a whole database file, every page and every index, without writing to it. */
export function checkCopy(file: string): Checked {
  let sqlite: DatabaseSync | undefined;
  try {
    sqlite = openToRead(file);
    const found = pragmaOf(sqlite, 'integrity_check(1)');
    return found === 'ok' ? { ok: true, contents: contentsOf(sqlite) } : { ok: false, why: String(found) };
  } catch (error) {
    return { ok: false, why: error instanceof Error ? error.message : String(error) };
  } finally {
    sqlite?.close();
  }
}
