import { type LaneNumber, ms, type SwimmerId } from '../../../shared-types/brand.ts';
import type { Message } from '../../../shared-types/message.ts';
import type { Pool } from '../../../shared-types/pool.ts';
import type { Practice } from '../../../shared-types/practice.ts';
import { type Join, laneOf, type Sheet, type SheetLane, type Step } from '../../../shared-types/sheet.ts';
import type { Squad } from '../../../shared-types/squad.ts';
import { longestLane, styleMinutes, swumIn } from '../../../shared-types/volume.ts';
import { type Roster, type RosterLane, rosterOf } from '../roster.ts';
import type { Amendments } from './amendments.ts';
import { type Begun, begunSteps, fromTheirEnd, joinsBehind, stillToCome } from './begun.ts';
import { cautionsFor } from './cautions.ts';
import { Gathering } from './context.ts';
import type { Draft } from './drafts.ts';
import { expandPractice } from './expand.ts';
import { mergeGates } from './gates.ts';
import { poolTimeMessages } from './pool-time.ts';
import { layTimeline } from './timeline.ts';

export interface Planned {
  /** Null when any message is an error. */
  readonly sheet: Sheet | null;
  readonly messages: readonly Message[];
}

const isError = ({ severity }: Message): boolean => severity === 'error';

/** [CMD7] What makes a sheet another version of one that is being swum. */
export interface Revision {
  readonly amendments: Amendments;
  readonly begun: Begun;
}

/**
 * The run sheet of a practice for a squad in a pool. Pure: nothing depends on the time of day.
 * @param readingMessages what reading the text already had to say; they come first on the sheet
 * @param revision what has begun and stays as it is, and what has been changed since the practice was written
 */
export function compile(
  practice: Practice,
  squad: Squad,
  pool: Pool,
  readingMessages: readonly Message[],
  revision: Revision | null = null,
): Planned {
  const roster = rosterOf(squad, pool);
  const gathering = new Gathering(roster, pool, revision?.amendments, revision?.begun.sheet.targets);
  if (!roster.messages.some(isError)) expandPractice(practice, gathering);
  const said = [...gathering.messages, ...cautionsFor(practice)];
  const inOrder = (more: readonly Message[]): Message[] => [
    ...readingMessages,
    ...roster.messages,
    ...[...said, ...more].sort((a, b) => a.line - b.line || a.column - b.column),
  ];
  const messages = inOrder([]);
  if (messages.some(isError)) return { sheet: null, messages };
  const sheet = sheetOf(practice, roster, gathering, pool, revision?.begun ?? null);
  const allMessages = inOrder(poolTimeMessages(sheet.lanes, pool));
  return { sheet: { ...sheet, messages: allMessages }, messages: allMessages };
}

function sheetOf(
  practice: Practice,
  roster: Roster,
  gathering: Gathering,
  pool: Pool,
  begun: Begun | null,
): Omit<Sheet, 'messages'> {
  const { lanes, joins } = lanesOf(roster, mergeGates(gathering.drafts), begun);
  const longest = longestLane(lanes);
  return {
    ...(practice.title === undefined ? {} : { title: practice.title }),
    course: pool.course,
    conventions: { percent: pool.percent, pace: pool.pace, easyShare: pool.easyShare, prefer: pool.prefer },
    groups: [...roster.groups],
    durationMs: ms(Math.max(0, ...lanes.map(({ durationMs }) => durationMs))),
    distance: longest?.distance ?? 0,
    sections: practice.sections.map(({ name, line }) => ({ name, line })),
    sets: gathering.sets,
    lanes,
    joins: [...joins],
    targets: gathering.targets,
    byStyle: longest ? styleMinutes(gathering, longest) : {},
  };
}

function lanesOf(
  roster: Roster,
  drafts: readonly Draft[],
  begun: Begun | null,
): { lanes: SheetLane[]; joins: readonly Join[] } {
  const numbers = roster.lanes.map(({ lane }) => lane);
  if (!begun) {
    const { steps, joins } = layTimeline(numbers, drafts);
    return { lanes: roster.lanes.map((lane) => sheetLane(lane, steps.get(lane.lane) ?? [])), joins };
  }
  const before = { steps: (lane: LaneNumber) => begunSteps(begun, lane), joins: joinsBehind(begun) };
  const { steps, joins } = layTimeline(numbers, mergeGates(stillToCome(drafts, begun)), before);
  const revised = roster.lanes.map((lane) => revisedLane(lane, steps.get(lane.lane) ?? [], begun));
  // A lane that everybody has left keeps what was swum in it.
  const left = begun.sheet.lanes.filter(({ lane }) => !numbers.includes(lane));
  const lanes = [...revised, ...left.map((lane) => withSteps(lane, begunSteps(begun, lane.lane)))];
  return { lanes: lanes.sort((a, b) => a.lane - b.lane), joins };
}

const sheetLane = ({ lane, group, apartMs, swimmers }: RosterLane, steps: readonly Step[]): SheetLane =>
  withSteps(
    { lane, group, apartMs, durationMs: ms(0), distance: 0, swimmers: swimmers.map(({ id }) => id), steps: [] },
    steps,
  );

function withSteps(lane: SheetLane, steps: readonly Step[]): SheetLane {
  const last = steps.at(-1);
  return {
    ...lane,
    durationMs: ms(last ? last.atMs + last.durationMs : 0),
    distance: steps.reduce((sum, step) => sum + swumIn(step), 0),
    steps: [...steps],
  };
}

/** A lane with what has begun as it was, and the rest swum by those who are in it now. */
function revisedLane(roster: RosterLane, steps: readonly Step[], begun: Begun): SheetLane {
  const old = laneOf(begun.sheet, roster.lane);
  const swum = begunSteps(begun, roster.lane);
  const plain = sheetLane(roster, steps);
  if (!old) return plain;
  const lineups = [...(old.lineups ?? [])];
  const lineup = lineupAmong(plain.swimmers, old.swimmers, lineups);
  const toCome = fromTheirEnd(steps.slice(swum.length), swum, old.steps).map((step) =>
    step.kind === 'rep' && lineup !== null ? { ...step, lineup } : step,
  );
  const whole = withSteps({ ...plain, swimmers: old.swimmers }, [...swum, ...toCome]);
  return lineups.length > 0 ? { ...whole, lineups } : whole;
}

/** Which of the lineups these are, added when they are none; null: they are the lane's first. */
function lineupAmong(
  swimmers: readonly SwimmerId[],
  first: readonly SwimmerId[],
  lineups: SwimmerId[][],
): number | null {
  const same = (other: readonly SwimmerId[]): boolean => other.join() === swimmers.join();
  if (same(first)) return null;
  const known = lineups.findIndex(same);
  return known >= 0 ? known : lineups.push([...swimmers]) - 1;
}
