import { type Course, inMetres } from '../../shared-types/pool.ts';
import {
  type Figure,
  isKnown,
  type None,
  none,
  type Power,
  type PowerRep,
  type RepTime,
} from '../../shared-types/results.ts';
import { stackRise } from '../../shared-types/rig.ts';
import { isSome, meanOf } from './timed-rep.ts';

/** m/s². Source: standard acceleration of gravity, third General Conference on Weights and Measures, 1901. */
const STANDARD_GRAVITY = 9.80665;

/** A stack of weights that is lifted over pulleys. */
export interface Lift {
  /** Mass of the stack, kilograms. */
  readonly loadKg: number;
  /** So many metres of rope come out for one metre that the stack goes up. */
  readonly ratio: number;
  /** Metres swum. */
  readonly metres: number;
  /** Time for them, milliseconds. */
  readonly ms: number;
}

/**
 * Mean power that lifts the stack: P = m · g · (d / r) / t, watts. What the swimmer gives against the water, the
 * friction of the pulleys and the jerk at the start are not in it and cannot be told from a time.
 * @returns none for a time of nought
 */
export const stackWatts = ({ loadKg, ratio, metres, ms }: Lift): Figure =>
  ropeWatts((loadKg * STANDARD_GRAVITY) / ratio, metres, ms);

/**
 * Mean power against a rope that pulls with a steady force: P = F · d / t, watts.
 * @param newtons as a force gauge shows it; the force of a cord grows as it is stretched, so it has none
 */
export const ropeWatts = (newtons: number, metres: number, ms: number): Figure =>
  ms > 0 ? (newtons * metres * 1000) / ms : none('a time of nought');

const PULLEY = /^pulley(?: (\d+(?:\.\d+)?) kg)?$/;

/**
 * The mass that a set's equipment says, kilograms: `pulley 12 kg`. A pulley without a mass, a cord and a parachute have
 * no load that could be known from the word.
 */
export function loadIn(equipment: readonly string[]): Figure {
  const pulley = equipment.map((words) => PULLEY.exec(words)).find((found) => found !== null);
  if (pulley === undefined) return none('no pulley');
  const massKg = Number(pulley[1] ?? 0);
  return massKg > 0 ? massKg : none('load not known');
}

/** What a power set was swum with; the practice says the mass at most. */
export interface PowerSetUp {
  readonly course: Course;
  /** The load of each rep of this swimmer, kilograms. */
  readonly loadKg: (rep: number) => Figure;
  /** The force of the rope where that is known of a rep instead, newtons; absent: of none. */
  readonly ropeN?: (rep: number) => number | undefined;
  /** Rope out : stack up. Absent: not known, and no power follows from the load. */
  readonly ratio?: number | undefined;
  /** How far into the rep the time was taken, in the course's unit; absent: the whole rep. */
  readonly timedDistance?: number;
  /** How far the stack can go up, metres. Absent: not known, and so neither whether the rope was long enough. */
  readonly stackHeightM?: number | undefined;
}

type Swum = Pick<RepTime, 'rep' | 'distance' | 'ms' | 'missing' | 'splits'>;

/** Load, time and power of every rep swum. @returns none where no rep has a load */
export function powerOf(reps: readonly Swum[], setUp: PowerSetUp): Power | None {
  const swum = reps.filter(({ missing }) => missing !== 'not swum').map((rep) => powerRep(rep, setUp));
  if (swum.length === 0) return none('no times');
  if (swum.every(({ loadKg }) => !isKnown(loadKg) && loadKg.none === 'no pulley')) return none('no pulley');
  const watts = swum.flatMap((rep) => (isKnown(rep.watts) ? [rep.watts] : []));
  const why = swum.map((rep) => rep.watts).find((figure) => !isKnown(figure)) ?? none('no times');
  if (!isSome(watts)) return { reps: swum, meanWatts: why, bestWatts: why, dropPercent: why };
  const best = Math.max(...watts);
  return { reps: swum, meanWatts: meanOf(watts), bestWatts: best, dropPercent: dropOf(watts, best) };
}

/** By how much the last power lies below the best: like fading, but of what is lifted (a convention of ours). */
function dropOf(watts: readonly number[], best: number): Figure {
  const last = watts[watts.length - 1];
  if (last === undefined || watts.length < 2) return none('one rep only');
  return best > 0 ? (100 * (best - last)) / best : none('load not known');
}

function powerRep(rep: Swum, setUp: PowerSetUp): PowerRep {
  const ropeN = setUp.ropeN?.(rep.rep);
  const loadKg = ropeN === undefined ? setUp.loadKg(rep.rep) : none('the force of the rope instead');
  const distance = setUp.timedDistance ?? rep.distance;
  const ms = distance === undefined ? null : timeOver(rep, distance);
  return {
    rep: rep.rep,
    loadKg,
    ...(ropeN === undefined ? {} : { ropeN }),
    ms: ms ?? none('no time for it'),
    watts: ropeN === undefined ? wattsOf(loadKg, distance, ms, setUp) : onRope(ropeN, distance, ms, setUp),
  };
}

const timeOver = ({ distance: whole, ms, splits }: Swum, distance: number): number | null =>
  (distance === whole ? ms : splits.find((split) => split.distance === distance)?.ms) ?? null;

const onRope = (ropeN: number, distance: number | undefined, ms: number | null, { course }: PowerSetUp): Figure =>
  distance === undefined || ms === null ? none('no time for it') : ropeWatts(ropeN, inMetres(distance, course), ms);

function wattsOf(loadKg: Figure, distance: number | undefined, ms: number | null, setUp: PowerSetUp): Figure {
  const { course, ratio, stackHeightM = Number.POSITIVE_INFINITY } = setUp;
  if (!isKnown(loadKg)) return loadKg;
  if (ratio === undefined || ratio <= 0) return none('pulley ratio not known');
  if (distance === undefined || ms === null) return none('no time for it');
  const metres = inMetres(distance, course);
  // At its upper stop the stack holds the swimmer fast: the time is then of something else.
  if (stackRise(metres, ratio) > stackHeightM) return none('stack too low for the distance');
  return stackWatts({ loadKg, ratio, metres, ms });
}
