import type { Swimmer } from './squad.ts';
import type { SwimmerPlace } from './wire/lanes.ts';

export const placeOf = ({ id, lane, order, group }: Swimmer): SwimmerPlace => ({
  swimmer: id,
  lane: lane ?? null,
  order: order ?? null,
  group: group ?? null,
});

export const isSamePlace = (a: SwimmerPlace, b: SwimmerPlace): boolean =>
  a.swimmer === b.swimmer && a.lane === b.lane && a.order === b.order && a.group === b.group;

/** The swimmer at another place, all else as before. */
export function atPlace({ lane: _, order: _order, group: _group, ...rest }: Swimmer, place: SwimmerPlace): Swimmer {
  return {
    ...rest,
    ...(place.lane === null ? {} : { lane: place.lane }),
    ...(place.order === null ? {} : { order: place.order }),
    ...(place.group === null ? {} : { group: place.group }),
  };
}
