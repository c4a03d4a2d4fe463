import type { LaneNumber } from '../../../shared-types/brand.ts';

/** How much slower per 100 a lane may be than the first lane of its pace group: one step of send-offs, :05. */
const GROUP_STEP_MS = 5000;

/** A lane's mean time over the event; null where nobody in it has a time. */
export interface LaneMean {
  readonly lane: LaneNumber;
  readonly meanMs: number | null;
}

/**
 * Pace groups for lanes, A the fastest. A convention of ours, no source: from the fastest mean to the slowest, a lane
 * joins the current group while its mean per 100 is within 5 s of that of the group's first lane, else it begins the
 * next. Send-offs are multiples of :05, so a group that spans more would need two of them.
 * @param distance of the event the means are for, in the course's unit
 * @returns a letter for each lane that has a mean; a pool has at most 12 lanes, so there are letters enough
 */
export function suggestGroups(lanes: readonly LaneMean[], distance: number): ReadonlyMap<LaneNumber, string> {
  const means = lanes.flatMap(({ lane, meanMs }) =>
    meanMs === null ? [] : [{ lane, per100: (meanMs * 100) / distance }],
  );
  const groups = new Map<LaneNumber, string>();
  let letter = 'A';
  let first: number | null = null;
  for (const { lane, per100 } of means.sort((a, b) => a.per100 - b.per100 || a.lane - b.lane)) {
    first ??= per100;
    // To the whole millisecond: a mean is a fraction, and 5 s exactly is still within.
    if (Math.round(per100 - first) > GROUP_STEP_MS) {
      letter = String.fromCharCode(letter.charCodeAt(0) + 1);
      first = per100;
    }
    groups.set(lane, letter);
  }
  return groups;
}
