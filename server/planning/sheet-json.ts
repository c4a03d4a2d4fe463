import { type Message, withNames } from '../../shared-types/message.ts';
import {
  type RepStep,
  type Sheet,
  type SheetLane,
  type Step,
  type Target,
  targetsOf,
} from '../../shared-types/sheet.ts';

/** What to call each swimmer, by id. */
export type Names = Readonly<Record<string, string>>;

/**
 * The run sheet as the sheet command prints it: swimmers by name, every step with its targets written out. Fields
 * that do not apply are absent. Times are milliseconds; `atMs` is on the lane's own axis, a split's `ms` runs from
 * that swimmer's own send-off.
 */
export function sheetJson(sheet: Sheet, names: Names): unknown {
  return {
    ...(sheet.title === undefined ? {} : { title: sheet.title }),
    course: sheet.course,
    durationMs: sheet.durationMs,
    distance: sheet.distance,
    conventions: sheet.conventions,
    groups: sheet.groups,
    lanes: sheet.lanes.map((lane) => laneJson(sheet, lane, names)),
    byStyle: sheet.byStyle,
    messages: sheet.messages.map((message) => messageJson(message, names)),
  };
}

const messageJson = (message: Message, names: Names): Message => ({
  ...message,
  text: withNames(message.text, names),
});

function laneJson(sheet: Sheet, lane: SheetLane, names: Names): unknown {
  const { swimmers, steps, ...rest } = lane;
  return {
    ...rest,
    swimmers: swimmers.map((id, place) => ({ name: names[id] ?? '', order: place + 1 })),
    steps: steps.map((step) => stepJson(sheet, step, names)),
  };
}

function stepJson(sheet: Sheet, step: Step, names: Names): unknown {
  const section = sheet.sections[step.section]?.name ?? '';
  return step.kind === 'rep' ? repJson(sheet, step, section, names) : { ...step, section };
}

function repJson(sheet: Sheet, step: RepStep, section: string, names: Names): unknown {
  const { set: setIndex, targets: _targets, section: _section, ...rest } = step;
  const set = sheet.sets[setIndex];
  return {
    ...rest,
    section,
    style: set?.style,
    activity: set?.activity,
    equipment: set?.equipment ?? [],
    targets: targetsOf(sheet, step).map((target) => targetJson(target, names)),
  };
}

const targetJson = ({ swimmer, ...rest }: Target, names: Names): unknown => ({
  swimmer: names[swimmer] ?? '',
  ...rest,
  basis: rest.basis ?? '',
});
