import { MEDLEY_ORDER, type RaceStroke } from '../../../shared-types/squad.ts';
import type { EventTime } from './event-time.ts';
import { profileFor } from './split-profiles.ts';

/** A stretch of a whole race, and whose splits say so. */
export interface RaceSplit {
  readonly ms: number;
  /** `the own half split`, `the splits of the men's 200 m freestyle, long course, 28 July 2009` */
  readonly from: string;
  /** Null for the swimmer's own splits. */
  readonly estimate: string | null;
}

const OWN = { from: 'the own splits', estimate: null } as const;

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

/** The part of the race that the first `share` of its equal splits is; null when the splits do not end there. */
function firstShare(splits: readonly number[], share: number): number | null {
  const count = splits.length * share;
  return Number.isInteger(count) ? sum(splits.slice(0, count)) / sum(splits) : null;
}

/** How much of the whole time is swum between two shares of the distance, by a published race. */
function byProfile(race: EventTime, from: number, to: number): RaceSplit | null {
  const profile =
    race.event.activity === 'swim' ? profileFor(race.event.stroke, race.event.distance, race.course) : null;
  if (!profile) return null;
  const [before, after] = [firstShare(profile.splits, from), firstShare(profile.splits, to)];
  if (before === null || after === null) return null;
  return {
    ms: race.timeMs * (after - before),
    from: `the splits of the ${profile.source}`,
    estimate: 'published splits',
  };
}

/** The same by the swimmer's own splits. */
function byOwn({ splitsMs, timeMs }: EventTime, from: number, to: number): RaceSplit | null {
  if (!splitsMs) return null;
  const [before, after] = [firstShare(splitsMs, from), firstShare(splitsMs, to)];
  return before === null || after === null ? null : { ms: timeMs * (after - before), ...OWN };
}

/** The time of the race's first half, ms. */
export function firstHalf(race: EventTime): RaceSplit | null {
  if (race.halfMs !== undefined) return { ms: race.halfMs, from: 'the own half split', estimate: null };
  return byOwn(race, 0, 0.5) ?? byProfile(race, 0, 0.5);
}

/** The time of the two middle quarters together, ms. */
export const middleHalf = (race: EventTime): RaceSplit | null => byOwn(race, 0.25, 0.75) ?? byProfile(race, 0.25, 0.75);

/** The time of the first 50, which has the dive in it, ms; null for a race of 50. */
export function firstFifty(race: EventTime): RaceSplit | null {
  const { distance } = race.event;
  if (distance <= 50) return null;
  if (distance === 100) return firstHalf(race);
  return byOwn(race, 0, 50 / distance) ?? byProfile(race, 0, 50 / distance);
}

/** The time of one stroke of a medley, ms: only by the swimmer's own splits. */
export function medleyLeg({ splitsMs }: EventTime, stroke: RaceStroke): RaceSplit | null {
  const leg = MEDLEY_ORDER.indexOf(stroke);
  if (leg < 0 || !splitsMs || splitsMs.length % MEDLEY_ORDER.length !== 0) return null;
  const perLeg = splitsMs.length / MEDLEY_ORDER.length;
  return { ms: sum(splitsMs.slice(leg * perLeg, (leg + 1) * perLeg)), ...OWN };
}
