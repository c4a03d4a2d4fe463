import type { Pool } from '../../../shared-types/pool.ts';
import type { Event, Swimmer } from '../../../shared-types/squad.ts';
import { eventText } from '../../../shared-types/squad.ts';
import type { NoPace } from './pace.ts';
import { referenceFor, referenceText } from './references.ts';

/** A swimmer's time for a whole event, and where it comes from. */
export interface EventTime {
  readonly timeMs: number;
  /** `200 free 1:58.40 SCM (best, 12 Oct 2026)` */
  readonly basis: string;
  readonly estimated: boolean;
}

/** The time a swimmer is held to have for an event in the pool's course. */
export function eventTime(swimmer: Swimmer, event: Event, pool: Pool): EventTime | NoPace {
  const reference = referenceFor(swimmer, event, pool.course);
  if (!reference) return { missing: `no ${eventText(event)} time (${pool.course})` };
  return { timeMs: reference.timeMs, basis: referenceText(reference), estimated: false };
}
