import { type Message, withNames } from '../shared-types/message.ts';
import type { Pool } from '../shared-types/pool.ts';
import type { Sheet } from '../shared-types/sheet.ts';
import type { Squad } from '../shared-types/squad.ts';
import { CommandError, readSquadFile, readTextFile } from './command-line.ts';
import { planPractice } from './planning/plan.ts';
import { onOneLine } from './planning/text-columns.ts';

/** What the commands that plan a practice (sheet, rehearse) are given. */
export interface PlanRequest {
  readonly practiceFile: string;
  readonly squadFile: string;
  readonly pool: Pool;
  /** Nobody said how many lanes the pool has: as many as the squad needs. */
  readonly anyLanes: boolean;
}

export interface PlannedFiles {
  readonly sheet: Sheet;
  /** By id. */
  readonly names: Readonly<Record<string, string>>;
  /** What the practice was planned for. */
  readonly pool: Pool;
}

/** The practice and the squad named. @throws CommandError when one is missing or there is more than one practice */
export function namedFiles(
  positionals: readonly string[],
  squadFile: string | undefined,
): Pick<PlanRequest, 'practiceFile' | 'squadFile'> {
  const [practiceFile, ...more] = positionals;
  if (practiceFile === undefined) throw new CommandError('no practice given: name a text file, or see --help');
  if (more.length > 0) throw new CommandError(`one practice at a time: "${more.join(' ')}" is one too many`);
  if (squadFile === undefined) throw new CommandError('no squad given: add --squad squad.csv');
  return { practiceFile, squadFile };
}

/** Plans the files. @throws CommandError with a line for each error in them */
export function planFiles(request: PlanRequest): PlannedFiles {
  const squad = readSquadFile(request.squadFile);
  const names = Object.fromEntries(squad.swimmers.map(({ id, name }) => [id, name]));
  const pool = poolFor(request, squad);
  const { sheet, messages } = planPractice(readTextFile(request.practiceFile), squad, pool);
  if (sheet) return { sheet, names, pool };
  const lines = messages.map((message) =>
    messageLine(request.practiceFile, { ...message, text: withNames(message.text, names) }),
  );
  throw new CommandError(lines.join('\n'));
}

/** The pool as asked for, with as many lanes as the squad needs when nobody said how many. */
function poolFor({ pool, anyLanes }: PlanRequest, squad: Squad): Pool {
  if (!anyLanes) return pool;
  return { ...pool, lanes: Math.max(pool.lanes, ...squad.swimmers.map(({ lane }) => lane ?? 1)) };
}

/** `file:line:column: severity code: text`, with the cure where the text does not name it already. */
function messageLine(file: string, { severity, code, line, column, text, fix }: Message): string {
  const cure = fix === undefined || text.includes(fix) ? '' : ` (${fix})`;
  return `${file}:${line}:${column}: ${severity} ${code}: ${onOneLine(text + cure)}`;
}
