import { type Instant, instant } from '../../shared-types/brand.ts';
import type { Answer, Command } from '../../shared-types/commands.ts';
import type { Departure } from '../../shared-types/departures.ts';
import type { Run } from '../../shared-types/events.ts';
import { departureFrom, type LaneMotion, nextGateOf, tracesOf } from '../../shared-types/motion.ts';
import type { Style } from '../../shared-types/practice.ts';
import { laneOf, type RepStep, type Sheet } from '../../shared-types/sheet.ts';
import type { Without } from '../../shared-types/without.ts';
import type { SwimUnderWay } from './water.ts';

/** A command without what every command carries. */
export type Press = Without<Command, 'id' | 'device' | 'run' | 'basedOnSeq' | 'pressedAt'>;

export interface PlannedPress {
  readonly press: Press;
  readonly at: Instant;
}

/** What can be seen of a practice under way. */
export interface PracticeView {
  readonly sheet: Sheet;
  readonly run: Run;
  readonly now: Instant;
  /** Everybody who is in the water, or came in during the last minutes. */
  readonly swims: Iterable<SwimUnderWay>;
  /** Who is still to leave, as the lanes move now and up to the next gates. */
  readonly upcoming: readonly Departure[];
}

/** Somebody who presses buttons. */
export interface Presser {
  /**
   * The press this one would make next, as things are: asked again whenever something has happened. One that is due
   * is pressed, a later one waits.
   * @returns null when there is nothing to press before something else has happened
   */
  next(view: PracticeView): PlannedPress | null;
  /** Told what became of its press. */
  pressed?(answer: Answer): void;
}

/**
 * What a coach gives before the next go, by what the set in hand is for, ms. A convention of ours: nearly full recovery
 * where every rep is all out, else long enough to look round and speak.
 */
const REST_MS: Readonly<Record<Style, number>> = {
  'stand-up': 180_000,
  power: 60_000,
  'race pace': 30_000,
  'best average': 30_000,
  'active rest': 20_000,
  threshold: 15_000,
  aerobic: 15_000,
  skills: 15_000,
};
/** Before the next heat of the same rep, whose swimmers have rested meanwhile. */
const HEAT_REST_MS = 10_000;
/** Before the start; before a hold that nobody ends is ended; after the last touch, before the finish. */
const READY_MS = 1000;
const HOLD_MS = 20_000;
const LAST_LOOK_MS = 5000;

/**
 * The coach's own presses: start; go, when everybody who left at the gate's lanes has come in and the set's rest has
 * passed; finish, when all lanes are done and everybody is in.
 */
export const COACH: Presser = {
  next(view) {
    const { run } = view;
    switch (run.state) {
      case 'ready':
        return { press: { kind: 'start', when: 'grid' }, at: instant(lastChangeOf(run) + READY_MS) };
      case 'held':
        return { press: { kind: 'resume', when: 'grid' }, at: instant(lastChangeOf(run) + HOLD_MS) };
      case 'finished':
        return null;
      case 'running':
        return goOf(view) ?? finishOf(view);
    }
  },
};

/** When something was last done to the run; before that, when it was put on the wall. */
const lastChangeOf = ({ changedAt, motions }: Run): number => changedAt ?? Math.max(...motions.map(({ at }) => at));

/** The first go that can be given. */
function goOf(view: PracticeView): PlannedPress | null {
  const { sheet, run } = view;
  const gates = new Set(run.motions.flatMap((motion) => nextGateOf(sheet, motion) ?? []));
  const planned = [...gates].flatMap((gate) => {
    const at = openableAt(view, gate);
    return at === null ? [] : [{ press: { kind: 'go' as const, when: 'grid' as const, gate }, at }];
  });
  return earliest(planned);
}

const earliest = (planned: readonly PlannedPress[]): PlannedPress | null =>
  planned.reduce<PlannedPress | null>((first, each) => (first && first.at <= each.at ? first : each), null);

/** When the rest before a gate is over; null while lanes or swimmers of it are still to come. */
function openableAt(view: PracticeView, gate: number): Instant | null {
  const { sheet, run } = view;
  const here = run.motions.filter(({ lane }) => sheet.joins[gate]?.lanes.includes(lane));
  if (here.some((motion) => nextGateOf(sheet, motion) !== gate)) return null;
  const lastInAt = lastInOf(view, here);
  const stands = here.map((motion) => gateReachedAt(view, motion, gate));
  if (lastInAt === null || stands.includes(null)) return null;
  const readyAt = Math.max(lastInAt, ...stands.flatMap((at) => at ?? []));
  return instant(readyAt + Math.max(...here.map((motion) => restBefore(view, motion))));
}

/** When the last swimmer of these lanes came in; null while somebody has yet to leave or to come in. */
function lastInOf({ swims, upcoming, now, run }: PracticeView, motions: readonly LaneMotion[]): number | null {
  const lanes = motions.map(({ lane }) => lane);
  if (upcoming.some(({ lane }) => lanes.includes(lane))) return null;
  let lastInAt = lastChangeOf(run);
  for (const { departure, inAt } of swims) {
    if (!lanes.includes(departure.lane)) continue;
    if (inAt > now) return null;
    lastInAt = Math.max(lastInAt, inAt);
  }
  return lastInAt;
}

function gateReachedAt({ sheet, run }: PracticeView, { lane }: LaneMotion, gate: number): Instant | null {
  const trace = tracesOf(sheet, run.motions).get(lane) ?? [];
  const last = trace[trace.length - 1];
  if (!last || last.rate === 1) return null;
  if (last.cause === 'gate') return last.join === gate ? last.at : null;
  // Put right at the gate by a press: its vector stands there.
  return last.cause === 'vector' && last.position === sheet.joins[gate]?.atMs ? last.at : null;
}

function restBefore({ sheet }: PracticeView, motion: LaneMotion): number {
  const steps = laneOf(sheet, motion.lane)?.steps ?? [];
  const gateSteps = steps.flatMap((step, index) => (step.kind === 'gate' ? [index] : []));
  const gateStep = gateSteps[motion.gates] ?? steps.length;
  const before = steps.slice(0, gateStep).findLast((step) => step.kind === 'rep');
  const after = steps.slice(gateStep).find((step) => step.kind === 'rep');
  if (!before) return READY_MS;
  if (after && isNextHeat(before, after)) return HEAT_REST_MS;
  return REST_MS[sheet.sets[before.set]?.style ?? 'skills'];
}

const isNextHeat = (before: RepStep, after: RepStep): boolean =>
  before.set === after.set && before.rep === after.rep && (after.heat ?? 1) > 1;

/** When every lane has swum everything and everybody is in. */
function finishOf(view: PracticeView): PlannedPress | null {
  const { sheet, run } = view;
  const doneAt = run.motions.map((motion) => {
    const trace = tracesOf(sheet, run.motions).get(motion.lane) ?? [];
    const lane = laneOf(sheet, motion.lane);
    return nextGateOf(sheet, motion) === null && lane ? departureFrom(trace, lane.durationMs) : null;
  });
  const lastInAt = lastInOf(view, run.motions);
  if (lastInAt === null || doneAt.includes(null)) return null;
  const at = Math.max(lastInAt, ...doneAt.flatMap((each) => each ?? []));
  return { press: { kind: 'finish' }, at: instant(at + LAST_LOOK_MS) };
}
