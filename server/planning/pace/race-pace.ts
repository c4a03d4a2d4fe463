import { lengthOf, type Pool } from '../../../shared-types/pool.ts';
import type { RacePace } from '../../../shared-types/practice.ts';
import { type Event, eventText, type RaceStroke, type Swimmer } from '../../../shared-types/squad.ts';
import { formatSwimTime } from '../../../shared-types/time.ts';
import { type EventTime, eventTime, isEventTime } from './event-time.ts';
import { isPaced, type Paced, type PaceResult, type Stretch } from './paced.ts';
import { firstFifty, firstHalf, medleyLeg, middleHalf, type RaceSplit } from './race-splits.ts';

/**
 * The time for a stretch at race pace.
 * Even pace: T · d / D; without the dive, for reps from a push: (T − T_first 50) · d / (D − 50).
 * Front and back half: H · d / (D/2) and (T − H) · d / (D/2) with the race's first half H; middle: the two middle
 * quarters · d / (D/2). A medley: T · d / D for whole medleys, or one stroke of it: leg · d / (D/4).
 * Percent of speed: t / p; of time: t · (2 − p). Sources: definitions of the terms; which percent and which pace are
 * meant are settings of the pool, since no standard fixes them.
 */
export function racePace(swimmer: Swimmer, race: RacePace, percent: number, stretch: Stretch, pool: Pool): PaceResult {
  const stroke = strokeOfRace(swimmer, race, stretch);
  if (stroke === null) {
    return { missing: race.stroke === 'own' ? 'no main event' : 'no fixed stroke to take a pace from' };
  }
  const event: Event = { distance: race.distance, stroke, activity: stretch.activity };
  const time = eventTime(swimmer, event, pool);
  if (!isEventTime(time)) return time;
  if (pool.percent === 'time' && percent >= 200) return { missing: 'no time at 200 % of time' };
  const whole = paceOf(time, race, stretch, pool);
  return isPaced(whole) ? atPercent(whole, percent, pool) : whole;
}

function strokeOfRace(swimmer: Swimmer, race: RacePace, stretch: Stretch): RaceStroke | null {
  if (race.stroke === 'own') return swimmer.main?.stroke ?? null;
  return race.stroke ?? stretch.stroke;
}

function paceOf(time: EventTime, race: RacePace, stretch: Stretch, pool: Pool): PaceResult {
  if (time.event.stroke === 'IM') return medleyPace(time, race, stretch, pool);
  if (race.part) return partOfRace(time, race.part, stretch.distance);
  return pool.pace === 'without-dive' && stretch.start === 'push'
    ? withoutDive(time, stretch.distance)
    : evenPace(time, stretch.distance);
}

const per50 = (ms: number, distance: number): string => `${formatSwimTime((ms * 50) / distance, 2)} per 50`;

/** One estimate of several, in words; null when there is none. */
const estimates = (...all: readonly (string | null)[]): string | null =>
  all.filter((one) => one !== null).join(', ') || null;

function evenPace({ timeMs, event, basis, estimate }: EventTime, distance: number): Paced {
  const ms = (timeMs * distance) / event.distance;
  return { ms, basis: `${basis}, even pace ${per50(timeMs, event.distance)}`, estimate };
}

/** A share of a race at the pace of one stretch of it. */
function atPaceOf(time: EventTime, split: RaceSplit, length: number, distance: number, what: string): Paced {
  return {
    ms: (split.ms * distance) / length,
    basis: `${time.basis}, ${what} ${per50(split.ms, length)} from ${split.from}`,
    estimate: estimates(time.estimate, split.estimate),
  };
}

function withoutDive(time: EventTime, distance: number): Paced {
  const first = firstFifty(time);
  if (!first) {
    const even = evenPace(time, distance);
    const basis = `${even.basis} (no first 50 known for a pace without the dive)`;
    return { ...even, basis, estimate: estimates(even.estimate, 'even pace with the dive in it') };
  }
  const rest = { ...first, ms: time.timeMs - first.ms };
  return atPaceOf(time, rest, time.event.distance - 50, distance, 'pace without the dive');
}

function partOfRace(time: EventTime, part: NonNullable<RacePace['part']>, distance: number): PaceResult {
  const half = time.event.distance / 2;
  const event = eventText(time.event);
  if (part === 'middle') {
    const middle = middleHalf(time);
    return middle
      ? atPaceOf(time, middle, half, distance, part)
      : { missing: `no quarter splits of the ${event}, nor a published race to take them from` };
  }
  const first = firstHalf(time);
  if (!first) return { missing: `no half split of the ${event}, nor a published race to take it from` };
  if (part === 'front' && distance > half) return { missing: `no front half of ${distance} in a ${event}` };
  const split = part === 'front' ? first : { ...first, ms: time.timeMs - first.ms };
  return atPaceOf(time, split, half, distance, part);
}

/** No even pace exists in a medley: whole medleys go by its whole time, single strokes by the swimmer's own splits. */
function medleyPace(time: EventTime, race: RacePace, { stroke, distance }: Stretch, pool: Pool): PaceResult {
  if (race.part) return { missing: `no ${race.part} pace in a medley` };
  if (stroke === 'IM') {
    const whole = distance % (4 * lengthOf(pool.course)) === 0;
    return whole ? evenPace(time, distance) : { missing: 'no even pace in a medley that is not a whole one' };
  }
  if (stroke === null) return { missing: 'no fixed stroke to take a pace from' };
  const leg = medleyLeg(time, stroke);
  if (!leg) return { missing: `no stroke splits of the ${eventText(time.event)}` };
  return atPaceOf(time, leg, time.event.distance / 4, distance, `${stroke} of the medley`);
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
