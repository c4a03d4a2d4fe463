import type { Ms } from '../shared-types/brand.ts';
import { parseClock } from '../shared-types/time.ts';
import { CommandError, parseCommand, runCommand } from './command-line.ts';
import { namedFiles, type PlanRequest, planFiles } from './plan-files.ts';
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

interface Request extends PlanRequest {
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
  return {
    ...namedFiles(positionals, values.squad),
    pool: poolOf(values),
    anyLanes: values.lanes === undefined,
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

runCommand((args) => {
  const request = readArguments(args);
  if (request === 'help') return USAGE;
  const { sheet, names } = planFiles(request);
  const { restMs } = request;
  return request.json
    ? `${JSON.stringify(sheetJson(sheet, names, restMs), null, 1)}\n`
    : sheetTable(sheet, names, restMs);
});
