import type { Pool } from '../../shared-types/pool.ts';
import { lastSplitOf, type RepStep, type Sheet, targetsOf } from '../../shared-types/sheet.ts';
import { type Event, type RaceStroke, type Swimmer, strokeOf } from '../../shared-types/squad.ts';
import { eventTime, isEventTime } from '../planning/pace/event-time.ts';

/**
 * How long a swim should take. A target says it. Without one a coach has an idea all the same; what stands here instead
 * of that idea is a convention of ours, used to make swimmers come in and never shown as anybody's time.
 */

/** Share of 200-pace speed that is swum, pulled, kicked and drilled at where no target says more. */
const SHARE_OF_200 = { swim: 0.75, pull: 0.7, kick: 0.55, drill: 0.55 } as const;
/** Of somebody without any time: so long for 100. */
const UNKNOWN_MS_PER_100 = 110_000;
/** Who has a send-off to make is back when this share of the time is over. */
const BACK_BY_SHARE = 0.95;

/** A swim asked of a swimmer. */
export interface AskedSwim {
  readonly sheet: Sheet;
  readonly rep: RepStep;
  readonly swimmer: Swimmer;
  readonly pool: Pool;
}

/** @returns ms; of a rep of so many seconds, those */
export function expectedSwimMs(asked: AskedSwim): number {
  const { sheet, rep, swimmer } = asked;
  if (rep.distance === undefined) return rep.timedMs ?? rep.durationMs;
  const target = targetsOf(sheet, rep).find((each) => each.swimmer === swimmer.id);
  const last = lastSplitOf(target);
  if (target && target.ms !== null) return target.ms;
  // A target for the first part only: the rest at the same speed.
  const swumMs = last ? (last.ms * rep.distance) / last.distance : untargetedMs(asked, rep.distance);
  const isReleased = sheet.sets[rep.set]?.release === 'go' || rep.durationMs === 0;
  return isReleased ? swumMs : Math.min(swumMs, rep.durationMs * BACK_BY_SHARE);
}

function untargetedMs({ sheet, rep, swimmer, pool }: AskedSwim, distance: number): number {
  const activity = sheet.sets[rep.set]?.activity ?? 'swim';
  const stroke = (rep.stroke === 'own' ? swimmer.main?.stroke : strokeOf(rep.stroke)) ?? 'free';
  if (rep.effort === 'max') {
    const own = timeOf(swimmer, { distance, stroke, activity }, pool);
    if (own !== null) return own;
  }
  const share = rep.effort === 'max' ? 1 : SHARE_OF_200[activity];
  return (msPer100(swimmer, stroke, pool) * distance) / 100 / share;
}

/** At the pace of the swimmer's 200 of the stroke, or else of freestyle. */
function msPer100(swimmer: Swimmer, stroke: RaceStroke, pool: Pool): number {
  const of200 = (each: RaceStroke) => timeOf(swimmer, { distance: 200, stroke: each, activity: 'swim' }, pool);
  const timeMs = of200(stroke) ?? of200('free');
  return timeMs === null ? UNKNOWN_MS_PER_100 : timeMs / 2;
}

function timeOf(swimmer: Swimmer, event: Event, pool: Pool): number | null {
  const time = eventTime(swimmer, event, pool);
  return isEventTime(time) ? time.timeMs : null;
}
