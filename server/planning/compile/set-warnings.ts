import type { SwimmerId } from '../../../shared-types/brand.ts';
import { type Message, mention } from '../../../shared-types/message.ts';
import { formatClock, formatSwimTime } from '../../../shared-types/time.ts';
import { suggestSendOffs } from '../lanes/suggest-send-offs.ts';
import type { RosterLane } from '../roster.ts';
import { entryFor } from './per-group.ts';
import { resultsOn, type SetPlan } from './rep-plan.ts';

/** On active rest more than this on the wall is unusual, ms. Common practice, no source. */
const WALL_REST_MS = 15_000;
/** The least rest a suggested send-off leaves, ms. A convention of ours, no source. */
const LEAST_REST_MS = 5000;

/** The reps that one lane swims of a set. */
export interface LaneReps {
  readonly lane: RosterLane;
  readonly reps: number;
  /** The cycle of a rep (from 1) as the plan has it in one of its rounds, ms; null: the coach releases it. */
  readonly cycleOn: (plan: SetPlan, rep: number) => number | null;
}

/** Rounds ask the same again, or what they ask has been looked through in the first. */
export const isFirstRound = ({ spot }: SetPlan): boolean => spot.rounds.outer <= 1 && spot.rounds.round <= 1;

type Said = Omit<Message, 'line' | 'column'>;

export const say = ({ gathering, set }: SetPlan, said: Said): void =>
  gathering.say({ ...said, line: set.line, column: set.column });

/** `a, b and c` */
export const listed = (words: readonly string[]): string =>
  words.length <= 1 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;

export const laneWords = (lanes: readonly RosterLane[]): string =>
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

/** Whether what the lanes are asked to swim fits their cycles; once a set, however many rounds it is swum in. */
export function sayTiming(plan: SetPlan, swum: readonly LaneReps[]): void {
  if (!isFirstRound(plan)) return;
  const fix = sendOffFix(plan);
  for (const reps of swum) {
    sayTimedTooLong(plan, reps, fix);
    sayRests(plan, reps.lane, fix);
  }
}

type Fix = Pick<Message, 'fix' | 'cure'>;

function sayTimedTooLong(plan: SetPlan, { lane, reps, cycleOn }: LaneReps, fix: Fix): void {
  const { size } = plan.set;
  if (size.kind !== 'timed') return;
  const last = cycleOn(plan, reps);
  const cycleMs = last === null ? null : Math.min(last, cycleOn(plan, 1) ?? last);
  if (cycleMs === null || size.timeMs < cycleMs) return;
  const text = `reps of ${formatClock(size.timeMs)} do not fit the ${formatClock(cycleMs)} send-off`;
  say(plan, { severity: 'warning', code: 'cannot-make-it', lane: lane.lane, text, ...fix });
}

/** Send-offs that everybody makes with some rest, as they were where everybody does. Nothing for those that drop. */
function sendOffFix(plan: SetPlan): Fix {
  const { set, present } = plan;
  if (set.release?.kind !== 'interval' || set.release.droppingMs !== undefined) return {};
  const { intervalMs } = set.release;
  const slowest = slowestByGroup(plan);
  const suggested = suggestSendOffs(slowest, LEAST_REST_MS);
  const sendOffs = present.map((group) => {
    const written = entryFor(intervalMs, group, present);
    return (slowest.get(group) ?? 0) < written ? written : (suggested.get(group) ?? written);
  });
  const same = sendOffs.every((sendOff) => sendOff === sendOffs[0]);
  const written = (same ? sendOffs.slice(0, 1) : sendOffs).map(formatClock).join('/');
  return { fix: `write @ ${written}`, cure: { kind: 'send-offs', sendOffs: written } };
}

/** The longest that anybody of each pace group takes for a rep, ms; of groups without any target nothing. */
function slowestByGroup({ set, spot, known }: SetPlan): Map<string, number> {
  const groupOf = new Map(spot.lanes.flatMap(({ group, swimmers }) => swimmers.map(({ id }) => [id, group] as const)));
  const slowest = new Map<string, number>();
  if (set.size.kind === 'timed') for (const { group } of spot.lanes) slowest.set(group, set.size.timeMs);
  for (const { target } of [...known.values()].flat()) {
    const group = groupOf.get(target.swimmer);
    if (group !== undefined && target.ms !== null) slowest.set(group, Math.max(target.ms, slowest.get(group) ?? 0));
  }
  return slowest;
}

/** Reps that cannot be made, and active rest that leaves long on the wall: the worst of the lane, once. */
function sayRests(plan: SetPlan, lane: RosterLane, fix: Fix): void {
  const ownLane = new Set<SwimmerId>(lane.swimmers.map(({ id }) => id));
  const targets = [...plan.known.values()]
    .filter(([leader]) => leader && ownLane.has(leader.target.swimmer))
    .flatMap((results) => results.map(({ target }) => target));
  const timed = targets.flatMap(({ ms, restMs }) => (ms === null || restMs === null ? [] : [{ ms, restMs }]));
  const shortest = timed.reduce<(typeof timed)[number] | null>((a, b) => (!a || b.restMs < a.restMs ? b : a), null);
  if (shortest && shortest.restMs <= 0) {
    const cycle = formatClock(shortest.ms + shortest.restMs);
    const text = `a target of ${formatSwimTime(shortest.ms, 1)} does not fit the ${cycle} send-off`;
    say(plan, { severity: 'warning', code: 'cannot-make-it', lane: lane.lane, text, ...fix });
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
