import { laneNumber } from '../../../shared-types/brand.ts';
import { type Message, type MessageCure, mention } from '../../../shared-types/message.ts';
import { lengthOf, unitOf } from '../../../shared-types/pool.ts';
import { formatClock, formatSwimTime } from '../../../shared-types/time.ts';
import { type CurableRep, type Cure, curesFor, cureWords, isIll, type LaneTraffic, lineCures } from '../lanes/cures.ts';
import { DIVE_GAP_MS, type Finding, type Trip, trafficIn } from '../lanes/traffic.ts';
import type { TargetResult } from '../pace/targets.ts';
import type { RosterLane } from '../roster.ts';
import { effortsIn } from './effort-on.ts';
import { apartOf, resultsOn, type SetPlan } from './rep-plan.ts';
import { isFirstRound, type LaneReps, laneWords, say } from './set-warnings.ts';

/** Says once a set what its swimmers will meet in their lanes: the worst rep of each lane, all rounds looked through. */
export function sayTraffic(plan: SetPlan, swum: readonly LaneReps[]): void {
  if (!isFirstRound(plan)) return;
  const rounds = roundsThatDiffer(plan);
  const allReps = repsDiffer(plan);
  const lanes = swum.map((reps) => trafficOf(rounds, allReps ? reps.reps : 1, reps));
  const diving: number[] = [];
  lanes.forEach((traffic, place) => {
    const lane = swum[place]?.lane;
    const worst = worstOfEach(traffic.reps.flatMap(trafficIn));
    if (!lane || worst.length === 0) return;
    const fix = fixFor(traffic, lanes, lane);
    for (const finding of worst) {
      if (finding.code === 'dive-gap') diving.push(place);
      else sayFinding(plan, lane, finding, fix);
    }
  });
  sayDiveGap(plan, diving, swum, lanes);
}

/** One lane's reps up to `last` in each of the rounds, each that differs from those before it. */
function trafficOf(rounds: readonly SetPlan[], last: number, { lane, reps, cycleOn }: LaneReps): LaneTraffic {
  const seen = new Set<readonly TargetResult[]>();
  const different: CurableRep[] = [];
  for (const plan of rounds) {
    for (let rep = 1; rep <= last; rep += 1) {
      const cycleMs = cycleOn(plan, rep);
      const results = resultsOn(plan, lane, rep, reps, cycleMs);
      if (seen.has(results)) continue;
      seen.add(results);
      different.push(curableRep(plan, lane, results, cycleMs));
    }
  }
  return { lane: lane.lane, group: lane.group, reps: different };
}

function curableRep(
  plan: SetPlan,
  lane: RosterLane,
  results: readonly TargetResult[],
  cycleMs: number | null,
): CurableRep {
  const { set, gathering } = plan;
  const distance = set.size.kind === 'distance' ? set.size.distance : null;
  return {
    trips: results.map((result) => tripOf(result, distance)),
    apartMs: apartOf(plan, lane),
    cycleMs,
    restMs: set.release?.kind === 'rest' && distance !== null ? set.release.restMs : null,
    distance,
    poolLength: lengthOf(gathering.pool.course),
    start: set.start,
    byHeat: set.release?.kind === 'go' && set.release.byHeat,
  };
}

function tripOf({ target, expectedMs }: TargetResult, distance: number | null): Trip {
  if (target.splits.length > 0 || expectedMs === null || distance === null) return target.splits;
  return [{ distance, ms: expectedMs }];
}

/** The plan as it is in each round that asks for something else. */
function roundsThatDiffer(plan: SetPlan): SetPlan[] {
  const { spot } = plan;
  if (!effortsIn(plan.set).some((effort) => effort.kind === 'ramp' && effort.by === 'round')) return [plan];
  const count = Math.max(1, spot.rounds.rounds);
  return Array.from({ length: count }, (_, place) => ({
    ...plan,
    spot: { ...spot, rounds: { ...spot.rounds, round: place + 1 } },
  }));
}

/** Whether reps of one set differ in stroke, effort or send-off. */
function repsDiffer({ set }: SetPlan): boolean {
  const written = [set.effort, ...set.parts.map(({ effort }) => effort)];
  return (
    set.stroke === 'IM order' ||
    (set.release?.kind === 'interval' && set.release.droppingMs !== undefined) ||
    written.some((effort) => effort?.kind === 'alternate') ||
    effortsIn(set).some((effort) => effort.kind === 'ramp' && effort.by === 'rep')
  );
}

/** How bad a finding is among those of its code: the smaller, the worse. */
function margin(finding: Finding): number {
  switch (finding.code) {
    case 'catches':
      return finding.gapMs;
    case 'lane-full':
      return finding.twoLengthsMs;
    case 'send-overflow':
      return finding.cycleMs;
    case 'dive-gap':
      return finding.apartMs;
  }
}

function worstOfEach(findings: readonly Finding[]): Finding[] {
  const worst = new Map<Finding['code'], Finding>();
  for (const finding of findings) {
    const before = worst.get(finding.code);
    if (!before || margin(finding) < margin(before)) worst.set(finding.code, finding);
  }
  return [...worst.values()];
}

type Fix = Pick<Message, 'fix' | 'cure'>;

/** The best cure in words, and where it can be done at a press; with fewer in the lane also where one of them could go. */
function fixFor(ill: LaneTraffic, lanes: readonly LaneTraffic[], { swimmers }: RosterLane): Fix {
  const cures = curesFor(ill, lanes);
  const best: Cure | undefined = cures.next().value;
  if (!best) return {};
  const move: Cure | undefined = best.kind === 'fewer' ? cures.next().value : undefined;
  const cure = pressFor(best, swimmers);
  return { fix: [best, ...(move ? [move] : [])].map(cureWords).join(', or '), ...(cure ? { cure } : {}) };
}

function pressFor(cure: Cure, swimmers: RosterLane['swimmers']): MessageCure | null {
  switch (cure.kind) {
    case 'gap':
      return { kind: 'gap', apartMs: cure.apartMs };
    case 'order':
      return {
        kind: 'order',
        lane: laneNumber(cure.lane),
        swimmers: cure.order.flatMap((place) => swimmers[place]?.id ?? []),
      };
    default:
      return null;
  }
}

function sayFinding(plan: SetPlan, lane: RosterLane, finding: Finding, fix: Fix): void {
  const text = findingText(plan, lane, finding);
  say(plan, {
    severity: 'warning',
    code: finding.code,
    lane: lane.lane,
    text,
    ...fix,
  });
}

function findingText(plan: SetPlan, rosterLane: RosterLane, finding: Finding): string {
  const { set, gathering } = plan;
  const { lane, swimmers } = rosterLane;
  const apart = `${formatClock(apartOf(plan, rosterLane))} apart`;
  switch (finding.code) {
    case 'catches': {
      const [later, earlier] = [finding.later, finding.earlier].map((place) => {
        const swimmer = swimmers[place];
        return swimmer ? mention(swimmer.id) : 'a swimmer';
      });
      const whole = set.size.kind === 'distance' && set.size.distance === finding.distance;
      const where = whole ? 'at the end' : `at ${finding.distance} ${unitOf(gathering.pool.course)}`;
      return `${later} catches ${earlier}: ${gapWords(finding.gapMs)} ${where}, leaving ${apart}`;
    }
    case 'lane-full': {
      const back = formatSwimTime(finding.twoLengthsMs, 1);
      const fits = Math.max(1, finding.fits);
      return `lane ${lane} has room for ${fits} swimmer${fits === 1 ? '' : 's'} ${apart}, not ${finding.count}: the leader is back from two lengths in ${back}`;
    }
    case 'send-overflow': {
      const [needed, cycle] = [formatClock(finding.neededMs), formatClock(finding.cycleMs)];
      return `${finding.count} swimmers ${apart} need ${needed}, the send-off is ${cycle}`;
    }
    case 'dive-gap':
      return `swimmers of lane ${lane} leave the blocks ${apart}`;
  }
}

/** To the tenth, never rounded up to the 2 s that would be enough. */
function gapWords(gapMs: number): string {
  const tenths = Math.trunc(gapMs / 100);
  if (tenths === 0) return 'level';
  return `${(Math.abs(tenths) / 10).toFixed(1)} s ${tenths > 0 ? 'behind' : 'ahead'}`;
}

/** One message for all lanes: they start from the same blocks at the same gap. */
function sayDiveGap(
  plan: SetPlan,
  places: readonly number[],
  swum: readonly LaneReps[],
  lanes: readonly LaneTraffic[],
): void {
  if (places.length === 0) return;
  const roster = places.flatMap((place) => swum[place]?.lane ?? []);
  const usual = formatClock(DIVE_GAP_MS);
  const text = `swimmers of ${laneWords(roster)} leave the blocks less than the usual ${usual} apart`;
  const [best] = lineCures(lanes.filter(isIll), lanes);
  const fix = best?.kind === 'gap' ? `${cureWords(best)}, or on go by heat` : 'write on go by heat';
  const [only, more] = roster;
  say(plan, {
    severity: 'warning',
    code: 'dive-gap',
    ...(only && !more ? { lane: only.lane } : {}),
    text,
    fix,
    ...(best?.kind === 'gap' ? { cure: { kind: 'gap', apartMs: best.apartMs } } : {}),
  });
}
