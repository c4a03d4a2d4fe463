import type { LaneNumber, SwimmerId } from '../../shared-types/brand.ts';
import type { Change } from '../../shared-types/changes.ts';
import type { Squad, Swimmer } from '../../shared-types/squad.ts';
import { byOrder } from './roster.ts';

/** Who swims in which lane, in the order in which they leave. */
type Lineups = Map<LaneNumber, SwimmerId[]>;

interface Spot {
  readonly lane: LaneNumber;
  /** From 0. */
  readonly place: number;
}

function lineupsOf({ swimmers }: Squad): Lineups {
  const lineups: Lineups = new Map();
  for (const { id, lane } of [...swimmers].sort(byOrder)) {
    if (lane !== undefined) lineups.set(lane, [...(lineups.get(lane) ?? []), id]);
  }
  return lineups;
}

function takeOut(lineups: Lineups, swimmer: SwimmerId): Spot | null {
  for (const [lane, ids] of lineups) {
    const place = ids.indexOf(swimmer);
    if (place < 0) continue;
    ids.splice(place, 1);
    return { lane, place };
  }
  return null;
}

function putIn(lineups: Lineups, swimmer: SwimmerId, { lane, place }: Spot): void {
  const ids = lineups.get(lane) ?? [];
  ids.splice(Math.min(place, ids.length), 0, swimmer);
  lineups.set(lane, ids);
}

/** The lineups after the changes, one after the other; who sits out comes back to the spot that was left. */
function changed(lineups: Lineups, changes: readonly Change[]): Lineups {
  const out = new Map<SwimmerId, Spot>();
  for (const change of changes) {
    if (change.kind === 'sitOut') {
      const spot = takeOut(lineups, change.swimmer);
      if (spot) out.set(change.swimmer, spot);
    } else if (change.kind === 'rejoin') {
      const spot = out.get(change.swimmer);
      if (spot && takeOut(lineups, change.swimmer) === null) putIn(lineups, change.swimmer, spot);
    } else if (change.kind === 'move' || change.kind === 'join') {
      takeOut(lineups, change.swimmer);
      const place = change.order === undefined ? Number.MAX_SAFE_INTEGER : change.order - 1;
      putIn(lineups, change.swimmer, { lane: change.lane, place });
    }
  }
  return lineups;
}

/**
 * [CMD7] The squad after swimmers have been moved, have joined, sat out or come back. A lane keeps its pace group,
 * whoever swims in it.
 * @param groups the pace group of each lane of the sheet
 */
export function amendSquad(squad: Squad, changes: readonly Change[], groups: ReadonlyMap<LaneNumber, string>): Squad {
  const lineups = changed(lineupsOf(squad), changes);
  const spots = new Map<SwimmerId, Spot>(
    [...lineups].flatMap(([lane, ids]) => ids.map((id, place): [SwimmerId, Spot] => [id, { lane, place }])),
  );
  const swimmers = squad.swimmers.map(({ lane: _lane, order: _order, ...swimmer }): Swimmer => {
    const spot = spots.get(swimmer.id);
    if (!spot) return swimmer;
    const group = groups.get(spot.lane) ?? swimmer.group;
    return { ...swimmer, lane: spot.lane, order: spot.place + 1, ...(group === undefined ? {} : { group }) };
  });
  return { swimmers };
}
