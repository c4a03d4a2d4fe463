import type { Pool } from '../../../shared-types/pool.ts';
import { type Swimmer, strokeText } from '../../../shared-types/squad.ts';
import type { SwimmerThreshold } from '../../../shared-types/wire/swimmer.ts';
import { thresholdOf } from './threshold.ts';

/** The thresholds of a swimmer, of each stroke and activity that can be told, in the order of the times. Medleys have none. */
export function thresholdsOf(swimmer: Swimmer, pool: Pool): SwimmerThreshold[] {
  const known = new Map(swimmer.references.map(({ event }) => [strokeText(event), event]));
  return [...known].flatMap(([what, event]) => {
    if (event.stroke === 'IM') return [];
    const threshold = thresholdOf(swimmer, event, pool);
    if ('missing' in threshold) return [];
    const { per100Ms, from, estimate } = threshold;
    return [{ what, per100Ms, from, estimate }];
  });
}
