import type { Instant, SwimmerId } from '../../shared-types/brand.ts';
import type { Load } from '../../shared-types/loads.ts';
import {
  type EarlierMean,
  type Fade,
  type Figure,
  LEADS,
  none,
  type RepTime,
  type SetResults,
  type Signature,
  type SwimmerResults,
} from '../../shared-types/results.ts';
import type { Sheet, SheetSet } from '../../shared-types/sheet.ts';
import { begunAt } from './begun-at.ts';
import { changeSince, lastOfSet } from './change.ts';
import { fadeOf } from './fade.ts';
import { finishOf } from './finish.ts';
import { hitsOf } from './hits.ts';
import { leadLine } from './lead.ts';
import { loadIn, type PowerSetUp, powerOf } from './power.ts';
import { repTimesOf, type SwimmerReps } from './rep-times.ts';
import { restOf } from './rest.ts';
import { inForce, type SwumRun } from './run-index.ts';
import { signatureOfSet } from './signature.ts';
import { spreadOf } from './spread.ts';
import { thresholdResultOf } from './threshold.ts';
import type { TimedRep } from './timed-rep.ts';

/** What the times alone do not say; all of it may be left out. */
export interface Knowledge {
  /** Milliseconds a 50; absent: the default. */
  readonly toleranceMsPer50?: number;
  /** Pulley ratio and height of the stack; over what it was timed, where the sheet does not say. */
  readonly power?: Omit<PowerSetUp, 'course' | 'loadKg' | 'ropeN'>;
  /** What was written down of a rep; undefined: it was as the practice says. */
  readonly load?: (swimmer: SwimmerId, set: number, step: string) => Load | undefined;
  /** The threshold pace of what is swum in a set, ms per 100 of the course's unit; null: not known. */
  readonly thresholdPer100Ms?: (swimmer: SwimmerId, set: number) => number | null;
  /**
   * What sets of this kind came to with the swimmer before an instant: others may be among them, the last must be. Null:
   * the set has not been begun.
   */
  readonly earlier?: (swimmer: SwimmerId, signature: Signature, begunAt: Instant | null) => readonly EarlierMean[];
}

/** What the times of a practice say, set by set of the sheet in force. */
export function setResultsOf(run: SwumRun, knowledge: Knowledge = {}): SetResults[] {
  const sheet = inForce(run.versions);
  return repTimesOf(run).flatMap((swimmers, set): SetResults[] => {
    const of = sheet.sets[set];
    if (!of) return [];
    const { line, words, style } = of;
    return [
      { set, line, words, style, swimmers: swimmers.map((own) => resultsOf({ sheet, set, of, knowledge }, own)) },
    ];
  });
}

interface SwumSheetSet {
  readonly sheet: Sheet;
  readonly set: number;
  readonly of: SheetSet;
  readonly knowledge: Knowledge;
}

function resultsOf({ sheet, set, of, knowledge }: SwumSheetSet, { swimmer, reps }: SwimmerReps): SwimmerResults {
  const timed = timedReps(reps);
  const several = new Set(reps.map(({ stroke }) => stroke)).size > 1;
  const signature = signatureOfSet(of, reps, sheet.course);
  const spread = spreadOf(timed);
  const fade = several ? NO_FADE : fadeOf(timed);
  const earlier = knowledge.earlier?.(swimmer, signature, begunAt(reps)) ?? [];
  const threshold = knowledge.thresholdPer100Ms?.(swimmer, set) ?? null;
  const results: Omit<SwimmerResults, 'lead'> = {
    swimmer,
    reps: [...reps],
    signature,
    spread,
    fade,
    finishMs: several ? SEVERAL : finishOf(timed),
    hits: hitsOf(reps, knowledge.toleranceMsPer50),
    rest: restOf(reps),
    power: powerOf(reps, powerSetUp({ sheet, set, of, knowledge }, { swimmer, reps })),
    threshold: thresholdResultOf(reps, threshold, fade.secondsPerRep),
    change: changeSince(signature, spread.meanMs, lastOfSet(signature, earlier)),
  };
  return { ...results, lead: { metrics: [...LEADS[of.style]], line: leadLine(of.style, results) } };
}

/** What a swimmer's reps of a set were swum with. */
function powerSetUp({ sheet, set, of, knowledge }: SwumSheetSet, { swimmer, reps }: SwimmerReps): PowerSetUp {
  const loadOn = (rep: number): Load | undefined => {
    const step = reps.find((one) => one.rep === rep)?.step;
    return step === undefined ? undefined : knowledge.load?.(swimmer, set, step);
  };
  return {
    ...knowledge.power,
    ...(of.timedDistance === undefined ? {} : { timedDistance: of.timedDistance }),
    course: sheet.course,
    loadKg: (rep) => {
      const load = loadOn(rep);
      return load && 'kg' in load ? load.kg : loadIn(of.equipment);
    },
    ropeN: (rep) => {
      const load = loadOn(rep);
      return load && 'newtons' in load ? load.newtons : undefined;
    },
  };
}

const SEVERAL: Figure = none('several strokes');
/** Reps of changing strokes have a mean, but not one slope. */
const NO_FADE: Fade = {
  secondsPerRep: SEVERAL,
  firstToLastPercent: SEVERAL,
  decrementPercent: SEVERAL,
  descending: false,
};

/** Those that were swum and have a finish that could be taken; the others are not missing. */
const timedReps = (reps: readonly RepTime[]): TimedRep[] =>
  reps.flatMap(({ rep, ms, missing }) => (missing === undefined || missing === 'not timed' ? [{ rep, ms }] : []));
