import type { Board } from '../../shared-types/board/board.ts';
import type { Instant } from '../../shared-types/brand.ts';
import type { Change, Scope } from '../../shared-types/changes.ts';
import type { Run } from '../../shared-types/events.ts';
import { placeAt } from '../../shared-types/motion.ts';
import type { RepStep, Sheet, SheetLane } from '../../shared-types/sheet.ts';

/** [CMD7] Which sets can still be changed, and what holds of them now. Pure. */

/** A set as one lane swims it from its next rep on. */
export interface LaneOnSet {
  readonly lane: SheetLane['lane'];
  readonly group: string;
  /** Null where the coach releases the reps, or the rest after them does. */
  readonly intervalMs: number | null;
  readonly count: number;
  readonly apartMs: number;
  /** Whether the lane has a rep of it to come. */
  readonly isAhead: boolean;
}

export interface SetNow {
  readonly key: string;
  /** `Main set` */
  readonly section: string;
  /** `8 × 50 free at 200 pace` */
  readonly words: string;
  /** `now`: a lane is at it; `swum`: no lane has a rep of it to come. */
  readonly when: 'now' | 'swum' | 'to come';
  readonly release: 'interval' | 'rest' | 'go';
  /** The lanes that swim it, or are on its last rep. */
  readonly lanes: readonly LaneOnSet[];
  /** The round after which it would be swum once more: that of the lane furthest on. */
  readonly round: string;
}

/** A set's rep that a lane swims next, or else the one it swam last. */
interface RepOnSet {
  readonly lane: SheetLane;
  readonly rep: RepStep;
  readonly isAhead: boolean;
}

function repOnSet(lane: SheetLane, ahead: number, set: number): RepOnSet | null {
  const isOfSet = (step: SheetLane['steps'][number]): step is RepStep => step.kind === 'rep' && step.set === set;
  const toCome = lane.steps.slice(ahead).find(isOfSet);
  if (toCome) return { lane, rep: toCome, isAhead: true };
  const last = lane.steps
    .slice(0, ahead)
    .filter(({ kind }) => kind === 'rep')
    .pop();
  return last && isOfSet(last) ? { lane, rep: last, isAhead: false } : null;
}

/** What the ids of a round's reps share: everything up to the number of the rep. */
const roundOf = ({ id, heat }: RepStep): string => {
  const parts = id.split('.');
  return parts.slice(0, heat === undefined ? -1 : -2).join('.');
};

/** How many reps the lane swims in the round of this one, changes included. */
function countIn({ steps }: SheetLane, rep: RepStep): number {
  const round = roundOf(rep);
  return steps.reduce(
    (most, step) => (step.kind === 'rep' && roundOf(step) === round ? Math.max(most, step.rep) : most),
    0,
  );
}

const laneOnSet = ({ lane, rep, isAhead }: RepOnSet, release: SetNow['release']): LaneOnSet => ({
  lane: lane.lane,
  group: lane.group,
  intervalMs: release === 'interval' ? rep.durationMs : null,
  count: countIn(lane, rep),
  apartMs: rep.apartMs,
  isAhead,
});

/** `outer.round`, 0 where there is none: how a change names a round. */
const roundNumbers = ({ outerRound = 0, round = 0 }: RepStep): [number, number] => [outerRound, round];

function furthestRound(reps: readonly RepOnSet[]): string {
  const rounds = reps.map(({ rep }) => roundNumbers(rep)).sort(([a, b], [c, d]) => a - c || b - d);
  return (rounds[rounds.length - 1] ?? [0, 0]).join('.');
}

/** The sets that a lane is at or has yet to swim, in the order of the practice. */
export function setsToChange({ sheet, run }: { sheet: Sheet; run: Run }, board: Board, at: Instant): SetNow[] {
  const ahead = new Map(sheet.lanes.map((lane) => [lane.lane, placeAt(sheet, run.motions, lane, at).ahead]));
  const atNow = new Set(board.sets.map(({ index }) => index));
  return sheet.sets.flatMap((set, index) => {
    const { key, release = 'go', section, words, detail } = set;
    const reps = sheet.lanes.flatMap((lane) => repOnSet(lane, ahead.get(lane.lane) ?? 0, index) ?? []);
    if (key === undefined || reps.length === 0) return [];
    const toCome = reps.some(({ isAhead }) => isAhead) ? 'to come' : 'swum';
    return {
      key,
      section: sheet.sections[section]?.name ?? '',
      words: [words, detail].filter((part) => part !== '').join(' '),
      when: atNow.has(index) ? 'now' : toCome,
      release,
      lanes: reps.map((rep) => laneOnSet(rep, release)),
      round: furthestRound(reps),
    };
  });
}

/** The set to show first: the one the lane furthest on is at, else the next, else the last. */
export function chosenSet(sets: readonly SetNow[], key: string | null): SetNow | undefined {
  const now = sets.filter(({ when }) => when === 'now');
  return (
    sets.find((set) => set.key === key) ??
    now[now.length - 1] ??
    sets.find(({ when }) => when === 'to come') ??
    sets[sets.length - 1]
  );
}

/** Whom a change can be for: all, each pace group where there are several, each lane. */
export function scopesOf({ lanes }: SetNow): Scope[] {
  const groups = [...new Set(lanes.map(({ group }) => group))].sort();
  return [
    { kind: 'all' },
    ...(groups.length > 1 ? groups.map((group): Scope => ({ kind: 'group', group })) : []),
    ...(lanes.length > 1 ? lanes.map(({ lane }): Scope => ({ kind: 'lane', lane })) : []),
  ];
}

export const lanesIn = ({ lanes }: SetNow, scope: Scope): LaneOnSet[] =>
  lanes.filter(({ lane, group }) => {
    if (scope.kind === 'all') return true;
    return scope.kind === 'lane' ? scope.lane === lane : scope.group === group;
  });

/** What of a set is changed by one press. */
export type What = 'intervalMs' | 'count' | 'apartMs';

/** By how much one press changes it. */
export const STEP: Readonly<Record<What, number>> = { intervalMs: 5000, count: 1, apartMs: 5000 };

const LEAST: Readonly<Record<What, number>> = { intervalMs: 5000, count: 1, apartMs: 0 };

/** Whether one press less (−1) or more (+1) would change anything for these lanes. */
export function canStep(what: What, towards: -1 | 1, { release }: SetNow, lanes: readonly LaneOnSet[]): boolean {
  const isAhead = lanes.some((lane) => lane.isAhead);
  if (what === 'intervalMs' && release !== 'interval') return false;
  // A single swim that the coach ends has no count; it can be repeated.
  if (what === 'count' && release === 'go' && lanes.every(({ count }) => count <= 1)) return false;
  if (towards > 0) return isAhead || (what === 'count' && lanes.length > 0);
  return isAhead && lanes.every((lane) => (lane[what] ?? 0) - STEP[what] >= LEAST[what]);
}

/** The change of one press less or more. */
export const stepped = (set: SetNow, scope: Scope, what: What, towards: -1 | 1): Change => ({
  kind: 'adjust',
  set: set.key,
  scope,
  by: { [what]: towards * STEP[what] },
});
