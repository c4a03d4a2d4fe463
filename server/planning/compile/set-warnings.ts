import type { SwimmerId } from '../../../shared-types/brand.ts';
import { type Message, mention } from '../../../shared-types/message.ts';
import { formatClock, formatSwimTime } from '../../../shared-types/time.ts';
import type { RosterLane } from '../roster.ts';
import { resultsOn, type SetPlan } from './rep-plan.ts';

/** On active rest more than this on the wall is unusual, ms. Common practice, no source. */
const WALL_REST_MS = 15_000;
/** Swimmers of one lane leave the blocks at least this far apart, ms. Common practice, no source. */
const DIVE_GAP_MS = 15_000;

type Said = Omit<Message, 'line' | 'column'>;

const say = ({ gathering, set }: SetPlan, said: Said): void =>
  gathering.say({ ...said, line: set.line, column: set.column });

const listed = (words: readonly string[]): string =>
  words.length <= 1 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

const laneWords = (lanes: readonly RosterLane[]): string =>
  `lane${lanes.length === 1 ? '' : 's'} ${listed(lanes.map(({ lane }) => String(lane)))}`;

/** Who lacks what for a target, once a line. */
export function sayMissing(plan: SetPlan): void {
  const lacking = new Map<string, Set<SwimmerId>>();
  for (const { target, missing } of [...plan.known.values()].flat()) {
    for (const what of missing) lacking.set(what, (lacking.get(what) ?? new Set()).add(target.swimmer));
  }
  for (const [what, swimmers] of lacking) {
    const verb = swimmers.size === 1 ? 'has' : 'have';
    const text = `${listed([...swimmers].map(mention))} ${verb} ${what}: no target`;
    say(plan, { severity: 'warning', code: 'no-reference', text });
  }
}

export function sayNeedsTarget(plan: SetPlan, lanes: readonly RosterLane[]): void {
  for (const lane of lanes) {
    const text = `the rest has no target to follow in lane ${lane.lane}; it waits for go there`;
    say(plan, { severity: 'warning', code: 'needs-target', lane: lane.lane, text });
  }
}

/** Whether what a lane is asked to swim fits its cycle (null: the coach releases each rep). */
export function sayTiming(plan: SetPlan, lane: RosterLane, cycleMs: number | null): void {
  const apartMs = plan.set.apartMs ?? lane.apartMs;
  const byHeat = plan.set.release?.kind === 'go' && plan.set.release.byHeat;
  if (plan.set.start === 'dive' && lane.swimmers.length > 1 && !byHeat && apartMs < DIVE_GAP_MS) {
    const text = `swimmers of lane ${lane.lane} leave the blocks ${formatClock(apartMs)} apart; :15 or more is usual`;
    say(plan, {
      severity: 'warning',
      code: 'dive-gap',
      lane: lane.lane,
      text,
      fix: 'write :15 apart, or on go by heat',
    });
  }
  if (cycleMs === null) return;
  if (lane.swimmers.length * apartMs > cycleMs) {
    const needed = formatClock(lane.swimmers.length * apartMs);
    const text = `${lane.swimmers.length} swimmers ${formatClock(apartMs)} apart need ${needed}, the send-off is ${formatClock(cycleMs)}`;
    say(plan, { severity: 'warning', code: 'send-overflow', lane: lane.lane, text });
  }
  sayTimedTooLong(plan, lane, cycleMs);
  sayRests(plan, lane);
}

function sayTimedTooLong(plan: SetPlan, lane: RosterLane, cycleMs: number): void {
  const { size } = plan.set;
  if (size.kind !== 'timed' || size.timeMs < cycleMs) return;
  const text = `reps of ${formatClock(size.timeMs)} do not fit the ${formatClock(cycleMs)} send-off`;
  say(plan, { severity: 'warning', code: 'cannot-make-it', lane: lane.lane, text });
}

/** Reps that cannot be made, and active rest that leaves long on the wall: the worst of the lane, once. */
function sayRests(plan: SetPlan, lane: RosterLane): void {
  const ownLane = new Set<SwimmerId>(lane.swimmers.map(({ id }) => id));
  const targets = [...plan.known.values()]
    .flat()
    .flatMap(({ target }) => (ownLane.has(target.swimmer) ? [target] : []));
  const timed = targets.flatMap(({ ms, restMs }) => (ms === null || restMs === null ? [] : [{ ms, restMs }]));
  const shortest = timed.reduce<(typeof timed)[number] | null>((a, b) => (!a || b.restMs < a.restMs ? b : a), null);
  if (shortest && shortest.restMs <= 0) {
    const cycle = formatClock(shortest.ms + shortest.restMs);
    const text = `a target of ${formatSwimTime(shortest.ms, 1)} does not fit the ${cycle} send-off`;
    say(plan, { severity: 'warning', code: 'cannot-make-it', lane: lane.lane, text });
  }
  const longestMs = Math.max(0, ...timed.map(({ restMs }) => restMs));
  const style = plan.gathering.sets[plan.index]?.style;
  if (style === 'active rest' && longestMs > WALL_REST_MS) {
    const text = `active rest leaves ${Math.ceil(longestMs / 1000)} s on the wall; 15 s or less is usual`;
    say(plan, { severity: 'warning', code: 'wall-rest', lane: lane.lane, text });
  }
}

/** A rep that the coach ends counts 0 for whoever's time nobody knows. */
export function sayUnknownTime(plan: SetPlan, lanes: readonly RosterLane[], reps: number): void {
  const unknown = lanes.filter((lane) =>
    Array.from({ length: reps }, (_, place) => resultsOn(plan, lane, place + 1, reps, null)).some((results) =>
      results.some(({ expectedMs }) => expectedMs === null),
    ),
  );
  if (unknown.length === 0) return;
  const text = `how long this takes is not known for ${laneWords(unknown)}; the coach says when it is over`;
  say(plan, { severity: 'info', code: 'time-unknown', text });
}
