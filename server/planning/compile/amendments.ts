import type { Change, Scope } from '../../../shared-types/changes.ts';
import type { RosterLane } from '../roster.ts';
import type { Rounds } from './rounds.ts';

type Adjust = Extract<Change, { kind: 'adjust' }>;

/** What of a set can be changed, each with the least it can be brought to step by step. */
const LEAST = { intervalMs: 1000, count: 1, apartMs: 0 } as const;

/** [CMD7] What was changed of a practice's sets since it was written, by the key of the set. */
export interface Amendments {
  readonly skipped: ReadonlySet<string>;
  /** After which rounds (`outer.round`) a set is swum once more, each as often as it is named. */
  readonly repeated: ReadonlyMap<string, readonly string[]>;
  /** The newest last. */
  readonly adjusted: ReadonlyMap<string, readonly Adjust[]>;
}

export const NO_AMENDMENTS: Amendments = { skipped: new Set(), repeated: new Map(), adjusted: new Map() };

function add<T>(lists: Map<string, T[]>, key: string, value: T): void {
  lists.set(key, [...(lists.get(key) ?? []), value]);
}

/** The changes of sets among these, the newest last; those of swimmers are not for here. */
export function amendmentsOf(changes: readonly Change[]): Amendments {
  const skipped = new Set<string>();
  const repeated = new Map<string, string[]>();
  const adjusted = new Map<string, Adjust[]>();
  for (const change of changes) {
    if (change.kind === 'adjust') add(adjusted, change.set, change);
    else if (change.kind === 'skip') skipped.add(change.set);
    else if (change.kind === 'repeat') add(repeated, change.set, change.after);
  }
  return { skipped, repeated, adjusted };
}

function covers(scope: Scope, { lane, group }: RosterLane): boolean {
  if (scope.kind === 'all') return true;
  return scope.kind === 'lane' ? scope.lane === lane : scope.group === group;
}

/** What holds of a set for a lane after all changes, one after the other. @param written what the practice says */
export function amended(
  { adjusted }: Amendments,
  key: string,
  lane: RosterLane,
  what: keyof typeof LEAST,
  written: number,
): number {
  const own = (adjusted.get(key) ?? []).filter(({ scope }) => covers(scope, lane));
  return own.reduce((value, change) => {
    const by = change.by?.[what];
    const set = change[what] ?? value;
    return by === undefined ? set : Math.max(LEAST[what], set + by);
  }, written);
}

/** The name of an occurrence of a set among its rounds. */
export const roundKey = ({ outer, round }: Rounds): string => `${outer}.${round}`;

/** How often a set is swum in this round, the first time included; 0: it is skipped. */
export function timesIn({ skipped, repeated }: Amendments, key: string, rounds: Rounds): number {
  if (skipped.has(key)) return 0;
  return 1 + (repeated.get(key) ?? []).filter((after) => after === roundKey(rounds)).length;
}
