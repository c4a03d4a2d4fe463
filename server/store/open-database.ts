import { mkdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { Database } from './database.ts';
import { MIGRATIONS } from './migrations.ts';

/** Marks a file as ours ("Farw"), so that no other program's database is ever written to. */
const APPLICATION_ID = 0x46_61_72_77;

/** SQLite's primary result codes, https://sqlite.org/rescode.html */
const SQLITE = { busy: 5, locked: 6, readOnly: 8, corrupt: 11, full: 13, cannotOpen: 14, notADatabase: 26 } as const;

export interface StoreProblem {
  readonly ok: false;
  /** One sentence, with the file and the cure. */
  readonly message: string;
}

const problem = (message: string): StoreProblem => ({ ok: false, message });

const ANOTHER_FOLDER = 'name another folder with --data';

const damaged = (file: string): StoreProblem =>
  problem(
    `The database "${file}" is damaged and was left as it is: put a good copy in its place, or ${ANOTHER_FOLDER}.`,
  );

/** The result code of an error of node:sqlite (extended codes keep the primary one in the low byte), or null. */
function resultCodeOf(error: unknown): number | null {
  if (!(error instanceof Error) || !('errcode' in error) || typeof error.errcode !== 'number') return null;
  return error.errcode & 0xff;
}

function openingProblem(file: string, error: unknown): StoreProblem {
  switch (resultCodeOf(error)) {
    case SQLITE.busy:
    case SQLITE.locked:
      return problem(`The database "${file}" is in use, perhaps by another Farwall: stop that, or ${ANOTHER_FOLDER}.`);
    case SQLITE.corrupt:
    case SQLITE.notADatabase:
      return damaged(file);
    case SQLITE.readOnly:
    case SQLITE.cannotOpen:
      return problem(`The database "${file}" cannot be written: change who may write it, or ${ANOTHER_FOLDER}.`);
    case SQLITE.full:
      return problem(`There is no room on the disk for the database "${file}": make room, or ${ANOTHER_FOLDER}.`);
    default:
      throw error;
  }
}

const numberOf = (value: unknown): number => (typeof value === 'number' ? value : Number.NaN);

/** [FLT6] Looks at a file without writing to it. @returns what is wrong with it, or null */
function inspect(file: string): StoreProblem | null {
  const sqlite = new DatabaseSync(file, { readOnly: true, timeout: 2000 });
  const pragma = (name: string): unknown => Object.values(sqlite.prepare(`PRAGMA ${name}`).get() ?? {})[0];
  try {
    const format = numberOf(pragma('user_version'));
    const tables = sqlite.prepare('SELECT count(*) AS tables FROM sqlite_schema').get()?.tables;
    if (tables !== 0 && numberOf(pragma('application_id')) !== APPLICATION_ID) {
      return problem(`The database "${file}" was not made by Farwall and was left as it is: ${ANOTHER_FOLDER}.`);
    }
    if (format > MIGRATIONS.length) {
      return problem(
        `The database "${file}" was made by a newer Farwall (format ${format}, this one knows ${MIGRATIONS.length}) ` +
          `and was left as it is: start the newer Farwall, or ${ANOTHER_FOLDER}.`,
      );
    }
    if (pragma('quick_check(1)') !== 'ok') return damaged(file);
    return null;
  } finally {
    sqlite.close();
  }
}

/** Brings the database to the newest format, each step whole or not at all. */
function migrate(database: Database): void {
  const format = numberOf(database.pragma('user_version'));
  MIGRATIONS.slice(format).forEach((migration, place) => {
    database.inTransaction(() => {
      database.exec(migration);
      database.exec(`PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = ${format + place + 1}`);
    });
  });
}

function makeFolder(folder: string): StoreProblem | null {
  try {
    mkdirSync(folder, { recursive: true });
    return null;
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : '';
    const why = code === 'EEXIST' || code === 'ENOTDIR' ? 'a file is in its way' : 'it cannot be made or written';
    return problem(`The data folder "${folder}" cannot be used, ${why}: ${ANOTHER_FOLDER}.`);
  }
}

const isThere = (file: string): boolean => (statSync(file, { throwIfNoEntry: false })?.size ?? 0) > 0;

/**
 * Opens the database in `folder` (made when absent), in the newest format.
 * [FLT6] A damaged, foreign or newer one is left untouched.
 */
export function openDatabase(folder: string): { ok: true; database: Database } | StoreProblem {
  const noFolder = makeFolder(folder);
  if (noFolder) return noFolder;
  const file = join(folder, 'farwall.db');
  let database: Database | undefined;
  try {
    const wrong = isThere(file) ? inspect(file) : null;
    if (wrong) return wrong;
    database = new Database(file);
    migrate(database);
    return { ok: true, database };
  } catch (error) {
    database?.close();
    return openingProblem(file, error);
  }
}
