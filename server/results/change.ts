import {
  type ChangeResult,
  type EarlierMean,
  type Figure,
  isKnown,
  type None,
  none,
  type Signature,
  type SwimmerResults,
} from '../../shared-types/results.ts';
import { begunAt } from './begun-at.ts';

type Swum = Pick<SwimmerResults, 'signature' | 'spread' | 'reps'>;

/**
 * What a swimmer's set is held against the next time.
 * @returns null when it was not swum to its end or nothing of it was timed
 */
export function meanToKeep({ signature, spread, reps }: Swum): EarlierMean | null {
  const at = begunAt(reps);
  if (at === null || reps.some(({ leftAt }) => leftAt === null) || !isKnown(spread.meanMs)) return null;
  return { signature, meanMs: spread.meanMs, at };
}

/**
 * The newest of these that is the same set: strictly the same before loosely the same.
 * @param earlier of one swimmer, in any order, all from before this set
 */
export function lastOfSet(signature: Signature, earlier: readonly EarlierMean[]): EarlierMean | null {
  return (
    newest(earlier.filter((one) => one.signature.strict === signature.strict)) ??
    newest(earlier.filter((one) => one.signature.loose === signature.loose))
  );
}

const newest = (means: readonly EarlierMean[]): EarlierMean | null =>
  means.reduce<EarlierMean | null>((last, mean) => (last && last.at >= mean.at ? last : mean), null);

/**
 * The mean now less the mean of the same set the last time, milliseconds; below 0: faster.
 * @param last null when the swimmer has not swum it before
 */
export function changeSince(signature: Signature, meanMs: Figure, last: EarlierMean | null): ChangeResult | None {
  if (!last) return none('not swum before');
  // A push and a dive have other signatures, so their times never meet here.
  if (last.signature.loose !== signature.loose) return none('another set');
  return {
    meanMs: isKnown(meanMs) ? meanMs - last.meanMs : meanMs,
    likeness: last.signature.strict === signature.strict ? 'strict' : 'loose',
    at: last.at,
  };
}
