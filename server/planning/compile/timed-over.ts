import type { Pool } from '../../../shared-types/pool.ts';
import type { SetItem } from '../../../shared-types/practice.ts';
import type { SheetSet } from '../../../shared-types/sheet.ts';

/** Where a rep on the pool's pulley is timed; nothing of one that is no longer than that. */
export function timedOver({ size, equipment }: SetItem, { rig }: Pool): Pick<SheetSet, 'timedDistance'> {
  const timedDistance = rig?.timedDistance;
  if (timedDistance === undefined || size.kind !== 'distance' || size.distance <= timedDistance) return {};
  return equipment.some(({ name }) => name === 'pulley') ? { timedDistance } : {};
}
