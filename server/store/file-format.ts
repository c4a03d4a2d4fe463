import { existsSync, statSync } from 'node:fs';
import { DatabaseSync } from 'node:sqlite';
import { pathToFileURL } from 'node:url';

/** Marks a file as ours ("Farw"), so that no other program's database is ever written to. */
export const APPLICATION_ID = 0x46_61_72_77;

/** How many rows each table has. */
export type RowCounts = Readonly<Record<string, number>>;

/** What a database of ours holds, as far as it can be told by counting. */
export interface Contents {
  readonly applicationId: number;
  /** The place of its last migration. */
  readonly format: number;
  readonly rows: RowCounts;
}

/** A number SQLite gave, or NaN. */
export const numberOf = (value: unknown): number => (typeof value === 'number' ? value : Number.NaN);

/** The value of a pragma, e.g. `user_version`. */
export const pragmaOf = (sqlite: DatabaseSync, name: string): unknown =>
  Object.values(sqlite.prepare(`PRAGMA ${name}`).get() ?? {})[0];

/** @throws Error of node:sqlite when the file is no database, or damaged where it is read */
export function contentsOf(sqlite: DatabaseSync): Contents {
  const tables = sqlite.prepare("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name").all();
  const counted = tables.map(({ name }) => {
    const table = String(name).replaceAll('"', '""');
    return [String(name), numberOf(sqlite.prepare(`SELECT count(*) AS rows FROM "${table}"`).get()?.rows)];
  });
  return {
    applicationId: numberOf(pragmaOf(sqlite, 'application_id')),
    format: numberOf(pragmaOf(sqlite, 'user_version')),
    rows: Object.fromEntries(counted),
  };
}

/** How long a lock of another process is waited for, e.g. of a server that is just stopping. */
export const BUSY_MS = 2000;

/**
 * Opens a database to look at it, without writing to it. Where no write-ahead log lies beside it nobody has it open,
 * and it is opened as one that cannot change, so that SQLite leaves no files of its own beside it.
 */
export function openToRead(file: string): DatabaseSync {
  const address = pathToFileURL(file);
  if (!existsSync(`${file}-wal`)) address.searchParams.set('immutable', '1');
  return new DatabaseSync(address, { readOnly: true, timeout: BUSY_MS });
}

/** In bytes; 0 when there is no such file. */
export const sizeOf = (file: string): number => statSync(file, { throwIfNoEntry: false })?.size ?? 0;
