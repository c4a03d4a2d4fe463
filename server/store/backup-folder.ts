import { existsSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { DatabaseSync } from 'node:sqlite';
import { checkCopy } from './backup-check.ts';
import { APPLICATION_ID, numberOf, openToRead } from './file-format.ts';

export interface BackupFile {
  readonly file: string;
  /** When it was made, ms since 1970. */
  readonly at: number;
}

/** How many backups are kept. */
export const BACKUPS_KEPT = 7;

const NAME = /^farwall-(\d{4})(\d{2})(\d{2})-(\d{2})(\d{2})(\d{2})\.db$/;
/** A copy that was not finished, and what SQLite may have put beside it. */
const UNFINISHED = /^farwall-\d{8}-\d{6}\.db\.part(-journal|-wal|-shm)?$/;

export const backupFolderOf = (dataFolder: string): string => join(dataFolder, 'backups');

/** `farwall-20270115-080000.db` for that second of UTC. */
const backupName = (at: number): string =>
  `farwall-${new Date(at).toISOString().slice(0, 19).replaceAll(/[-:]/g, '').replace('T', '-')}.db`;

/** The instant in a backup's name, or null for a file that is not ours. */
function timeIn(name: string): number | null {
  const [year, month, day, hour, minute, second] = (NAME.exec(name) ?? []).slice(1).map(Number);
  if (year === undefined || month === undefined) return null;
  return Date.UTC(year, month - 1, day, hour, minute, second);
}

/** The name for a backup made at this instant, or the next second's that no other has. */
export function freeName(folder: string, at: number): { file: string; at: number } {
  let second = Math.floor(at / 1000) * 1000;
  while (existsSync(join(folder, backupName(second)))) second += 1000;
  return { file: join(folder, backupName(second)), at: second };
}

/** The backups in a folder, newest first; none when there is no such folder. */
export function backupsIn(folder: string): BackupFile[] {
  if (!existsSync(folder)) return [];
  const found = readdirSync(folder).flatMap((name) => {
    const at = timeIn(name);
    return at === null ? [] : [{ file: join(folder, name), at }];
  });
  return found.toSorted((one, other) => other.at - one.at);
}

/** How many swimmers a backup knows to be deleted for good: of one that cannot be read, or from before, none. */
function deletionsIn(file: string): number {
  let sqlite: DatabaseSync | undefined;
  try {
    sqlite = openToRead(file);
    return numberOf(sqlite.prepare('SELECT count(*) AS deletions FROM deletions').get()?.deletions);
  } catch {
    return 0;
  } finally {
    sqlite?.close();
  }
}

/**
 * Removes all but the newest `keep` backups, those that may hold somebody who has been deleted by now, and copies that were never finished. Files of other names stay.
 * @param made has just been made and stays, even when the machine's clock was set back and others look newer
 */
export function prune(folder: string, made: string, keep: number): void {
  const others = backupsIn(folder).filter(({ file }) => file !== made);
  const known = Number.isFinite(keep) ? deletionsIn(made) : 0;
  others.forEach(({ file }, place) => {
    if (place >= keep - 1 || (known > 0 && deletionsIn(file) < known)) rmSync(file, { force: true });
  });
  for (const name of readdirSync(folder)) if (UNFINISHED.test(name)) rmSync(join(folder, name), { force: true });
}

/** [FLT6] The newest backup that is whole and in a format up to `newestFormat`, or null. */
export function lastGoodBackup(folder: string, newestFormat: number): BackupFile | null {
  const isGood = ({ file }: BackupFile): boolean => {
    const checked = checkCopy(file);
    if (!checked.ok) return false;
    const { applicationId, format } = checked.contents;
    return applicationId === APPLICATION_ID && format >= 1 && format <= newestFormat;
  };
  return backupsIn(folder).find(isGood) ?? null;
}
