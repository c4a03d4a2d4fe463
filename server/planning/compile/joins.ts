import type { RosterLane } from '../roster.ts';
import type { Gathering, Spot } from './context.ts';
import type { JoinDraft } from './drafts.ts';
import type { Rounds } from './rounds.ts';

/** The id of a rest or join: like a rep's, with what it is in place of the rep. */
export const idOf = (line: number | string, { outer, round }: Rounds, last: string): string =>
  `${line}.${outer}.${round}.${last}`;

/** A place where the spot's lanes meet; a gate stays shut until the coach says go. */
export function addJoin(
  gathering: Gathering,
  spot: Spot,
  line: number,
  name: string,
  gate: JoinDraft['gate'],
  lanes: readonly RosterLane[] = spot.lanes,
): void {
  gathering.add({
    kind: 'join',
    id: gathering.freshId(idOf(line, spot.rounds, name)),
    line,
    section: spot.section,
    lanes: lanes.map(({ lane }) => lane),
    gate,
  });
}
