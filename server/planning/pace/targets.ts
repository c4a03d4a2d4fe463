import { ms } from '../../../shared-types/brand.ts';
import type { Pool } from '../../../shared-types/pool.ts';
import {
  type Effort,
  type Equipment,
  type Part,
  RESISTED,
  type SetItem,
  type SetStroke,
} from '../../../shared-types/practice.ts';
import type { Target } from '../../../shared-types/sheet.ts';
import type { RaceStroke, Swimmer } from '../../../shared-types/squad.ts';
import type { SetSignature } from '../set-signature.ts';
import { bestAverage } from './best-average.ts';
import { easyPace } from './easy-pace.ts';
import { isPaced, type PaceResult, type Stretch } from './paced.ts';
import { racePace } from './race-pace.ts';
import { referenceFor } from './references.ts';
import { thresholdPace } from './threshold.ts';

/** One rep as far as its target depends on it; efforts hold no alternation, ramp or slash list any more. */
export interface RepToSwim {
  readonly set: SetItem;
  readonly stroke: SetStroke;
  readonly effort: Effort | undefined;
  /** Of each part of the set; undefined where a part names none of its own. */
  readonly partEfforts: readonly (Effort | undefined)[];
  /** Time from this send-off to the next, where the rep is not released by the coach. */
  readonly cycleMs: number | null;
  /** What the set is, as this pace group swims it: the same set again is held against it. */
  readonly signature: SetSignature;
}

export interface TargetResult {
  readonly target: Target;
  /** The swim's expected time, target or not; null when nobody can know. */
  readonly expectedMs: number | null;
  /** What is lacking for a target that the effort asks for. */
  readonly missing: readonly string[];
  /** What the target's paced parts are estimated from; empty when they follow from the swimmer's own times alone. */
  readonly estimates: readonly string[];
}

export const isResisted = (equipment: readonly Equipment[]): boolean =>
  equipment.some(({ name }) => RESISTED.some((resisted) => resisted === name));

/** The race stroke that `stroke` is for this swimmer; null for choice. */
function raceStrokeOf(stroke: SetStroke, swimmer: Swimmer): RaceStroke | null {
  if (stroke === 'own') return swimmer.main?.stroke ?? null;
  if (stroke === 'choice' || stroke === 'IM order') return null;
  return stroke;
}

interface Piece {
  readonly stretch: Stretch;
  readonly effort: Effort | undefined;
  readonly result: PaceResult | null;
  readonly paced: boolean;
}

/** The swimmer's target for a rep, with the split at the end of each part; exact, rounded once to whole ms. */
export function targetFor(swimmer: Swimmer, rep: RepToSwim, pool: Pool): TargetResult {
  const { set } = rep;
  if (set.size.kind === 'timed') return noTarget(swimmer, set.size.timeMs, []);
  const pieces = piecesOf(swimmer, rep, set.size.distance, pool);
  // An easy stretch nobody can time is no lack: only what is to be held needs a reference.
  const missing = pieces.flatMap(({ result, paced }) => (paced && result && !isPaced(result) ? [result.missing] : []));
  if (isResisted(set.equipment)) return noTarget(swimmer, null, []);
  const splits = splitsOf(pieces);
  const whole = splits.length === pieces.length ? (splits.at(-1)?.ms ?? null) : null;
  if (splits.length === 0) return noTarget(swimmer, knownBest(swimmer, pieces, pool), missing);
  const based = pieces.flatMap(({ result }) => (result && isPaced(result) ? [result] : []));
  const target: Target = {
    swimmer: swimmer.id,
    ms: whole,
    restMs: whole !== null && rep.cycleMs !== null ? ms(rep.cycleMs - whole) : null,
    basis: [...new Set(based.map(({ basis }) => basis))].join('; '),
    estimated: based.some(({ estimate }) => estimate !== null),
    splits,
  };
  return { target, expectedMs: whole, missing, estimates: estimatesOf(pieces.slice(0, splits.length)) };
}

function noTarget(swimmer: Swimmer, expectedMs: number | null, missing: readonly string[]): TargetResult {
  const target: Target = { swimmer: swimmer.id, ms: null, restMs: null, estimated: false, splits: [] };
  return { target, expectedMs, missing, estimates: [] };
}

/** Easy swimming is always an estimate and need not be said. */
const estimatesOf = (pieces: readonly Piece[]): string[] =>
  pieces.flatMap(({ result, paced }) => (paced && result && isPaced(result) ? (result.estimate ?? []) : []));

function piecesOf(swimmer: Swimmer, rep: RepToSwim, distance: number, pool: Pool): Piece[] {
  const { set } = rep;
  const whole: Part = { distance, column: set.column };
  const parts = set.parts.length > 0 ? set.parts : [whole];
  return parts.map((part, place) => {
    const own = rep.partEfforts[place];
    const effort = own ?? rep.effort;
    const stretch: Stretch = {
      distance: part.distance,
      stroke: raceStrokeOf(part.stroke ?? rep.stroke, swimmer),
      activity: part.activity ?? set.activity,
      start: place === 0 ? set.start : 'push',
    };
    // A time to hold is for what it is written on: the part, or else the whole rep.
    const result = paceOf(swimmer, effort, stretch, { rep, writtenOn: own ? part.distance : distance }, pool);
    return { stretch, effort, result, paced: effort?.kind !== 'easy' };
  });
}

interface Written {
  readonly rep: RepToSwim;
  /** The distance of what the effort is written on: the part, or else the whole rep. */
  readonly writtenOn: number;
}

/** The pace an effort asks for; null for efforts that set none (smooth, build, descend, max). */
function paceOf(
  swimmer: Swimmer,
  effort: Effort | undefined,
  stretch: Stretch,
  { rep, writtenOn }: Written,
  pool: Pool,
): PaceResult | null {
  switch (effort?.kind) {
    case 'pace':
      return racePace(swimmer, effort.race, effort.percent, stretch, pool);
    case 'hold':
      return holdPace(effort, stretch, writtenOn);
    case 'easy':
      return easyPace(swimmer, stretch, pool);
    case 'threshold':
      return thresholdPace(swimmer, effort.plusMsPer100, stretch, pool);
    case 'best average':
      return rep.set.parts.length > 0
        ? { missing: 'no best average of a part of a rep' }
        : bestAverage(swimmer, rep.signature);
    default:
      return null;
  }
}

function holdPace({ timeMs, perDistance }: Hold, stretch: Stretch, writtenOn: number): PaceResult {
  const ms = (timeMs[0] * stretch.distance) / (perDistance ?? writtenOn);
  return {
    ms,
    basis: perDistance === undefined ? 'hold as written' : `hold as written per ${perDistance}`,
    estimate: null,
  };
}

type Hold = Extract<Effort, { kind: 'hold' }>;

/** Running times at the end of each part, up to the first part nobody can know. */
function splitsOf(pieces: readonly Piece[]): Target['splits'] {
  const splits: Target['splits'] = [];
  let distance = 0;
  let time = 0;
  for (const { stretch, result, paced } of pieces) {
    if (!result || !isPaced(result)) break;
    distance += stretch.distance;
    time += result.ms;
    const estimated = paced && result.estimate !== null ? { estimated: true as const } : {};
    splits.push({ distance, ms: ms(Math.round(time)), paced, ...estimated });
  }
  return splits;
}

/** An all-out rep over a distance the swimmer has a time for: no target, but the coach can expect that time. */
function knownBest(swimmer: Swimmer, pieces: readonly Piece[], pool: Pool): number | null {
  const [only, more] = pieces;
  if (!only || more || only.effort?.kind !== 'max' || only.stretch.stroke === null) return null;
  const { distance, stroke, activity } = only.stretch;
  return referenceFor(swimmer, { distance, stroke, activity }, pool.course, pool.prefer)?.timeMs ?? null;
}
