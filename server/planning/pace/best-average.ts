import type { SetMean, Swimmer } from '../../../shared-types/squad.ts';
import { dateText, formatSwimTime } from '../../../shared-types/time.ts';
import type { SetSignature } from '../set-signature.ts';
import type { PaceResult } from './paced.ts';

/** The latest of these; without dates the one given last. */
const latest = (means: readonly SetMean[]): SetMean | undefined =>
  means.reduce<SetMean | undefined>(
    (best, mean) => (best && (best.date ?? '') > (mean.date ?? '') ? best : mean),
    undefined,
  );

/**
 * The rep of a best-average set: the swimmer's mean of the last time the same set was swum, with the same send-off if
 * there is one, else with another (and then it says so).
 */
export function bestAverage(swimmer: Swimmer, { set, sendOff }: SetSignature): PaceResult {
  const sameSet = (swimmer.means ?? []).filter((mean) => mean.set === set);
  const strict = latest(sameSet.filter((mean) => mean.sendOff === sendOff));
  const mean = strict ?? latest(sameSet);
  if (!mean) return { missing: 'no earlier swim of this set' };
  const when = mean.date === undefined ? '' : ` on ${dateText(mean.date)}`;
  const byHand = mean.handTimed ? ', by hand' : '';
  const other = strict ? '' : `, with another send-off (${mean.sendOff})`;
  const basis = `mean of ${set}${when}: ${formatSwimTime(mean.meanMs, 2)}${byHand}${other}`;
  return { ms: mean.meanMs, basis, estimate: strict ? null : 'another send-off' };
}
