import { ms } from '../../../shared-types/brand.ts';
import type { Message } from '../../../shared-types/message.ts';
import type { Pool } from '../../../shared-types/pool.ts';
import type { Practice } from '../../../shared-types/practice.ts';
import type { Sheet, SheetLane, Step } from '../../../shared-types/sheet.ts';
import type { Squad } from '../../../shared-types/squad.ts';
import { longestLane, styleMinutes, swumIn } from '../../../shared-types/volume.ts';
import { type Roster, type RosterLane, rosterOf } from '../roster.ts';
import { cautionsFor } from './cautions.ts';
import { Gathering } from './context.ts';
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

/**
 * The run sheet of a practice for a squad in a pool. Pure: nothing depends on the time of day.
 * @param readingMessages what reading the text already had to say; they come first on the sheet
 */
export function compile(practice: Practice, squad: Squad, pool: Pool, readingMessages: readonly Message[]): Planned {
  const roster = rosterOf(squad, pool);
  const gathering = new Gathering(roster, pool);
  if (!roster.messages.some(isError)) expandPractice(practice, gathering);
  const said = [...gathering.messages, ...cautionsFor(practice)];
  const inOrder = (more: readonly Message[]): Message[] => [
    ...readingMessages,
    ...roster.messages,
    ...[...said, ...more].sort((a, b) => a.line - b.line || a.column - b.column),
  ];
  const messages = inOrder([]);
  if (messages.some(isError)) return { sheet: null, messages };
  const sheet = sheetOf(practice, roster, gathering, pool);
  const allMessages = inOrder(poolTimeMessages(sheet.lanes, pool));
  return { sheet: { ...sheet, messages: allMessages }, messages: allMessages };
}

function sheetOf(practice: Practice, roster: Roster, gathering: Gathering, pool: Pool): Omit<Sheet, 'messages'> {
  const timeline = layTimeline(
    roster.lanes.map(({ lane }) => lane),
    mergeGates(gathering.drafts),
  );
  const lanes = roster.lanes.map((lane) => sheetLane(lane, timeline.steps.get(lane.lane) ?? []));
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
    joins: [...timeline.joins],
    targets: gathering.targets,
    byStyle: longest ? styleMinutes(gathering, longest) : {},
  };
}

function sheetLane({ lane, group, apartMs, swimmers }: RosterLane, steps: readonly Step[]): SheetLane {
  const last = steps.at(-1);
  return {
    lane,
    group,
    apartMs,
    durationMs: ms(last ? last.atMs + last.durationMs : 0),
    distance: steps.reduce((sum, step) => sum + swumIn(step), 0),
    swimmers: swimmers.map(({ id }) => id),
    steps: [...steps],
  };
}
