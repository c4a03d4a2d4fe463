import type { DatabaseSync } from 'node:sqlite';
import { numberOf, pragmaOf } from './file-format.ts';

/** Tables that grow with every practice that is swum. */
const HISTORY: readonly unknown[] = [
  ...['commands', 'events', 'kept_runs', 'kept_sets', 'loads', 'mark_events', 'sheets', 'take_overs'],
];

const CHECKED = 'ok';

/**
 * [FLT6] Whether SQLite finds a database damaged. All of it is looked at, which takes a second for some hundred
 * megabytes; but while a practice is under way lanes wait for the server, so then only what does not grow with the
 * years. The run itself is read as it is taken up, and the rest is looked at with the next backup, or the next start.
 */
export function isDamaged(sqlite: DatabaseSync): boolean {
  if (!isPracticeUnderWay(sqlite)) return pragmaOf(sqlite, 'quick_check(1)') !== CHECKED;
  const tables = sqlite.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'").all();
  return tables.some(({ name }) => {
    if (HISTORY.includes(name)) return false;
    return pragmaOf(sqlite, `quick_check("${String(name).replaceAll('"', '""')}")`) !== CHECKED;
  });
}

function isPracticeUnderWay(sqlite: DatabaseSync): boolean {
  try {
    const last = sqlite.prepare(`
      SELECT json_extract(event_json, '$.state') IN ('running', 'held') AS under_way FROM events
      WHERE run_id = (SELECT run_id FROM runs WHERE live = 1) ORDER BY seq DESC LIMIT 1
    `);
    return numberOf(last.get()?.under_way) === 1;
  } catch {
    // Not readable, or from before there were runs: then all of it is looked at.
    return false;
  }
}
