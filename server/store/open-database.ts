import { mkdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { checkCopy } from './backup-check.ts';
import { backupFolderOf, freeName } from './backup-folder.ts';
import { Database } from './database.ts';
import { APPLICATION_ID, numberOf, openToRead, pragmaOf, sizeOf } from './file-format.ts';
import { MIGRATIONS } from './migrations.ts';
import { isDamaged } from './start-check.ts';
import {
  ANOTHER_FOLDER,
  damagedDatabase,
  damagedLog,
  foreignDatabase,
  isMachineTrouble,
  migrationProblem,
  newerDatabase,
  openingProblem,
  problem,
  type StoreProblem,
} from './store-problem.ts';
import { isLogDamaged } from './write-ahead-log.ts';

export const databaseFileOf = (folder: string): string => join(folder, 'farwall.db');

/** [FLT6] Looks at a file without writing to it. @returns what is wrong with it, or null */
function inspect(file: string, folder: string, newest: number): StoreProblem | null {
  const sqlite = openToRead(file);
  try {
    const format = numberOf(pragmaOf(sqlite, 'user_version'));
    const tables = sqlite.prepare('SELECT count(*) AS tables FROM sqlite_schema').get()?.tables;
    // Not before it is known that no other process writes it just now.
    if (isLogDamaged(`${file}-wal`)) return damagedLog(file, folder);
    if (tables !== 0 && numberOf(pragmaOf(sqlite, 'application_id')) !== APPLICATION_ID) {
      return foreignDatabase(file, folder);
    }
    if (format > newest) return newerDatabase(file, folder, format, newest);
    if (isDamaged(sqlite)) return damagedDatabase(file, folder);
    return null;
  } finally {
    sqlite.close();
  }
}

/**
 * [FLT6] Keeps the database as it is before it is changed for good, among the backups, named after the instant it was
 * last written.
 */
function keepOldFormat(database: Database, folder: string): void {
  const backups = backupFolderOf(folder);
  mkdirSync(backups, { recursive: true });
  const { file } = freeName(backups, statSync(database.file).mtimeMs);
  const unfinished = `${file}.part`;
  rmSync(unfinished, { force: true });
  database.exec(`VACUUM INTO '${unfinished.replaceAll("'", "''")}'`);
  const checked = checkCopy(unfinished);
  if (!checked.ok) throw new Error(`the copy "${unfinished}" is not whole: ${checked.why}`);
  renameSync(unfinished, file);
}

/** Brings the database to the newest format, all the way or not at all. */
function migrate(database: Database, folder: string, migrations: readonly string[]): StoreProblem | null {
  const format = numberOf(database.pragma('user_version'));
  if (format === migrations.length) return null;
  try {
    if (format > 0) keepOldFormat(database, folder);
    database.inTransaction(() => {
      for (const migration of migrations.slice(format)) database.exec(migration);
      database.exec(`PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = ${migrations.length}`);
    });
    return null;
  } catch (error) {
    if (isMachineTrouble(error)) throw error;
    return migrationProblem(database.file, folder, error);
  }
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

/**
 * Opens the database in `folder` (made when absent), in the newest format.
 * [FLT6] A damaged, foreign or newer one is left untouched, and the last good backup is named.
 */
export function openDatabase(
  folder: string,
  migrations: readonly string[] = MIGRATIONS,
): { ok: true; database: Database } | StoreProblem {
  const noFolder = makeFolder(folder);
  if (noFolder) return noFolder;
  const file = databaseFileOf(folder);
  let database: Database | undefined;
  try {
    const wrong = sizeOf(file) > 0 ? inspect(file, folder, migrations.length) : null;
    if (wrong) return wrong;
    database = new Database(file);
    const notMigrated = migrate(database, folder, migrations);
    if (!notMigrated) return { ok: true, database };
    database.close();
    return notMigrated;
  } catch (error) {
    database?.close();
    return openingProblem(file, folder, error);
  }
}
