import { ms } from '../../shared-types/brand.ts';
import type { Departure } from '../../shared-types/departures.ts';
import { targetAt } from '../../shared-types/expected.ts';
import { type Mark, marksOf } from '../../shared-types/marks.ts';
import { type RepStep, type Sheet, type Target, targetsOf } from '../../shared-types/sheet.ts';
import type { RehearsalResult, Tally } from './rehearsal.ts';
import type { RehearsalReport, SetReport } from './report-schema.ts';

/** So much slower than the target a rep is still made, as a share of it (a convention of ours). */
const TOLERANCE = 0.02;

interface Known {
  readonly seed: number;
  readonly title: string;
  readonly storedAsSeen: boolean;
}

/** What a rehearsal comes to, in numbers. */
export function reportOf(result: RehearsalResult, { seed, title, storedAsSeen }: Known): RehearsalReport {
  const { finished, followed, departures, tookMs, tally } = result;
  const marks = marksOf(followed.book);
  return {
    title,
    seed,
    finished,
    tookMs: ms(Math.round(tookMs)),
    presses: tally.presses,
    refused: tally.refused,
    marks: {
      sent: tally.marksSent,
      stored: tally.marksStored,
      unplaced: marks.filter(({ state }) => state === 'unplaced').length,
      unexpected: tally.unexpected,
    },
    tolerance: TOLERANCE,
    sets: setsOf(followed.sheet, departures, marks),
    storedAsSeen,
    problems: problemsOf(finished, storedAsSeen, tally),
  };
}

function problemsOf(finished: boolean, storedAsSeen: boolean, { marksSent, marksStored }: Tally): string[] {
  const lost = marksSent - marksStored;
  return [
    ...(finished
      ? []
      : ['The practice did not come to its end: it was taken off the wall, or nothing was left that could happen.']),
    ...(lost === 0 ? [] : [`The server did not store ${lost} of ${marksSent} times.`]),
    ...(storedAsSeen ? [] : ['What is stored is not what the deck saw.']),
  ];
}

type RepOf = (lane: number | null, step: string) => RepStep | undefined;

function repsOf(sheet: Sheet): RepOf {
  const reps = sheet.lanes.flatMap(({ lane, steps }) =>
    steps.flatMap((step): [string, RepStep][] => (step.kind === 'rep' ? [[`${lane} ${step.id}`, step]] : [])),
  );
  const byPlace = new Map(reps);
  return (lane, step) => byPlace.get(`${lane} ${step}`);
}

function setsOf(sheet: Sheet, departures: readonly Departure[], marks: readonly Mark[]): SetReport[] {
  const repOf = repsOf(sheet);
  const counting = marks.filter(({ state }) => state === 'counts');
  return sheet.sets.map(({ line, words, style }, set) => {
    const times = counting.filter(({ lane, step }) => repOf(lane, step)?.set === set);
    const judged = times.flatMap((mark) => isMade(sheet, repOf(mark.lane, mark.step), mark) ?? []);
    return {
      line,
      words,
      style,
      swum: departures.filter(({ lane, step }) => repOf(lane, step)?.set === set).length,
      timed: times.length,
      made: judged.filter(Boolean).length,
      missed: judged.filter((made) => !made).length,
    };
  });
}

const isToHold = ({ splits }: Target): boolean => splits.some(({ paced }) => paced);

/** Whether what was to be held up to the mark's place was. @returns null where there is nothing to hold */
function isMade(sheet: Sheet, rep: RepStep | undefined, { swimmer, distance, ms: swumMs }: Mark): boolean | null {
  const target = rep && targetsOf(sheet, rep).find((each) => each.swimmer === swimmer);
  const targetMs = targetAt(target, distance, distance === rep?.distance);
  if (!target || targetMs === null || swumMs === null || !isToHold(target)) return null;
  return swumMs <= targetMs * (1 + TOLERANCE);
}
