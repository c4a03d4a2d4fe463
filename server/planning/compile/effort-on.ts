import type { Effort, SetItem } from '../../../shared-types/practice.ts';
import { entryFor } from './per-group.ts';
import type { Rounds } from './rounds.ts';

/** Which rep an effort is asked of, and of which pace group. */
export interface RepOfGroup {
  readonly rep: number;
  readonly reps: number;
  readonly rounds: Rounds;
  readonly group: string;
  /** The pace groups that swim the line, by name. */
  readonly present: readonly string[];
}

type Ramp = Extract<Effort, { kind: 'ramp' }>;

/** What an effort asks on one rep of one pace group: alternations, ramps and slash lists resolved. */
export function effortOn(effort: Effort | undefined, of: RepOfGroup): Effort | undefined {
  switch (effort?.kind) {
    case 'alternate':
      return effortOn(of.rep % 2 === 1 ? effort.odds : effort.evens, of);
    case 'ramp':
      return { kind: 'pace', race: effort.race, percent: rampPercent(effort, of) };
    case 'hold':
      return { ...effort, timeMs: [entryFor(effort.timeMs, of.group, of.present)] };
    default:
      return effort;
  }
}

/** The percent of a ramp: linear over the rounds or reps, ends included; with one of them, the last value. */
function rampPercent({ fromPercent, toPercent, by }: Ramp, { rep, reps, rounds }: RepOfGroup): number {
  const [place, count] = by === 'rep' ? [rep, reps] : [rounds.round, rounds.rounds];
  if (count <= 1) return toPercent;
  return fromPercent + ((toPercent - fromPercent) * (place - 1)) / (count - 1);
}

/** Every effort written on a set and its parts, with both sides of an alternation. */
export const effortsIn = (set: SetItem): Effort[] =>
  [set.effort, ...set.parts.map(({ effort }) => effort)]
    .flatMap((effort) => effort ?? [])
    .flatMap((effort) => (effort.kind === 'alternate' ? [effort.odds, effort.evens] : [effort]));
