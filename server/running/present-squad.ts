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

/** Which day it is on the pool's clock, as it is shown: YYYY-MM-DD. */
export function poolDay({ store, clock, timezone }: Parts): string {
  const face: ClockFace = { timezone, trimMs: store.pool.runSettings().trimMs };
  return todayOf({ face, now: clock.now() });
}

/** The squad without those who are away today: who practices are planned for. */
export function presentSquad(parts: Parts): Squad {
  const away = parts.store.absences.on(poolDay(parts));
  return { swimmers: parts.store.squad.squad().swimmers.filter(({ id }) => !away.has(id)) };
}
