import { type Instant, instant } from '../../shared-types/brand.ts';
import type { RepTime } from '../../shared-types/results.ts';

/** When a swimmer first left on any of these reps; null when on none. */
export function begunAt(reps: readonly Pick<RepTime, 'leftAt'>[]): Instant | null {
  const left = reps.flatMap(({ leftAt }) => leftAt ?? []);
  return left.length > 0 ? instant(Math.min(...left)) : null;
}
