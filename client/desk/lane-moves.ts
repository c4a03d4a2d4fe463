import { type LaneNumber, laneNumberSchema, type SwimmerId } from '../../shared-types/brand.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import { isSamePlace, placeOf } from '../../shared-types/swimmer-place.ts';
import type { ChangeLanes, LanesProposal, SwimmerPlace } from '../../shared-types/wire/lanes.ts';
import { MOVE_KEYS } from './keys.ts';

/** Where a swimmer is to swim. */
export interface Move {
  readonly swimmer: SwimmerId;
  /** Null: in none. */
  readonly lane: LaneNumber | null;
  /** How many leave before, of the others in that lane. */
  readonly place: number;
}

/** By the order written, then as in the squad. */
const byOrder = (a: Swimmer, b: Swimmer): number => (a.order ?? 99) - (b.order ?? 99);

/** Who swims in a lane, or in none, in the order in which they leave. */
export const swimmersIn = (swimmers: readonly Swimmer[], lane: LaneNumber | null): Swimmer[] =>
  swimmers.filter((swimmer) => (swimmer.lane ?? null) === lane).sort(byOrder);

/** Places anew, those left out that are as before. */
function changesTo(swimmers: readonly Swimmer[], places: readonly SwimmerPlace[]): ChangeLanes {
  const now = new Map(swimmers.map((swimmer) => [swimmer.id, placeOf(swimmer)]));
  const changed = places.filter((place) => {
    const before = now.get(place.swimmer);
    return before && !isSamePlace(before, place);
  });
  return { places: changed, instead: changed.flatMap(({ swimmer }) => now.get(swimmer) ?? []) };
}

const inOrder = (swimmers: readonly Swimmer[]): SwimmerPlace[] =>
  swimmers.map((swimmer, place) => ({ ...placeOf(swimmer), order: place + 1 }));

/** A lane swims in one pace group, so whoever comes to others takes on theirs. Both lanes are numbered anew. */
export function changesBy(swimmers: readonly Swimmer[], move: Move): ChangeLanes {
  const mover = swimmers.find(({ id }) => id === move.swimmer);
  if (!mover) return { places: [], instead: [] };
  const left = mover.lane === undefined || mover.lane === move.lane ? [] : swimmersIn(swimmers, mover.lane);
  const stay = inOrder(left.filter(({ id }) => id !== mover.id));
  if (move.lane === null) return changesTo(swimmers, [{ ...placeOf(mover), lane: null, order: null }, ...stay]);
  const others = swimmersIn(swimmers, move.lane).filter(({ id }) => id !== mover.id);
  const group = others[0] ? others[0].group : mover.group;
  const { group: _, ...rest } = mover;
  const moved: Swimmer = { ...rest, lane: move.lane, ...(group === undefined ? {} : { group }) };
  const lane = [...others.slice(0, move.place), moved, ...others.slice(move.place)];
  return changesTo(swimmers, [...inOrder(lane), ...stay]);
}

/** These leave in this order, as far as they still swim in the lane; who swims there besides leaves behind them. */
export function changesByOrder(
  swimmers: readonly Swimmer[],
  lane: LaneNumber,
  order: readonly SwimmerId[],
): ChangeLanes {
  const own = swimmersIn(swimmers, lane);
  const named = order.flatMap((id) => own.find((swimmer) => swimmer.id === id) ?? []);
  return changesTo(swimmers, inOrder([...named, ...own.filter((swimmer) => !named.includes(swimmer))]));
}

/**
 * Everybody of the proposal where it has them. Who is left out of it, being away today, stays in the lane behind the
 * others and goes by its pace group.
 */
export function changesByProposal(swimmers: readonly Swimmer[], { lanes }: LanesProposal): ChangeLanes {
  const groups = new Map(swimmers.map(({ id, group }) => [id, group ?? null]));
  const isProposed = new Set(lanes.flatMap((lane) => lane.swimmers.map(({ id }) => id)));
  const places = lanes.flatMap(({ lane, group, swimmers: proposed }) => {
    const staying = swimmersIn(swimmers, lane).filter(({ id }) => !isProposed.has(id));
    const ids = [...proposed, ...staying].map(({ id }) => id);
    return ids.map((id, place) => ({ swimmer: id, lane, order: place + 1, group: group ?? groups.get(id) ?? null }));
  });
  return changesTo(swimmers, places);
}

export const takenBack = ({ places, instead }: ChangeLanes): ChangeLanes => ({ places: instead, instead: places });

/** `1` to `9`, and `0` for lane 10, as the keys stand in a row. */
const laneOfKey = (key: string): LaneNumber | null =>
  /^\d$/.test(key) ? laneNumberSchema.parse(key === '0' ? 10 : Number(key)) : null;

/** The lane beside; from none to the first or the last. */
function laneBeside(lane: LaneNumber | null, step: 1 | -1, lanes: number): LaneNumber | null {
  const beside = lane === null ? (step > 0 ? 1 : lanes) : lane + step;
  return beside >= 1 && beside <= lanes ? laneNumberSchema.parse(beside) : null;
}

/**
 * What a key means for a swimmer: up and down the order, left and right the lane, a figure that lane, Delete none.
 * @param lanes of the pool
 * @returns null when it means nothing here
 */
export function moveByKey(swimmers: readonly Swimmer[], id: SwimmerId, key: string, lanes: number): Move | null {
  const lane = swimmers.find((swimmer) => swimmer.id === id)?.lane ?? null;
  const own = swimmersIn(swimmers, lane);
  const place = own.findIndex((swimmer) => swimmer.id === id);
  const toEnd = (to: LaneNumber | null): Move | null =>
    to === null || to === lane ? null : { swimmer: id, lane: to, place: swimmersIn(swimmers, to).length };
  switch (key) {
    case 'ArrowUp':
      return lane === null || place === 0 ? null : { swimmer: id, lane, place: place - 1 };
    case 'ArrowDown':
      return lane === null || place === own.length - 1 ? null : { swimmer: id, lane, place: place + 1 };
    case 'ArrowLeft':
      return toEnd(laneBeside(lane, -1, lanes));
    case 'ArrowRight':
      return toEnd(laneBeside(lane, 1, lanes));
    case 'Delete':
    case 'Backspace':
      return lane === null ? null : { swimmer: id, lane: null, place: 0 };
    default:
      return toEnd(laneOfKey(key));
  }
}

const MOVING: ReadonlySet<string> = new Set(Object.values(MOVE_KEYS).flatMap(({ ways }): readonly string[] => ways));

/** Keys that move a swimmer; others keep what they mean to the browser. */
export const isMoveKey = (key: string): boolean => MOVING.has(key);
