import type { Effort, SetItem, Style } from '../../../shared-types/practice.ts';
import { formatClock } from '../../../shared-types/time.ts';
import { isResisted } from '../pace/targets.ts';
import { effortsIn } from './effort-on.ts';

export interface StyleWithReason {
  readonly style: Style;
  /** Why, in words for the coach, who can say otherwise in the section's line. */
  readonly reason: string;
}

/** The reason of a style that the coach has written. */
export const SAID_BY_SECTION = 'the section says so';

/** From this cycle on a rep from a dive is stand-up work, ms. Common practice, no source. */
const STAND_UP_CYCLE_MS = 180_000;
/** A pace of less than this percent of a race's is not race pace any more. A convention of ours. */
const RACE_PACE_PERCENT = 90;

type Kind = Effort['kind'];

/** One rule of inference: the reason when it applies, else null. */
interface Rule {
  readonly style: Style;
  readonly reason: (set: SetItem, efforts: readonly Effort[]) => string | null;
}

const has = (efforts: readonly Effort[], ...kinds: readonly Kind[]): boolean =>
  efforts.some(({ kind }) => kinds.includes(kind));

/** The most that is asked of a race's pace, in percent; null where no race is named. */
function mostPercent(efforts: readonly Effort[]): number | null {
  const percents = efforts.flatMap((effort) => {
    if (effort.kind === 'pace') return [effort.percent];
    return effort.kind === 'ramp' ? [effort.fromPercent, effort.toPercent] : [];
  });
  return percents.length === 0 ? null : Math.max(...percents);
}

/** How long from one rep to the next, in words, when it is long enough for stand-up work. */
function longRest({ release }: SetItem): string | null {
  if (release === undefined || release.kind === 'go') return 'released by the coach';
  const restMs = release.kind === 'rest' ? release.restMs : Math.min(...release.intervalMs);
  if (restMs < STAND_UP_CYCLE_MS) return null;
  return release.kind === 'rest' ? `with ${formatClock(restMs)} rest` : `every ${formatClock(restMs)}`;
}

const isPaced = (efforts: readonly Effort[]): boolean => has(efforts, 'pace', 'ramp', 'hold');

/** In this order: the first that applies says the style. Common practice, no source, but for the percent. */
const RULES: readonly Rule[] = [
  { style: 'power', reason: ({ equipment }) => (isResisted(equipment) ? 'swum against resistance' : null) },
  {
    style: 'stand-up',
    reason: (set) => {
      const rest = set.start === 'dive' ? longRest(set) : null;
      return rest && `from a dive, ${rest}`;
    },
  },
  {
    style: 'active rest',
    reason: ({ parts }, efforts) =>
      parts.length > 1 && isPaced(efforts) && has(efforts, 'easy') ? 'a paced and an easy part in each rep' : null,
  },
  {
    style: 'best average',
    reason: (_, efforts) => (has(efforts, 'best average') ? 'asks for the best average' : null),
  },
  { style: 'threshold', reason: (_, efforts) => (has(efforts, 'threshold') ? 'at threshold pace' : null) },
  { style: 'power', reason: (_, efforts) => (has(efforts, 'max') ? 'all-out, free of resistance' : null) },
  {
    style: 'aerobic',
    reason: (_, efforts) => {
      const percent = mostPercent(efforts);
      const slow = percent !== null && percent < RACE_PACE_PERCENT && !has(efforts, 'hold');
      return slow ? `at ${Math.round(percent)} % of a race pace at most, below ${RACE_PACE_PERCENT} %` : null;
    },
  },
  {
    style: 'race pace',
    reason: (_, efforts) => {
      if (!isPaced(efforts)) return null;
      return has(efforts, 'pace', 'ramp') ? 'at a race pace' : 'a time to hold';
    },
  },
  { style: 'skills', reason: ({ activity }) => (activity === 'drill' ? 'drill' : null) },
];

/** What a set is for: what its section says, or else what the set itself looks like. */
export function styleOf(set: SetItem, sectionStyle: Style | undefined): StyleWithReason {
  if (sectionStyle) return { style: sectionStyle, reason: SAID_BY_SECTION };
  const efforts = effortsIn(set);
  for (const { style, reason } of RULES) {
    const why = reason(set, efforts);
    if (why) return { style, reason: why };
  }
  return { style: 'aerobic', reason: 'nothing in it asks for more' };
}
