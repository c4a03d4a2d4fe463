import type { Effort, SetItem, Style } from '../../../shared-types/practice.ts';
import { isResisted } from '../pace/targets.ts';
import { effortsIn } from './effort-on.ts';

export interface StyleWithReason {
  readonly style: Style;
  readonly reason: string;
}

/** From this cycle on a rep from a dive is stand-up work, ms. Common practice, no source. */
const STAND_UP_CYCLE_MS = 180_000;

/** What a set is for: what its section says, or else what the set itself looks like. */
export function styleOf(set: SetItem, sectionStyle: Style | undefined): StyleWithReason {
  if (sectionStyle) return { style: sectionStyle, reason: 'the section says so' };
  return inferred(set);
}

function inferred(set: SetItem): StyleWithReason {
  const efforts = effortsIn(set);
  const has = (...kinds: Effort['kind'][]): boolean => efforts.some(({ kind }) => kinds.some((one) => one === kind));
  const paced = has('pace', 'ramp', 'hold');
  if (isResisted(set.equipment)) return { style: 'power', reason: 'swum against resistance' };
  if (set.start === 'dive' && longRest(set)) {
    return { style: 'stand-up', reason: 'from a dive with 3:00 or more to the next' };
  }
  if (set.parts.length > 1 && paced && has('easy')) {
    return { style: 'active rest', reason: 'a paced and an easy part in each rep' };
  }
  if (has('best average')) return { style: 'best average', reason: 'asks for the best average' };
  if (has('threshold')) return { style: 'threshold', reason: 'at threshold pace' };
  if (paced) return { style: 'race pace', reason: 'at a race pace' };
  if (has('max')) return { style: 'power', reason: 'all-out, free of resistance' };
  if (set.activity === 'drill') return { style: 'skills', reason: 'drill' };
  return { style: 'aerobic', reason: 'nothing in it asks for more' };
}

function longRest(set: SetItem): boolean {
  const { release } = set;
  if (release === undefined || release.kind === 'go') return true;
  if (release.kind === 'rest') return release.restMs >= STAND_UP_CYCLE_MS;
  return Math.min(...release.intervalMs) >= STAND_UP_CYCLE_MS;
}
