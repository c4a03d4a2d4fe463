import { type Instant, instant, type LaneNumber } from '../brand.ts';
import type { Run } from '../events.ts';
import { type LaneMotion, type LaneRun, laneRunOf, placeIn, sendOffOf } from '../motion.ts';
import { sendOffsWithin } from '../send-offs-within.ts';
import { departuresOf, type Sheet } from '../sheet.ts';

/** A tone of the pool: short ones lead up to a send-off, the long one is the send-off. */
export interface Tone {
  readonly at: Instant;
  readonly kind: 'short' | 'long';
}

/** How long before a send-off its short tones come, ms, the first one first; a convention of ours. */
const SHORT_BEFORE_MS = [3000, 2000, 1000] as const;

/**
 * The tones that come after `from` and not after `to`, as the lanes move now: three short and one long for each send-off
 * that all lanes share, in order of time. Nobody who is not meant shall hear a start: there are none for a send-off while
 * a lane that does not leave on it is under way or has yet to leave.
 */
export function tonesBetween(sheet: Sheet, run: Pick<Run, 'state' | 'motions'>, from: Instant, to: Instant): Tone[] {
  if (run.state !== 'running') return [];
  return sharedSendOffs(sheet, run.motions, from, instant(to + SHORT_BEFORE_MS[0]))
    .flatMap(tonesOf)
    .filter(({ at }) => at > from && at <= to)
    .sort((a, b) => a.at - b.at);
}

const tonesOf = (sendOff: Instant): Tone[] => [
  ...SHORT_BEFORE_MS.map((beforeMs): Tone => ({ at: instant(sendOff - beforeMs), kind: 'short' })),
  { at: sendOff, kind: 'long' },
];

function sharedSendOffs(sheet: Sheet, motions: readonly LaneMotion[], from: Instant, to: Instant): Instant[] {
  const leaving = new Map<Instant, Set<LaneNumber>>();
  for (const { lane, place, at } of sendOffsWithin(sheet, motions, from, to)) {
    // The others of a lane leave by their gap; a lane's send-off is its first swimmer's.
    if (place === 0) leaving.set(at, (leaving.get(at) ?? new Set()).add(lane));
  }
  const isShared = ([at, lanes]: [Instant, Set<LaneNumber>]): boolean =>
    sheet.lanes.every((lane) => lanes.has(lane.lane) || !isLeftOut(laneRunOf(sheet, motions, lane.lane), at));
  return [...leaving].filter(isShared).map(([at]) => at);
}

/**
 * Whether a lane that nobody leaves from at `at` swims all the same: somebody is under way or still to leave, were it on
 * the coach's go. Not when it only has nobody in the heat that leaves then.
 */
function isLeftOut(run: LaneRun | undefined, at: Instant): boolean {
  if (!run) return false;
  const { lane } = run;
  const { state, begun, ahead } = placeIn(run, at);
  if (state === 'done' || sendOffOf(run, begun) === at) return false;
  const from = begun >= 0 ? begun : ahead;
  return lane.steps.some((step, index) => index >= from && step.kind === 'rep' && departuresOf(lane, step).length > 0);
}
