import { ms } from '../../../shared-types/brand.ts';
import type { Release, Section, SetItem } from '../../../shared-types/practice.ts';
import { cycleWithRest } from '../lanes/suggest-send-offs.ts';
import type { RosterLane } from '../roster.ts';
import { amended, timesIn } from './amendments.ts';
import type { Gathering, Spot } from './context.ts';
import { countFor } from './counts.ts';
import { addJoin } from './joins.ts';
import { sayTraffic } from './lane-traffic.ts';
import { entryFor } from './per-group.ts';
import { addRep, resultsOn, type SetPlan } from './rep-plan.ts';
import { checkSet } from './set-checks.ts';
import { type LaneReps, sayMissing, sayNeedsTarget, sayTiming, sayUnknownTime } from './set-warnings.ts';
import { styleOf } from './style.ts';
import { sayEstimates } from './target-notes.ts';
import { timedOver } from './timed-over.ts';
import { equipmentWords, setDetail, setWords } from './words.ts';

/** Adds a set's reps for every lane of the spot, with the gates it needs. */
export function expandSet(set: SetItem, spot: Spot, section: Section, gathering: Gathering): void {
  const present = [...new Set(spot.lanes.map(({ group }) => group))].sort();
  const problems = checkSet(set, present, gathering.pool);
  for (const problem of problems) gathering.say(problem);
  if (problems.some(({ severity }) => severity === 'error')) return;
  const key = gathering.setKey(set);
  const index = setIndex(set, spot, section, gathering);
  const times = timesIn(gathering.amendments, key, spot.rounds);
  if (times === 0) {
    const skipped: SetPlan = { set, key, occurrence: key, index, present, spot, gathering, known: new Map() };
    gathering.whileSkipping(() => expandOnce(skipped));
  }
  for (let time = 1; time <= times; time += 1) {
    const occurrence = time === 1 ? key : `${key}x${time}`;
    expandOnce({ set, key, occurrence, index, present, spot, gathering, known: new Map() });
  }
}

function expandOnce(plan: SetPlan): void {
  const { set, key, present, spot, gathering } = plan;
  const countOf = (lane: RosterLane): number =>
    amended(gathering.amendments, key, lane, 'count', countFor(set, lane.group, present, gathering.pool));
  const counts = new Map(spot.lanes.map((lane) => [lane, countOf(lane)]));
  if ([...counts].some(([lane, count]) => gathering.tooMuch(set, lane, count))) return;
  const swum = release(plan, (lane) => counts.get(lane) ?? 1);
  // Looks through the targets of all rounds; the others then speak of the same.
  sayTraffic(plan, swum);
  sayTiming(plan, swum);
  sayMissing(plan);
  sayEstimates(plan);
}

function setIndex(set: SetItem, spot: Spot, section: Section, gathering: Gathering): number {
  const known = gathering.setIndices.get(set);
  if (known !== undefined) return known;
  const { style, reason } = styleOf(set, section.style);
  gathering.sets.push({
    key: gathering.setKey(set),
    line: set.line,
    section: spot.section,
    style,
    styleReason: reason,
    words: setWords(set),
    detail: setDetail(set),
    activity: set.activity,
    equipment: set.equipment.map(equipmentWords),
    release: set.release?.kind ?? 'go',
    ...(set.release?.kind === 'rest' ? { restMs: ms(set.release.restMs) } : {}),
    ...timedOver(set, gathering.pool),
  });
  gathering.setIndices.set(set, gathering.sets.length - 1);
  return gathering.sets.length - 1;
}

type CountOf = (lane: RosterLane) => number;

/** Adds the reps of all lanes. @returns what each lane swims */
function release(plan: SetPlan, countOf: CountOf): LaneReps[] {
  const { set, spot } = plan;
  const written: Release | null = set.release ?? (set.counts.some((count) => count > 1) ? GO : null);
  if (written === null) return releaseOnce(plan);
  if (written.kind === 'go') return releaseOnGo(plan, spot.lanes, countOf, written.byHeat);
  if (written.kind === 'rest') return releaseOnRest(plan, countOf, written.restMs);
  return spot.lanes.map((lane) => releaseOnInterval(plan, lane, countOf(lane), written));
}

const GO: Release = { kind: 'go', byHeat: false };

/** One rep without a send-off: the coach says when it is over. */
function releaseOnce(plan: SetPlan): LaneReps[] {
  const { gathering, spot, set } = plan;
  for (const lane of spot.lanes) addRep(plan, lane, { rep: 1, reps: 1, cycleMs: null });
  sayUnknownTime(plan, spot.lanes, 1);
  addJoin(gathering, spot, set.line, 'gate', 'gate');
  return spot.lanes.map((lane) => ({ lane, reps: 1, cycleOn: () => null }));
}

function releaseOnInterval(
  plan: SetPlan,
  lane: RosterLane,
  reps: number,
  { intervalMs, droppingMs }: Extract<Release, { kind: 'interval' }>,
): LaneReps {
  const written = entryFor(intervalMs, lane.group, plan.present);
  const first = amended(plan.gathering.amendments, plan.key, lane, 'intervalMs', written);
  const cycleOn = (_: SetPlan, rep: number): number => first - (rep - 1) * (droppingMs ?? 0);
  for (let rep = 1; rep <= reps; rep += 1) addRep(plan, lane, { rep, reps, cycleMs: cycleOn(plan, rep) });
  return { lane, reps, cycleOn };
}

/** Rest after the slowest target; lanes that have no target wait for the coach's go instead. */
function releaseOnRest(plan: SetPlan, countOf: CountOf, restMs: number): LaneReps[] {
  const waiting: RosterLane[] = [];
  const swum: LaneReps[] = [];
  for (const lane of plan.spot.lanes) {
    const reps = countOf(lane);
    const cycles = Array.from({ length: reps }, (_, place) => cycleAfterRest(plan, lane, place + 1, reps, restMs));
    if (cycles.some((cycle) => cycle === null)) {
      waiting.push(lane);
      continue;
    }
    cycles.forEach((cycleMs, place) => {
      addRep(plan, lane, { rep: place + 1, reps, cycleMs });
    });
    swum.push({ lane, reps, cycleOn: (of, rep) => cycleAfterRest(of, lane, rep, reps, restMs) });
  }
  if (waiting.length === 0) return swum;
  sayNeedsTarget(plan, waiting);
  return [...swum, ...releaseOnGo(plan, waiting, countOf, false)];
}

/** The slowest target of the lane plus the rest, up to the next round five seconds; null without any target. */
function cycleAfterRest(plan: SetPlan, lane: RosterLane, rep: number, reps: number, restMs: number): number | null {
  const { size } = plan.set;
  const targets = resultsOn(plan, lane, rep, reps, null).flatMap(({ target }) => target.ms ?? []);
  const times = size.kind === 'timed' ? [size.timeMs] : targets;
  if (times.length === 0) return null;
  return ms(cycleWithRest(Math.max(...times), restMs));
}

/** The coach releases each rep, or each heat of it: the k-th swimmers of all lanes. */
function releaseOnGo(plan: SetPlan, lanes: readonly RosterLane[], countOf: CountOf, byHeat: boolean): LaneReps[] {
  const { gathering, spot, set } = plan;
  const heats = byHeat ? Math.max(1, ...lanes.map(({ swimmers }) => swimmers.length)) : 1;
  const most = Math.max(...lanes.map(countOf));
  addJoin(gathering, spot, set.line, 'gate', 'gate', lanes);
  for (let rep = 1; rep <= most; rep += 1) {
    for (let heat = 1; heat <= heats; heat += 1) {
      for (const lane of lanes) {
        const reps = countOf(lane);
        const here = rep <= reps && (!byHeat || heat === 1 || heat <= lane.swimmers.length);
        if (here) addRep(plan, lane, { rep, reps, cycleMs: null, ...(byHeat ? { heat, heats } : {}) });
      }
      const last = rep === most && heat === heats;
      addJoin(gathering, spot, set.line, 'gate', last ? 'after set' : 'gate', lanes);
    }
  }
  sayUnknownTime(plan, lanes, most);
  return lanes.map((lane) => ({ lane, reps: countOf(lane), cycleOn: () => null }));
}
