import { ms } from '../../../shared-types/brand.ts';
import type { Message } from '../../../shared-types/message.ts';
import type { Pool } from '../../../shared-types/pool.ts';
import type { Practice } from '../../../shared-types/practice.ts';
import type { RepStep, Sheet, SheetLane, Step } from '../../../shared-types/sheet.ts';
import type { Squad } from '../../../shared-types/squad.ts';
import { type Roster, type RosterLane, rosterOf } from '../roster.ts';
import { cautionsFor } from './cautions.ts';
import { Gathering } from './context.ts';
import { expandPractice } from './expand.ts';
import { mergeGates } from './gates.ts';
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
  const messages = [
    ...readingMessages,
    ...roster.messages,
    ...[...gathering.messages, ...cautionsFor(practice)].sort((a, b) => a.line - b.line || a.column - b.column),
  ];
  if (messages.some(isError)) return { sheet: null, messages };
  return { sheet: sheetOf(practice, roster, gathering, pool, messages), messages };
}

function sheetOf(
  practice: Practice,
  roster: Roster,
  gathering: Gathering,
  pool: Pool,
  messages: readonly Message[],
): Sheet {
  const timeline = layTimeline(
    roster.lanes.map(({ lane }) => lane),
    mergeGates(gathering.drafts),
  );
  const lanes = roster.lanes.map((lane) => sheetLane(lane, timeline.steps.get(lane.lane) ?? []));
  const longest = lanes.reduce<SheetLane | undefined>((a, b) => (!a || b.distance > a.distance ? b : a), undefined);
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
    byStyle: longest ? volumesOf(longest, gathering) : {},
    messages: [...messages],
  };
}

function sheetLane({ lane, group, apartMs, swimmers }: RosterLane, steps: readonly Step[]): SheetLane {
  const last = steps.at(-1);
  return {
    lane,
    group,
    apartMs,
    durationMs: ms(last ? last.atMs + last.durationMs : 0),
    distance: swumReps(steps).reduce((sum, { distance }) => sum + (distance ?? 0), 0),
    swimmers: swimmers.map(({ id }) => id),
    steps: [...steps],
  };
}

/** The reps one swimmer of a lane swims: of the heats of a rep only one. */
const swumReps = (steps: readonly Step[]): RepStep[] =>
  steps.flatMap((step) => (step.kind === 'rep' && (step.heat ?? 1) === 1 ? [step] : []));

function volumesOf(lane: SheetLane, gathering: Gathering): Sheet['byStyle'] {
  const volumes: Sheet['byStyle'] = {};
  const seen = new Set<number>();
  for (const step of lane.steps) {
    const style = step.kind === 'rep' ? gathering.sets[step.set]?.style : undefined;
    if (step.kind !== 'rep' || style === undefined) continue;
    const volume = volumes[style] ?? { distance: 0, sets: 0, minutes: 0 };
    volumes[style] = {
      distance: volume.distance + ((step.heat ?? 1) === 1 ? (step.distance ?? 0) : 0),
      sets: volume.sets + (seen.has(step.set) ? 0 : 1),
      minutes: volume.minutes + step.durationMs / 60_000,
    };
    seen.add(step.set);
  }
  for (const volume of Object.values(volumes)) volume.minutes = Math.round(volume.minutes * 10) / 10;
  return volumes;
}
