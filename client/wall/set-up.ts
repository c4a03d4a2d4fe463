import { isolated } from '../../shared-types/isolated.ts';
import type { End } from '../../shared-types/pool.ts';
import type { SheetLane } from '../../shared-types/sheet.ts';
import type { WallSetUp } from '../../shared-types/wire/walls.ts';
import type { Screen } from './legibility.ts';

/** The sheet's lanes that this wall shows, top to bottom, and the end of the pool that is to their right: its own. */
export function lanesSeen(
  sheet: { readonly lanes: readonly Pick<SheetLane, 'lane'>[] },
  wall: WallSetUp | null,
): { lanes: number[]; rightEnd: End } {
  const { lanes = null, order = 'first-on-top', place = 'far' } = wall?.settings ?? {};
  const shown = sheet.lanes.map(({ lane }) => lane).filter((lane) => lanes === null || lanes.includes(lane));
  return { lanes: order === 'first-on-top' ? shown : shown.reverse(), rightEnd: place };
}

/** `wall 2`, `wall 2 · Far end`; empty before the server has given it a number. */
export function wallName(wall: WallSetUp | null): string {
  if (!wall) return '';
  const number = `wall ${wall.number}`;
  return wall.settings ? `${number} · ${isolated(wall.settings.name)}` : number;
}

/** What is known of the picture and of who looks at it: as set up, else as the page's address says. */
export function seenFrom(wall: WallSetUp | null, address: URLSearchParams): Omit<Screen, 'width' | 'height'> {
  const { diagonalInches = null, distanceM = null } = wall?.settings ?? {};
  const diagonal = diagonalInches ?? positive(address.get('diagonal'));
  const distance = distanceM ?? positive(address.get('distance'));
  return {
    ...(diagonal === null ? {} : { diagonalInches: diagonal }),
    ...(distance === null ? {} : { distanceM: distance }),
  };
}

function positive(written: string | null): number | null {
  const value = Number(written);
  return Number.isFinite(value) && value > 0 ? value : null;
}
