import { type Ms, ms } from '../../../shared-types/brand.ts';
import type { End } from '../../../shared-types/pool.ts';
import type { SetItem, SetStroke } from '../../../shared-types/practice.ts';
import { MEDLEY_ORDER } from '../../../shared-types/squad.ts';
import { type RepToSwim, type TargetResult, targetFor } from '../pace/targets.ts';
import type { RosterLane } from '../roster.ts';
import { signatureOf } from '../set-signature.ts';
import { amended } from './amendments.ts';
import type { Gathering, Spot } from './context.ts';
import { comesBack, endsAtOtherWall } from './counts.ts';
import type { RepDraft } from './drafts.ts';
import { effortOn, type RepOfGroup } from './effort-on.ts';
import { effortWords } from './words.ts';

/** A set on its way onto the sheet. */
export interface SetPlan {
  readonly set: SetItem;
  readonly key: string;
  /** What its step ids begin with: the key, and when a set is repeated the how-manieth time. */
  readonly occurrence: string;
  /** Index into the sheet's sets. */
  readonly index: number;
  readonly present: readonly string[];
  readonly spot: Spot;
  readonly gathering: Gathering;
  /** Targets worked out so far: reps that ask the same of a swimmer share one. */
  readonly known: Map<string, readonly TargetResult[]>;
}

/** The gap between the lane's swimmers on this set, ms. */
export const apartOf = ({ set, key, gathering }: SetPlan, lane: RosterLane): Ms =>
  ms(amended(gathering.amendments, key, lane, 'apartMs', set.apartMs ?? lane.apartMs));

/** The stroke of rep `rep` (from 1): `IM order` goes by rep. */
const strokeOn = (stroke: SetStroke, rep: number): SetStroke =>
  stroke === 'IM order' ? (MEDLEY_ORDER[(rep - 1) % MEDLEY_ORDER.length] ?? 'fly') : stroke;

/** What of this rep the efforts of the set and its parts depend on. */
const repOf = ({ present, spot }: SetPlan, lane: RosterLane, rep: number, reps: number): RepOfGroup => ({
  rep,
  reps,
  rounds: spot.rounds,
  group: lane.group,
  present,
});

/** What every swimmer of the lane is to do on this rep, in the order in which they leave. */
export function resultsOn(
  plan: SetPlan,
  lane: RosterLane,
  rep: number,
  reps: number,
  cycleMs: number | null,
): readonly TargetResult[] {
  const { set, gathering, known, present } = plan;
  const of = repOf(plan, lane, rep, reps);
  const asked = {
    stroke: strokeOn(set.stroke, rep),
    effort: effortOn(set.effort, of),
    partEfforts: set.parts.map((part) => effortOn(part.effort, of)),
    cycleMs,
  };
  const key = JSON.stringify([lane.lane, asked]);
  const before = known.get(key);
  if (before) return before;
  const signature = signatureOf(set, lane.group, present, reps, gathering.pool.course);
  const toSwim: RepToSwim = { set, ...asked, signature };
  const results = lane.swimmers.map((swimmer) => targetFor(swimmer, toSwim, gathering.pool));
  known.set(key, results);
  return results;
}

/**
 * When the last of a lane's swimmers should be back, ms after the lane's send-off: (k − 1) · apart + expected swim.
 * What is unknown counts 0; in a heat only its own swimmer counts.
 */
export function lastBackMs(plan: SetPlan, lane: RosterLane, results: readonly TargetResult[], heat?: number): number {
  if (plan.set.size.kind === 'timed' && lane.swimmers.length === 0) return plan.set.size.timeMs;
  const apartMs = apartOf(plan, lane);
  const backs = results.map(({ expectedMs }, place) =>
    expectedMs === null ? 0 : (heat === undefined ? place * apartMs : 0) + expectedMs,
  );
  return Math.max(0, ...(heat === undefined ? backs : backs.slice(heat - 1, heat)));
}

const other = (end: End): End => (end === 'near' ? 'far' : 'near');

interface RepCall {
  readonly rep: number;
  readonly reps: number;
  readonly cycleMs: number | null;
  readonly heat?: number;
  readonly heats?: number;
}

/** Adds one rep of one lane and moves its swimmers to the end of the pool where they will wait. */
export function addRep(plan: SetPlan, lane: RosterLane, call: RepCall): void {
  const { set, gathering, spot } = plan;
  const results = resultsOn(plan, lane, call.rep, call.reps, call.cycleMs);
  const own = call.heat === undefined ? results : results.slice(call.heat - 1, call.heat);
  const { outer, outers, round, rounds } = spot.rounds;
  const words = effortWords(effortOn(set.effort, repOf(plan, lane, call.rep, call.reps)));
  const fromEnd = set.start === 'dive' ? 'near' : (gathering.ends.get(lane.lane) ?? 'near');
  const away = endsAtOtherWall(set, gathering.pool) || (comesBack(set) && crossesOver(plan));
  const toEnd = away ? other(fromEnd) : fromEnd;
  const draft: RepDraft = {
    kind: 'rep',
    id: `${plan.occurrence}.${outer}.${round}.${call.rep}${call.heat === undefined ? '' : `.h${call.heat}`}`,
    line: set.line,
    section: spot.section,
    lane: lane.lane,
    set: plan.index,
    cycleMs: call.cycleMs,
    lastBackMs: lastBackMs(plan, lane, results, call.heat),
    ...(outers > 0 ? { outerRound: outer, outerRounds: outers } : {}),
    ...(rounds > 0 ? { round, rounds } : {}),
    rep: call.rep,
    reps: call.reps,
    ...(call.heat === undefined ? {} : { heat: call.heat }),
    ...(call.heats === undefined ? {} : { heats: call.heats }),
    ...(set.size.kind === 'distance' ? { distance: set.size.distance } : { timedMs: set.size.timeMs }),
    stroke: strokeOn(set.stroke, call.rep),
    ...(words === '' ? {} : { effort: words }),
    start: set.start,
    fromEnd,
    toEnd,
    apartMs: apartOf(plan, lane),
    targets: own.map(({ target }) => gathering.intern(target)),
  };
  gathering.add(draft);
  gathering.ends.set(lane.lane, comesBack(set) ? fromEnd : toEnd);
}

/** Whether the swim itself ends at the other wall, before the swimmers come back. */
const crossesOver = ({ set, gathering }: SetPlan): boolean =>
  endsAtOtherWall({ ...set, start: 'push', equipment: [] }, gathering.pool);
