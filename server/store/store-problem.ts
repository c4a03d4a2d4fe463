import { backupFolderOf, lastGoodBackup } from './backup-folder.ts';
import { MIGRATIONS } from './migrations.ts';

export interface StoreProblem {
  readonly ok: false;
  /** One sentence, with the file and the cure. */
  readonly message: string;
}

export const problem = (message: string): StoreProblem => ({ ok: false, message });

export const ANOTHER_FOLDER = 'name another folder with --data';

/** SQLite's primary result codes, https://sqlite.org/rescode.html */
const SQLITE = { busy: 5, locked: 6, readOnly: 8, corrupt: 11, full: 13, cannotOpen: 14, notADatabase: 26 } as const;

/** The result code of an error of node:sqlite (extended codes keep the primary one in the low byte), or null. */
function resultCodeOf(error: unknown): number | null {
  if (!(error instanceof Error) || !('errcode' in error) || typeof error.errcode !== 'number') return null;
  return error.errcode & 0xff;
}

/** Whether the machine, not what the database holds, is in the way. */
export function isMachineTrouble(error: unknown): boolean {
  const code = resultCodeOf(error);
  return Object.values(SQLITE).some((known) => known === code);
}

/** Whether another process has the database. */
export function isBusy(error: unknown): boolean {
  const code = resultCodeOf(error);
  return code === SQLITE.busy || code === SQLITE.locked;
}

/** 2027-01-15 08:00 UTC */
const minuteOf = (at: number): string => `${new Date(at).toISOString().slice(0, 16).replace('T', ' ')} UTC`;

/** [FLT6] How to put the last good backup in place, or null when there is none this Farwall can read. */
function wayBack(folder: string): string | null {
  const backup = lastGoodBackup(backupFolderOf(folder), MIGRATIONS.length);
  return backup
    ? `put the last good backup in its place, "${backup.file}" of ${minuteOf(backup.at)} (move "farwall.db" and, if ` +
        `they are there, "farwall.db-wal" and "farwall.db-shm" out of "${folder}", copy the backup there as ` +
        '"farwall.db" and start again)'
    : null;
}

/** [FLT6] What can be done about a database that cannot be used. */
export const cureFor = (folder: string): string =>
  `${wayBack(folder) ?? 'put a good copy in its place'}, or ${ANOTHER_FOLDER}`;

const damaged = (what: string, folder: string): StoreProblem =>
  problem(`The ${what} is damaged and was left as it is: ${cureFor(folder)}.`);

export const damagedDatabase = (file: string, folder: string): StoreProblem => damaged(`database "${file}"`, folder);

export const damagedLog = (file: string, folder: string): StoreProblem =>
  damaged(`database's log "${file}-wal"`, folder);

export function foreignDatabase(file: string, folder: string): StoreProblem {
  const back = wayBack(folder);
  const cure = back ? `${back}, or ${ANOTHER_FOLDER}` : ANOTHER_FOLDER;
  return problem(`The database "${file}" was not made by Farwall and was left as it is: ${cure}.`);
}

export function newerDatabase(file: string, folder: string, format: number, newest: number): StoreProblem {
  const back = wayBack(folder);
  return problem(
    `The database "${file}" was made by a newer Farwall (format ${format}, this one knows ${newest}) ` +
      `and was left as it is: start the newer Farwall, ${back ? `${back}, ` : ''}or ${ANOTHER_FOLDER}.`,
  );
}

export function migrationProblem(file: string, folder: string, error: unknown): StoreProblem {
  const why = error instanceof Error ? error.message : String(error);
  return problem(
    `The database "${file}" could not be brought to the format of this Farwall (${why}) and was left in the one ` +
      `it had: start the Farwall it was made by, ${cureFor(folder)}.`,
  );
}

/** What stands in the way of opening `file`. @throws the error when it is not one of SQLite's known troubles */
export function openingProblem(file: string, folder: string, error: unknown): StoreProblem {
  switch (resultCodeOf(error)) {
    case SQLITE.busy:
    case SQLITE.locked:
      return problem(`The database "${file}" is in use, perhaps by another Farwall: stop that, or ${ANOTHER_FOLDER}.`);
    case SQLITE.corrupt:
    case SQLITE.notADatabase:
      return damagedDatabase(file, folder);
    case SQLITE.readOnly:
    case SQLITE.cannotOpen:
      return problem(`The database "${file}" cannot be written: change who may write it, or ${ANOTHER_FOLDER}.`);
    case SQLITE.full:
      return problem(`There is no room on the disk for the database "${file}": make room, or ${ANOTHER_FOLDER}.`);
    default:
      throw error;
  }
}
