import type { Pool } from '../../../shared-types/pool.ts';
import { lengthOf } from '../../../shared-types/pool.ts';
import type { RacePace } from '../../../shared-types/practice.ts';
import type { Activity, Event, RaceStroke, Reference, Swimmer } from '../../../shared-types/squad.ts';
import { eventText } from '../../../shared-types/squad.ts';
import { formatSwimTime } from '../../../shared-types/time.ts';
import { referenceFor, referenceText } from './references.ts';

/** A time for a distance, exact (not rounded), and where it comes from. */
export interface Paced {
  readonly ms: number;
  readonly basis: string;
  readonly estimated: boolean;
}

/** Why there is no time, as the end of "… has": `no 200 fly time (SCM)`. */
export interface NoPace {
  readonly missing: string;
}

export type PaceResult = Paced | NoPace;

export const isPaced = (result: PaceResult): result is Paced => 'ms' in result;

/** What is swum: a distance in the course's unit, of one stroke. */
export interface Stretch {
  readonly distance: number;
  /** Null where no race stroke is fixed (choice). */
  readonly stroke: RaceStroke | null;
  readonly activity: Activity;
}

/**
 * The time for a stretch at race pace.
 * Even pace: T · d / D. Front and back half: H · d / (D/2) and (T − H) · d / (D/2) with the race's own half split H.
 * Percent of speed: t / p; of time: t · (2 − p). Sources: definitions of the terms; which percent is meant is a pool
 * setting, since no standard fixes it.
 */
export function racePace(swimmer: Swimmer, race: RacePace, percent: number, stretch: Stretch, pool: Pool): PaceResult {
  const stroke = strokeOfRace(swimmer, race, stretch);
  if (stroke === null)
    return { missing: race.stroke === 'own' ? 'no main event' : 'no fixed stroke to take a pace from' };
  const event: Event = { distance: race.distance, stroke, activity: stretch.activity };
  const reference = referenceFor(swimmer, event, pool.course);
  if (!reference) return { missing: `no ${eventText(event)} time (${pool.course})` };
  if (stroke === 'IM' && !wholeMedley(stretch.distance, pool)) {
    return { missing: 'no even pace in a medley that is not a whole one' };
  }
  const base = race.part ? partOfRace(reference, race, stretch.distance) : evenPace(reference, race, stretch.distance);
  if (pool.percent === 'time' && percent >= 200) return { missing: 'no time at 200 % of time' };
  return isPaced(base) ? atPercent(base, percent, pool) : base;
}

function strokeOfRace(swimmer: Swimmer, race: RacePace, stretch: Stretch): RaceStroke | null {
  if (race.stroke === 'own') return swimmer.main?.stroke ?? null;
  return race.stroke ?? stretch.stroke;
}

/** A medley has an even pace only as a whole: the same number of lengths of each of four strokes. */
const wholeMedley = (distance: number, pool: Pool): boolean => distance % (4 * lengthOf(pool.course)) === 0;

function evenPace(reference: Reference, race: RacePace, distance: number): Paced {
  const ms = (reference.timeMs * distance) / race.distance;
  const per50 = formatSwimTime((reference.timeMs * 50) / race.distance, 2);
  return { ms, basis: `${referenceText(reference)}, even pace ${per50} per 50`, estimated: false };
}

function partOfRace(reference: Reference, race: RacePace, distance: number): PaceResult {
  const half = race.distance / 2;
  if (race.part === 'middle') return { missing: `no quarter splits of the ${eventText(reference.event)}` };
  if (reference.halfMs === undefined) return { missing: `no half split of the ${eventText(reference.event)}` };
  if (race.part === 'front' && distance > half) {
    return { missing: `no front half of ${distance} in a ${race.distance}` };
  }
  const halfMs = race.part === 'front' ? reference.halfMs : reference.timeMs - reference.halfMs;
  const per50 = formatSwimTime((halfMs * 50) / half, 2);
  return {
    ms: (halfMs * distance) / half,
    basis: `${referenceText(reference)}, ${race.part} ${per50} per 50 from the own half split`,
    estimated: false,
  };
}

function atPercent(paced: Paced, percent: number, pool: Pool): Paced {
  if (percent === 100) return paced;
  const share = percent / 100;
  const ms = pool.percent === 'speed' ? paced.ms / share : paced.ms * (2 - share);
  const shown = String(Math.round(percent * 10) / 10);
  const how =
    pool.percent === 'speed'
      ? `at ${shown} % speed ÷ ${share.toFixed(3).replace(/0$/, '')}`
      : `at ${shown} % time × ${(2 - share).toFixed(3).replace(/0$/, '')}`;
  return { ...paced, ms, basis: `${paced.basis}, ${how}` };
}

/**
 * Easy swimming goes at the squad's easy share of 200-pace speed (65 % unless set; common practice, no source): the
 * time is the even 200 pace divided by the share. Choice counts as freestyle; kick, pull and drill need a 200 of
 * their own.
 */
export function easyPace(swimmer: Swimmer, stretch: Stretch, pool: Pool): PaceResult {
  const event: Event = { distance: 200, stroke: stretch.stroke ?? 'free', activity: stretch.activity };
  const reference = referenceFor(swimmer, event, pool.course);
  if (!reference) return { missing: `no ${eventText(event)} time (${pool.course})` };
  const ms = (reference.timeMs * stretch.distance) / event.distance / pool.easyShare;
  const share = Math.round(pool.easyShare * 100);
  return { ms, basis: `easy: ${share} % of the speed of ${referenceText(reference)}`, estimated: true };
}
