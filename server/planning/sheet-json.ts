import { type Ms, ms } from '../../shared-types/brand.ts';
import { type Message, withNames } from '../../shared-types/message.ts';
import {
  type RepStep,
  type Sheet,
  type SheetLane,
  type SheetSet,
  type Step,
  type Target,
  targetsOf,
} from '../../shared-types/sheet.ts';
import { longestLane, styleMinutes, volumesBySection } from '../../shared-types/volume.ts';
import { workRest } from '../../shared-types/work-rest.ts';
import { suggestedSets } from './lanes/suggested-sets.ts';
import type {
  PrintedLane,
  PrintedRep,
  PrintedSheet,
  PrintedStep,
  PrintedTarget,
  SectionVolume,
} from './sheet-json-schema.ts';

/** What to call each swimmer, by id. */
export type Names = Readonly<Record<string, string>>;

/**
 * The run sheet as the sheet command prints it: swimmers by name, every step with its targets written out. Fields
 * that do not apply are absent. Times are milliseconds; `atMs` is on the lane's own axis, a split's `ms` runs from
 * that swimmer's own send-off. Every key is written out, in the order of the printed schema: the order of a sheet's
 * own keys depends on where it has been.
 * @param restMs the rest that suggested send-offs are to leave; null: none are asked for
 */
export function sheetJson(sheet: Sheet, names: Names, restMs: Ms | null = null): PrintedSheet {
  const { percent, pace, easyShare, prefer } = sheet.conventions;
  const longest = longestLane(sheet.lanes);
  return {
    ...(sheet.title === undefined ? {} : { title: sheet.title }),
    course: sheet.course,
    durationMs: sheet.durationMs,
    distance: sheet.distance,
    conventions: { percent, pace, easyShare, prefer: prefer ?? 'goal' },
    groups: sheet.groups,
    sets: sheet.sets.map((set) => setJson(sheet, set)),
    lanes: sheet.lanes.map((lane) => laneJson(sheet, lane, names)),
    byStyle: byStyleJson(sheet.byStyle),
    bySection: longest ? bySectionJson(sheet, longest) : [],
    ...(restMs === null ? {} : { suggested: { restMs, sets: suggestedJson(sheet, restMs) } }),
    messages: sheet.messages.map((message) => messageJson(message, names)),
  };
}

const sectionName = (sheet: Sheet, section: number): string => sheet.sections[section]?.name ?? '';

const setJson = (sheet: Sheet, { line, section, style, styleReason, words, detail }: SheetSet) => ({
  line,
  section: sectionName(sheet, section),
  style,
  styleReason,
  words,
  detail,
});

const suggestedJson = (sheet: Sheet, restMs: Ms): NonNullable<PrintedSheet['suggested']>['sets'] =>
  suggestedSets(sheet, restMs).map(({ set, byGroup }) => ({
    line: sheet.sets[set]?.line ?? 1,
    words: sheet.sets[set]?.words ?? '',
    sendOffs: byGroup.map(({ group, cycleMs }) => ({ group, intervalMs: cycleMs })),
  }));

function byStyleJson(byStyle: Sheet['byStyle']): PrintedSheet['byStyle'] {
  const entries = Object.entries(byStyle).map(([style, { distance, sets, minutes }]) => [
    style,
    { distance, sets, minutes },
  ]);
  return Object.fromEntries(entries);
}

const bySectionJson = (sheet: Sheet, lane: SheetLane): SectionVolume[] =>
  volumesBySection(sheet, lane).map(({ distance, sets, ms: durationMs }, place) => ({
    section: sectionName(sheet, place),
    line: sheet.sections[place]?.line ?? 1,
    distance,
    sets,
    durationMs: ms(durationMs),
  }));

const messageJson = ({ severity, code, line, column, lane, text, fix }: Message, names: Names): Message => ({
  severity,
  code,
  line,
  column,
  ...(lane === undefined ? {} : { lane }),
  text: withNames(text, names),
  ...(fix === undefined ? {} : { fix }),
});

function laneJson(sheet: Sheet, laneOnSheet: SheetLane, names: Names): PrintedLane {
  const { lane, group, apartMs, durationMs, distance, swimmers, steps } = laneOnSheet;
  return {
    lane,
    group,
    apartMs,
    durationMs,
    distance,
    byStyle: styleMinutes(sheet, laneOnSheet),
    bySection: bySectionJson(sheet, laneOnSheet),
    swimmers: swimmers.map((id, place) => ({ name: names[id] ?? '', order: place + 1 })),
    steps: steps.map((step) => stepJson(sheet, step, names)),
  };
}

function stepJson(sheet: Sheet, step: Step, names: Names): PrintedStep {
  const { id, atMs, durationMs, line } = step;
  const place = { atMs, durationMs, line, section: sectionName(sheet, step.section) };
  if (step.kind === 'gate') return { id, kind: 'gate', ...place };
  if (step.kind === 'rest') return { id, kind: 'rest', reason: step.reason, ...place };
  return repJson(sheet, step, place, names);
}

type Place = Pick<PrintedRep, 'atMs' | 'durationMs' | 'line' | 'section'>;

/** @throws RangeError for a rep of a set that the sheet does not have */
function repJson(sheet: Sheet, step: RepStep, place: Place, names: Names): PrintedRep {
  const set = sheet.sets[step.set];
  if (!set) throw new RangeError(`rep ${step.id} is of set ${step.set}; the sheet has ${sheet.sets.length}`);
  const { outerRound, outerRounds, round, rounds, heat, heats, distance, timedMs, effort } = step;
  return {
    id: step.id,
    kind: 'rep',
    ...place,
    style: set.style,
    ...(outerRound === undefined ? {} : { outerRound }),
    ...(outerRounds === undefined ? {} : { outerRounds }),
    ...(round === undefined ? {} : { round }),
    ...(rounds === undefined ? {} : { rounds }),
    rep: step.rep,
    reps: step.reps,
    ...(heat === undefined ? {} : { heat }),
    ...(heats === undefined ? {} : { heats }),
    ...(distance === undefined ? {} : { distance }),
    ...(timedMs === undefined ? {} : { timedMs }),
    stroke: step.stroke,
    activity: set.activity,
    start: step.start,
    fromEnd: step.fromEnd,
    toEnd: step.toEnd,
    apartMs: step.apartMs,
    equipment: set.equipment,
    ...(effort === undefined ? {} : { effort }),
    targets: targetsOf(sheet, step).map((target) => targetJson(target, names)),
  };
}

function targetJson(target: Target, names: Names): PrintedTarget {
  const ratio = workRest(target.ms, target.restMs);
  return {
    swimmer: names[target.swimmer] ?? '',
    ms: target.ms,
    restMs: target.restMs,
    ...(ratio === null ? {} : { workRest: ratio }),
    basis: target.basis ?? '',
    estimated: target.estimated,
    splits: target.splits.map(({ distance, ms: at, paced, estimated }) => ({
      distance,
      ms: at,
      paced,
      ...(estimated ? { estimated } : {}),
    })),
  };
}
