import type { Ms } from '../shared-types/brand.ts';
import { type Message, withNames } from '../shared-types/message.ts';
import type { Pool } from '../shared-types/pool.ts';
import type { Squad } from '../shared-types/squad.ts';
import { parseClock } from '../shared-types/time.ts';
import { CommandError, parseCommand, readSquadFile, readTextFile, runCommand } from './command-line.ts';
import { planPractice } from './planning/plan.ts';
import { sheetJson } from './planning/sheet-json.ts';
import { sheetTable } from './planning/sheet-table.ts';
import { POOL_OPTIONS, POOL_USAGE, poolOf } from './pool-options.ts';

const MOST_REST_MS = 3_600_000;

/** `npm run --silent sheet -- practice.txt --squad squad.csv`: the run sheet as a table or as JSON. */

const USAGE = `npm run --silent sheet -- PRACTICE.txt --squad SQUAD.csv [options]

Prints the run sheet of a practice: every lane's send-offs, every swimmer's targets.

  --squad FILE    the squad as CSV (needed)
${POOL_USAGE}
  --rest T        also print the send-offs that leave everybody at least this rest
  --json          print JSON instead of a table
  --help          this

Exit status 0 with a sheet, 1 with errors (on standard error, one a line).
`;

interface Request {
  readonly practiceFile: string;
  readonly squadFile: string;
  readonly pool: Pool;
  /** Nobody said how many lanes the pool has: as many as the squad needs. */
  readonly anyLanes: boolean;
  /** The rest that suggested send-offs are to leave; null: none are asked for. */
  readonly restMs: Ms | null;
  readonly json: boolean;
}

function readArguments(args: string[]): Request | 'help' {
  const { values, positionals } = parseCommand({
    args,
    allowPositionals: true,
    options: {
      ...POOL_OPTIONS,
      squad: { type: 'string' },
      rest: { type: 'string' },
      json: { type: 'boolean' },
      help: { type: 'boolean' },
    },
  });
  if (values.help) return 'help';
  const [practiceFile, ...more] = positionals;
  if (practiceFile === undefined) throw new CommandError('no practice given: name a text file, or see --help');
  if (more.length > 0) throw new CommandError(`one practice at a time: "${more.join(' ')}" is one too many`);
  if (values.squad === undefined) throw new CommandError('no squad given: add --squad squad.csv');
  const anyLanes = values.lanes === undefined;
  return {
    practiceFile,
    squadFile: values.squad,
    pool: poolOf(values),
    anyLanes,
    restMs: values.rest === undefined ? null : readRest(values.rest),
    json: values.json ?? false,
  };
}

function readRest(text: string): Ms {
  const restMs = parseClock(text);
  if (restMs === null || restMs > MOST_REST_MS)
    throw new CommandError(`--rest "${text}" is not a rest: write it like :20`);
  return restMs;
}

/** The pool as asked for, with as many lanes as the squad needs when nobody said how many. */
function poolFor({ pool, anyLanes }: Request, squad: Squad): Pool {
  if (!anyLanes) return pool;
  return { ...pool, lanes: Math.max(pool.lanes, ...squad.swimmers.map(({ lane }) => lane ?? 1)) };
}

/** `file:line:column: severity code: text`, with the cure where the text does not name it already. */
function messageLine(file: string, { severity, code, line, column, text, fix }: Message): string {
  const cure = fix === undefined || text.includes(fix) ? '' : ` (${fix})`;
  return `${file}:${line}:${column}: ${severity} ${code}: ${text}${cure}`;
}

runCommand((args) => {
  const request = readArguments(args);
  if (request === 'help') return USAGE;
  const squad = readSquadFile(request.squadFile);
  const names = Object.fromEntries(squad.swimmers.map(({ id, name }) => [id, name]));
  const { sheet, messages } = planPractice(readTextFile(request.practiceFile), squad, poolFor(request, squad));
  if (!sheet) {
    const lines = messages.map((message) =>
      messageLine(request.practiceFile, { ...message, text: withNames(message.text, names) }),
    );
    throw new CommandError(lines.join('\n'));
  }
  const { restMs } = request;
  return request.json
    ? `${JSON.stringify(sheetJson(sheet, names, restMs), null, 1)}\n`
    : sheetTable(sheet, names, restMs);
});
