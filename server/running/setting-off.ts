import { type Instant, instant } from '../../shared-types/brand.ts';
import type { When } from '../../shared-types/commands.ts';
import { type LaneMotion, laneRunOf, placeIn, repFrom, sendOffOf } from '../../shared-types/motion.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { nextReading } from '../../shared-types/time.ts';

/** How lanes are set off: the reading they fall on, the least time to get ready, and the pool clock's trim, ms. */
export interface SettingOff {
  readonly gridMs: number;
  readonly leadInMs: number;
  readonly trimMs: number;
}

const MINUTE_MS = 60_000;

/** [CMD2] When lanes set off for a press that took effect at `at`: at once, or on the next reading after a lead-in. */
export function setOffAt(when: When, at: Instant, settings: SettingOff): Instant {
  return onReading(when, at, 0, settings);
}

/**
 * [CMD2] When held lanes go on: so that the first send-off they come to falls on the reading, and with it the later
 * ones. With no send-off before a gate they just go on.
 * @param motions the held vectors
 */
export function goOnAt(
  sheet: Sheet,
  motions: readonly LaneMotion[],
  when: When,
  at: Instant,
  settings: SettingOff,
): Instant {
  const going = motions.map((motion) => goingOn(motion, at));
  const delays = motions.flatMap(({ lane }) => {
    const held = laneRunOf(sheet, motions, lane);
    const run = laneRunOf(sheet, going, lane);
    if (!held || !run) return [];
    const sendOff = sendOffOf(run, repFrom(run.lane, placeIn(held, at).ahead, run.end));
    return sendOff === null ? [] : [sendOff - at];
  });
  return onReading(when, at, delays.length > 0 ? Math.min(...delays) : 0, settings);
}

/** A held lane as it goes on when the first does at `at`. */
export function goingOn({ lagMs = 0, ...motion }: LaneMotion, at: Instant): LaneMotion {
  return { ...motion, rate: 1, at: instant(at + lagMs) };
}

/** The first instant a lead-in after `at` for which the clock shows the reading `delayMs` later. */
function onReading(when: When, at: Instant, delayMs: number, settings: SettingOff): Instant {
  if (when === 'now') return at;
  const earliest = instant(at + settings.leadInMs + delayMs);
  const [everyMs, phaseMs] = when === 'grid' ? [settings.gridMs, 0] : [MINUTE_MS, Number(when.slice(1)) * 1000];
  return instant(Math.round(nextReading(earliest, everyMs, phaseMs, settings.trimMs)) - delayMs);
}
