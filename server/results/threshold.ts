import { type Figure, isKnown, none, type RepTime, type ThresholdResult } from '../../shared-types/results.ts';
import { isSome, meanOf } from './timed-rep.ts';

/** Time per 100 of the course's unit, milliseconds. */
const per100 = (ms: number, distance: number): number => (ms * 100) / distance;

type Swum = Pick<RepTime, 'distance' | 'ms' | 'target'>;

/**
 * The set's mean pace held against the swimmer's threshold pace; where that is not known, against the targets of the
 * same reps.
 * @param thresholdPer100Ms null when not known
 * @param driftSecondsPerRep the slope of the set
 */
export function thresholdResultOf(
  reps: readonly Swum[],
  thresholdPer100Ms: number | null,
  driftSecondsPerRep: Figure,
): ThresholdResult {
  const paces = reps.flatMap(({ distance, ms, target }) =>
    distance === undefined || ms === null
      ? []
      : [{ swum: per100(ms, distance), asked: target.ms === null ? null : per100(target.ms, distance) }],
  );
  const meanPer100Ms = meanOrNone(paces.map(({ swum }) => swum));
  if (thresholdPer100Ms !== null) {
    const over = isKnown(meanPer100Ms) ? meanPer100Ms - thresholdPer100Ms : meanPer100Ms;
    return { meanPer100Ms, overPer100Ms: over, against: 'threshold', driftSecondsPerRep };
  }
  const overs = paces.flatMap(({ swum, asked }) => (asked === null ? [] : [swum - asked]));
  if (!isSome(overs)) return { meanPer100Ms, overPer100Ms: none('no target'), against: 'nothing', driftSecondsPerRep };
  return { meanPer100Ms, overPer100Ms: meanOf(overs), against: 'targets', driftSecondsPerRep };
}

const meanOrNone = (values: readonly number[]): Figure => (isSome(values) ? meanOf(values) : none('no times'));
