import { inMetres, type Pool, unitOf } from '../../../shared-types/pool.ts';
import { type Event, eventText, type Reference, type Swimmer, strokeText } from '../../../shared-types/squad.ts';
import { formatSwimTime } from '../../../shared-types/time.ts';
import type { NoPace, PaceResult, Stretch } from './paced.ts';
import { compareReferences, referenceText, swumTimes } from './references.ts';

/** A swum distance in metres and its time in seconds. */
export interface Trial {
  readonly metres: number;
  readonly seconds: number;
}

export interface CriticalSpeed {
  /** m/s */
  readonly metresPerSecond: number;
  /** The distance at time nought, m. */
  readonly interceptMetres: number;
}

/**
 * Critical swim speed: the slope of distance on time by least squares.
 * Source: Wakayoshi and others 1992, 1993.
 * @returns null for fewer than two different times
 */
export function criticalSpeed(trials: readonly Trial[]): CriticalSpeed | null {
  const count = trials.length;
  const mean = (of: (trial: Trial) => number): number => trials.reduce((sum, trial) => sum + of(trial), 0) / count;
  const [time, distance] = [mean(({ seconds }) => seconds), mean(({ metres }) => metres)];
  const spread = trials.reduce((sum, { seconds }) => sum + (seconds - time) ** 2, 0);
  if (count < 2 || spread === 0) return null;
  const together = trials.reduce((sum, { seconds, metres }) => sum + (seconds - time) * (metres - distance), 0);
  const metresPerSecond = together / spread;
  return { metresPerSecond, interceptMetres: distance - metresPerSecond * time };
}

/** A swimmer's threshold pace. */
export interface Threshold {
  /** Time per 100 of the course's unit, ms. */
  readonly per100Ms: number;
  /** The trials it comes from: other trials give other answers. */
  readonly from: string;
  /** The pace with what it comes from. */
  readonly basis: string;
  readonly estimate: string | null;
}

const THRESHOLD_TEST_MS = 1_800_000;
const THRESHOLD_TEST_DISTANCE = 3000;
/** Races that a critical speed is taken from, in the course's unit; shorter ones make it too fast. A convention of ours. */
const TRIALS = { from: 200, to: 1650 } as const;

/** Whether a critical speed can be taken from it, or it is a threshold test itself; in the course's unit. */
export const isTrial = (distance: number): boolean =>
  (distance >= TRIALS.from && distance <= TRIALS.to) || distance === THRESHOLD_TEST_DISTANCE;

/** The threshold of a stroke and activity: from a 30-minute or 3000 test, else by critical speed. */
export function thresholdOf(swimmer: Swimmer, what: Omit<Event, 'distance'>, pool: Pool): Threshold | NoPace {
  const test = longTest(swimmer, what, pool);
  if (test) {
    const per100Ms = (test.timeMs * 100) / test.event.distance;
    const from = `the mean of ${referenceText(test)}`;
    return { per100Ms, from, basis: `${perHundred(per100Ms)}, ${from}`, estimate: null };
  }
  return byCriticalSpeed(swimmer, what, pool);
}

const perHundred = (ms: number): string => `threshold ${formatSwimTime(ms, 2)} per 100`;

function longTest(swimmer: Swimmer, { stroke, activity }: Omit<Event, 'distance'>, { course }: Pool): Reference | null {
  const tests = swimmer.references.filter(
    ({ kind, event, timeMs, ...reference }) =>
      kind === 'test' &&
      reference.course === course &&
      event.stroke === stroke &&
      event.activity === activity &&
      (timeMs === THRESHOLD_TEST_MS || event.distance === THRESHOLD_TEST_DISTANCE),
  );
  return tests.sort((a, b) => compareReferences(a, b, 'test'))[0] ?? null;
}

/**
 * Two or more of the swimmer's own times of the stroke and course; where two of them are tests, only tests, and where two
 * of those are from a push, as a threshold set is swum, only these.
 */
function trialsOf(swimmer: Swimmer, what: Omit<Event, 'distance'>, { course }: Pool): Reference[] {
  const usable = (references: Reference[]): Reference[] =>
    references.filter(({ event: { distance } }) => distance >= TRIALS.from && distance <= TRIALS.to);
  const tested = { ...swimmer, references: swimmer.references.filter(({ kind }) => kind === 'test') };
  const pushed = usable(swumTimes(tested, what, course, 'push'));
  if (pushed.length >= 2) return pushed;
  const tests = usable(swumTimes(tested, what, course));
  return tests.length >= 2 ? tests : usable(swumTimes(swimmer, what, course));
}

function byCriticalSpeed(swimmer: Swimmer, what: Omit<Event, 'distance'>, pool: Pool): Threshold | NoPace {
  const trials = trialsOf(swimmer, what, pool);
  const name = strokeText(what);
  if (trials.length < 2) {
    return { missing: `no threshold test, nor two ${name} times of 200 or more (${pool.course})` };
  }
  const speed = criticalSpeed(
    trials.map(({ event: { distance }, timeMs }) => ({
      metres: inMetres(distance, pool.course),
      seconds: timeMs / 1000,
    })),
  );
  // With an intercept below nought the longer trial was the faster: no speed that could be held follows from that.
  if (!speed || speed.metresPerSecond <= 0 || speed.interceptMetres < 0) {
    return { missing: `no ${name} times that a critical speed fits` };
  }
  const per100Ms = (inMetres(100, pool.course) * 1000) / speed.metresPerSecond;
  const times = trials.map((trial) => `${eventText(trial.event)} ${formatSwimTime(trial.timeMs, 2)}`).join(', ');
  const from = `critical speed ${speed.metresPerSecond.toFixed(3)} m/s of ${times} (${pool.course})`;
  return {
    per100Ms,
    from,
    basis: `${perHundred(per100Ms)} ${unitOf(pool.course)}: ${from}`,
    estimate: `critical speed of ${trials.map(({ event: { distance } }) => distance).join(' and ')}`,
  };
}

/** A stretch at threshold pace, slower by so much per 100. */
export function thresholdPace(swimmer: Swimmer, plusMsPer100: number, stretch: Stretch, pool: Pool): PaceResult {
  if (stretch.stroke === null) return { missing: 'no fixed stroke to take a pace from' };
  const threshold = thresholdOf(swimmer, { stroke: stretch.stroke, activity: stretch.activity }, pool);
  if ('missing' in threshold) return threshold;
  const plus = plusMsPer100 === 0 ? '' : `, + ${plusMsPer100 / 1000} s per 100`;
  return {
    ms: ((threshold.per100Ms + plusMsPer100) * stretch.distance) / 100,
    basis: `${threshold.basis}${plus}`,
    estimate: threshold.estimate,
  };
}
