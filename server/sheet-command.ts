import { randomBytes } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { type Message, withNames } from '../shared-types/message.ts';
import { COURSES, DEFAULT_POOL, type Pool } from '../shared-types/pool.ts';
import { LIMITS } from '../shared-types/practice.ts';
import type { Squad } from '../shared-types/squad.ts';
import { parseClock } from '../shared-types/time.ts';
import { planPractice } from './planning/plan.ts';
import { sheetJson } from './planning/sheet-json.ts';
import { sheetTable } from './planning/sheet-table.ts';
import { problemText, readSquadCsv } from './planning/squad-csv.ts';

/** `npm run --silent sheet -- practice.txt --squad squad.csv`: the run sheet as a table or as JSON. */

const USAGE = `npm run --silent sheet -- PRACTICE.txt --squad SQUAD.csv [options]

Prints the run sheet of a practice: every lane's send-offs, every swimmer's targets.

  --squad FILE    the squad as CSV (needed)
  --course C      SCY, SCM or LCM (SCM)
  --lanes N       lanes in the pool, 1 to ${LIMITS.lanes} (6)
  --apart T       gap between swimmers of a lane (:05)
  --json          print JSON instead of a table
  --help          this

Exit status 0 with a sheet, 1 with errors (on standard error, one a line).`;

/** Something the caller has to mend; its message is what is printed. */
class SheetError extends Error {}

interface Request {
  readonly practiceFile: string;
  readonly squadFile: string;
  readonly pool: Pool;
  readonly json: boolean;
}

function readArguments(args: string[]): Request | 'help' {
  const { values, positionals } = parse(args);
  if (values.help) return 'help';
  const [practiceFile, ...more] = positionals;
  if (practiceFile === undefined) throw new SheetError('no practice given: name a text file, or see --help');
  if (more.length > 0) throw new SheetError(`one practice at a time: "${more.join(' ')}" is one too many`);
  if (values.squad === undefined) throw new SheetError('no squad given: add --squad squad.csv');
  const pool = { ...DEFAULT_POOL, ...poolArguments(values) };
  return { practiceFile, squadFile: values.squad, pool, json: values.json ?? false };
}

function parse(args: string[]) {
  try {
    return parseArgs({
      args,
      allowPositionals: true,
      options: {
        squad: { type: 'string' },
        course: { type: 'string' },
        lanes: { type: 'string' },
        apart: { type: 'string' },
        json: { type: 'boolean' },
        help: { type: 'boolean' },
      },
    });
  } catch (error) {
    throw new SheetError(error instanceof Error ? (error.message.split('\n')[0] ?? '') : String(error));
  }
}

type PoolValues = { course?: string | undefined; lanes?: string | undefined; apart?: string | undefined };

function poolArguments({ course, lanes, apart }: PoolValues): Partial<Pool> {
  return {
    ...(course === undefined ? {} : { course: readCourse(course) }),
    ...(lanes === undefined ? {} : { lanes: readLanes(lanes) }),
    ...(apart === undefined ? {} : { apartMs: readApart(apart) }),
  };
}

function readCourse(text: string): Pool['course'] {
  const course = COURSES.find((known) => known === text.toUpperCase());
  if (!course) throw new SheetError(`--course "${text}" is not a course: write ${COURSES.join(', ')}`);
  return course;
}

function readLanes(text: string): number {
  const lanes = Number(text);
  if (!/^\d+$/.test(text) || lanes < 1 || lanes > LIMITS.lanes) {
    throw new SheetError(`--lanes "${text}" is not a number of lanes: write 1 to ${LIMITS.lanes}`);
  }
  return lanes;
}

function readApart(text: string): number {
  const apart = parseClock(text);
  if (apart === null || apart > 300_000) throw new SheetError(`--apart "${text}" is not a gap: write it like :05`);
  return apart;
}

/** Reads a file as UTF-8. @throws SheetError when it cannot be read or is not text */
function readText(file: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(readFileSync(file));
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    if (code === 'ENOENT') throw new SheetError(`${file}: there is no such file`);
    if (code === 'EISDIR') throw new SheetError(`${file}: this is a folder, not a file`);
    if (code === 'ERR_ENCODING_INVALID_ENCODED_DATA') {
      throw new SheetError(`${file}: this is not UTF-8 text: save it as UTF-8`);
    }
    throw new SheetError(`${file}: cannot be read (${code || String(error)})`);
  }
}

function readSquad(file: string): Squad {
  const { squad, problems } = readSquadCsv(readText(file), () => randomBytes(16).toString('hex'));
  if (problems.length > 0) {
    throw new SheetError(
      problems
        .map((problem) => `${file}:${problem.line}:${problem.column}: error squad: ${problemText(problem)}`)
        .join('\n'),
    );
  }
  return squad;
}

/** The pool as asked for, with as many lanes as the squad needs when nobody said how many. */
function poolFor(pool: Pool, squad: Squad, args: readonly string[]): Pool {
  if (args.some((arg) => arg.startsWith('--lanes'))) return pool;
  return { ...pool, lanes: Math.max(pool.lanes, ...squad.swimmers.map(({ lane }) => lane ?? 1)) };
}

/** `file:line:column: severity code: text`, with the cure where the text does not name it already. */
function messageLine(file: string, { severity, code, line, column, text, fix }: Message): string {
  const cure = fix === undefined || text.includes(fix) ? '' : ` (${fix})`;
  return `${file}:${line}:${column}: ${severity} ${code}: ${text}${cure}`;
}

function main(args: string[]): number {
  const request = readArguments(args);
  if (request === 'help') {
    process.stdout.write(`${USAGE}\n`);
    return 0;
  }
  const squad = readSquad(request.squadFile);
  const names = Object.fromEntries(squad.swimmers.map(({ id, name }) => [id, name]));
  const { sheet, messages } = planPractice(readText(request.practiceFile), squad, poolFor(request.pool, squad, args));
  if (!sheet) {
    const lines = messages.map((message) =>
      messageLine(request.practiceFile, { ...message, text: withNames(message.text, names) }),
    );
    throw new SheetError(lines.join('\n'));
  }
  process.stdout.write(
    request.json ? `${JSON.stringify(sheetJson(sheet, names), null, 1)}\n` : sheetTable(sheet, names),
  );
  return 0;
}

// A reader that has seen enough (`| head`) closes the pipe: that is no error.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

try {
  process.exitCode = main(process.argv.slice(2));
} catch (error) {
  if (!(error instanceof SheetError)) throw error;
  process.stderr.write(`${error.message}\n`);
  process.exitCode = 1;
}
