import { instant } from '../../shared-types/brand.ts';
import type { Squad } from '../../shared-types/squad.ts';
import type { ClockFace } from '../../shared-types/time.ts';
import type { PoolClock } from '../clock.ts';
import type { Store } from '../store/store.ts';
import { todayOf } from './week-plan.ts';

interface Parts {
  readonly store: Store;
  readonly clock: PoolClock;
  /** IANA name. */
  readonly timezone: string;
}

/** On which day an instant is on the pool's clock, as it is shown: YYYY-MM-DD. */
export function poolDayOf({ store, timezone }: Omit<Parts, 'clock'>, at: number): string {
  const face: ClockFace = { timezone, trimMs: store.pool.runSettings().trimMs };
  return todayOf({ face, now: instant(at) });
}

/** Which day it is there. */
export const poolDay = (parts: Parts): string => poolDayOf(parts, parts.clock.now());

/** The squad without those who are away today: who practices are planned for. */
export function presentSquad(parts: Parts): Squad {
  const away = parts.store.absences.on(poolDay(parts));
  return { swimmers: parts.store.squad.squad().swimmers.filter(({ id }) => !away.has(id)) };
}
