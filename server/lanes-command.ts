import { type LaneNumber, laneNumber, type SwimmerId } from '../shared-types/brand.ts';
import { DEFAULT_POOL, type Pool } from '../shared-types/pool.ts';
import { LIMITS } from '../shared-types/practice.ts';
import { type Event, eventText, parseEvent, type Squad, type Swimmer } from '../shared-types/squad.ts';
import { CommandError, parseCommand, readSquadFile, runCommand, wholeNumber } from './command-line.ts';
import { lanesJson } from './planning/lanes/lanes-json.ts';
import { lanesTable } from './planning/lanes/lanes-table.ts';
import { proposeFromSquad } from './planning/lanes/propose-from-squad.ts';
import { nearestWord } from './planning/shorthand/nearest-word.ts';
import { POOL_OPTIONS, poolOf } from './pool-options.ts';

/** `npm run --silent lanes -- squad.csv`: lanes proposed for a squad as a table or as JSON. */

const DEFAULT_CAPACITY = 6;
const DEFAULT_EVENT: Event = { distance: 200, stroke: 'free', activity: 'swim' };

const USAGE = `npm run --silent lanes -- SQUAD.csv [options]

Proposes lanes for a squad: swimmers of like speed together, lane 1 the fastest.

  --lanes N       lanes in the pool, 1 to ${LIMITS.lanes} (${DEFAULT_POOL.lanes})
  --capacity N    most swimmers in a lane, 1 to ${LIMITS.swimmersPerLane} (${DEFAULT_CAPACITY})
  --by EVENT      the event whose times count ("${eventText(DEFAULT_EVENT)}")
  --course C      SCY, SCM or LCM (${DEFAULT_POOL.course})
  --prefer K      which of several times of an event: goal, best or test (${DEFAULT_POOL.prefer})
  --keep NAME=N   this swimmer stays in lane N; may be given again
  --json          print JSON instead of a table
  --help          this

Exit status 0 with a proposal, 1 with errors (on standard error).
`;

interface Request {
  readonly squadFile: string;
  readonly pool: Pool;
  readonly event: Event;
  readonly capacity: number;
  /** As written: `Name=2`. */
  readonly keep: readonly string[];
  readonly json: boolean;
}

function readArguments(args: string[]): Request | 'help' {
  const { values, positionals } = parseCommand({
    args,
    allowPositionals: true,
    options: {
      lanes: POOL_OPTIONS.lanes,
      course: POOL_OPTIONS.course,
      prefer: POOL_OPTIONS.prefer,
      capacity: { type: 'string' },
      by: { type: 'string' },
      keep: { type: 'string', multiple: true },
      json: { type: 'boolean' },
      help: { type: 'boolean' },
    },
  });
  if (values.help) return 'help';
  const [squadFile, ...more] = positionals;
  if (squadFile === undefined) throw new CommandError('no squad given: name a CSV file, or see --help');
  if (more.length > 0) throw new CommandError(`one squad at a time: "${more.join(' ')}" is one too many`);
  return {
    squadFile,
    pool: poolOf(values),
    event: readEvent(values.by),
    capacity: readCapacity(values.capacity),
    keep: values.keep ?? [],
    json: values.json ?? false,
  };
}

function readEvent(text: string | undefined): Event {
  const event = text === undefined ? DEFAULT_EVENT : parseEvent(text);
  if (!event) throw new CommandError(`--by "${text}" is not an event: write it like "200 free" or "100 free kick"`);
  return event;
}

function readCapacity(text: string | undefined): number {
  const capacity = text === undefined ? DEFAULT_CAPACITY : wholeNumber(text, LIMITS.swimmersPerLane);
  if (capacity !== null) return capacity;
  throw new CommandError(
    `--capacity "${text}" is not a number of swimmers in a lane: write 1 to ${LIMITS.swimmersPerLane}`,
  );
}

function readKeep({ keep, pool, squadFile }: Request, { swimmers }: Squad): ReadonlyMap<SwimmerId, LaneNumber> {
  const kept = new Map<SwimmerId, LaneNumber>();
  for (const text of keep) {
    const sign = text.lastIndexOf('=');
    if (sign < 1) throw new CommandError(`--keep "${text}" names no lane: write it like --keep "Ada Vance=2"`);
    const swimmer = swimmerNamed(text.slice(0, sign).trim(), swimmers, squadFile);
    const lane = wholeNumber(text.slice(sign + 1).trim(), pool.lanes);
    if (lane === null) {
      throw new CommandError(`--keep "${text}": there is no such lane: write 1 to ${pool.lanes}, or more --lanes`);
    }
    const before = kept.get(swimmer.id);
    if (before !== undefined && before !== lane) {
      throw new CommandError(
        `--keep "${text}": ${swimmer.name} is kept in lane ${before} already: keep one of the two`,
      );
    }
    kept.set(swimmer.id, laneNumber(lane));
  }
  return kept;
}

/** Names of a squad file are told apart without regard to case, so here too. */
function swimmerNamed(name: string, swimmers: readonly Swimmer[], squadFile: string): Swimmer {
  const swimmer = swimmers.find((one) => one.name.toLowerCase() === name.toLowerCase());
  if (swimmer) return swimmer;
  const names = swimmers.map((one) => one.name);
  const likely =
    names.find((one) => one.toLowerCase().startsWith(`${name.toLowerCase()} `)) ?? nearestWord(name, names);
  const cure = likely === null ? 'write the name as it stands there' : `did you mean "${likely}"?`;
  throw new CommandError(`--keep "${name}": nobody of that name is in ${squadFile}: ${cure}`);
}

/** The flags that a refusal's cure is about. */
const FLAGS_OF = {
  'too-many': '--lanes, --capacity',
  'lane-too-full': '--keep, --capacity',
  'no-such-lane': '--keep, --lanes',
} as const;

runCommand((args) => {
  const request = readArguments(args);
  if (request === 'help') return USAGE;
  const { squadFile, pool, event, capacity, json } = request;
  const squad = readSquadFile(squadFile);
  if (squad.swimmers.length === 0) throw new CommandError(`${squadFile}: nobody is in this squad: add a row a swimmer`);
  const proposal = proposeFromSquad(squad, event, pool, { capacity, fixed: readKeep(request, squad) });
  if (proposal.kind !== 'proposal') {
    throw new CommandError(`${squadFile}: ${proposal.text}: ${proposal.fix} (${FLAGS_OF[proposal.kind]})`);
  }
  if (proposal.without.length === squad.swimmers.length) {
    const what = `${eventText(event)} time (${pool.course})`;
    throw new CommandError(`${squadFile}: nobody has a ${what}: add times, or ask --by another event or --course`);
  }
  const question = { event, course: pool.course, capacity };
  return json ? `${JSON.stringify(lanesJson(proposal, question), null, 1)}\n` : lanesTable(proposal, question);
});
