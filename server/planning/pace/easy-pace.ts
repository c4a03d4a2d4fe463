import type { Pool } from '../../../shared-types/pool.ts';
import type { Event, Swimmer } from '../../../shared-types/squad.ts';
import { eventTime, isEventTime } from './event-time.ts';
import type { PaceResult, Stretch } from './paced.ts';

/**
 * Easy swimming goes at the squad's easy share of 200-pace speed (65 % unless set; common practice, no source): the
 * time is the even 200 pace divided by the share. Choice counts as freestyle; kick, pull and drill need a 200 of
 * their own.
 */
export function easyPace(swimmer: Swimmer, stretch: Stretch, pool: Pool): PaceResult {
  const event: Event = { distance: 200, stroke: stretch.stroke ?? 'free', activity: stretch.activity };
  const time = eventTime(swimmer, event, pool);
  if (!isEventTime(time)) return time;
  const ms = (time.timeMs * stretch.distance) / event.distance / pool.easyShare;
  const share = Math.round(pool.easyShare * 100);
  return { ms, basis: `easy: ${share} % of the speed of ${time.basis}`, estimate: 'easy speed' };
}
