import { type Instant, instant } from '../../shared-types/brand.ts';
import type { Command, Refusal } from '../../shared-types/commands.ts';
import type { Run, RunEvent, RunState } from '../../shared-types/events.ts';
import type { LaneMotion } from '../../shared-types/motion.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { openGate, startAll } from './gates.ts';
import { notNow, overtaken, refusedIn, type Vectors } from './in-words.ts';
import { toLast, toNext } from './jumps.ts';
import { goingOn, goOnAt, type SettingOff, setOffAt } from './setting-off.ts';
import { shiftLane } from './shift.ts';
import { from, type LaneThen, lanesThen, leadInOf } from './vectors.ts';

export interface DecisionContext {
  readonly now: Instant;
  /** [CMD3] The run's events after the last one the device had seen. */
  readonly later: readonly RunEvent[];
  readonly settings: SettingOff;
}

export type Decision = { readonly ok: true; readonly event: RunEvent } | Refusal;

/** [CMD4] How late a press may take effect, how old it may be at all, and how far its clock may be ahead, ms. */
const MOST_LATE_MS = 2000;
const STALE_MS = 5000;
const MOST_AHEAD_MS = 200;

const STATE_AFTER: Readonly<Record<Command['kind'], RunState>> = {
  start: 'running',
  hold: 'held',
  resume: 'running',
  go: 'running',
  next: 'running',
  back: 'running',
  shift: 'running',
  finish: 'finished',
};

/**
 * [RUN2] [RUN4] [CMD2–4] What a control command does to a run: the event that carries the state and every lane's
 * vector afterwards, or why it is refused. Pure: the same arguments give the same decision.
 */
export function decide(sheet: Sheet, run: Run, command: Command, context: DecisionContext): Decision {
  const { now, later } = context;
  const refusal =
    notInTime(command.pressedAt, now) ?? overtaken(command, later, now) ?? refusedIn(run.state, command.kind);
  if (refusal) return refusal;
  const at = effectOf(command.pressedAt, run, now);
  const motions = vectorsAfter(sheet, run, command, at, context.settings);
  if (!Array.isArray(motions)) return motions;
  const event: RunEvent = {
    run: run.id,
    seq: run.seq + 1,
    kind: command.kind,
    command: command.id,
    device: command.device,
    at,
    decidedAt: instant(Math.round(now)),
    ...(command.kind === 'shift' ? { lane: command.lane } : {}),
    state: STATE_AFTER[command.kind],
    motions,
  };
  return { ok: true, event };
}

function notInTime(pressedAt: Instant, now: Instant): Refusal | null {
  if (now - pressedAt > STALE_MS) {
    const message = 'This press reached the server too late, so it did nothing.';
    return { ok: false, code: 'stale', message, fix: 'Press again.' };
  }
  if (pressedAt - now > MOST_AHEAD_MS) {
    const message = "This device's clock is ahead of the server's, so the press did nothing.";
    return { ok: false, code: 'ahead', message, fix: 'Wait a few seconds until the clocks agree, then press again.' };
  }
  return null;
}

/** [CMD4] The press itself, but not before what happened last, and not long ago. */
const effectOf = (pressedAt: Instant, run: Run, now: Instant): Instant =>
  instant(Math.round(Math.max(pressedAt, run.changedAt ?? pressedAt, now - MOST_LATE_MS)));

function vectorsAfter(sheet: Sheet, run: Run, command: Command, at: Instant, settings: SettingOff): Vectors {
  const lanes = lanesThen(sheet, run.motions, at);
  switch (command.kind) {
    case 'start':
      return startAll(sheet, lanes, setOffAt(command.when, at, settings));
    case 'hold':
      return held(lanes, at);
    case 'finish':
      return lanes.map((then) => from(then, at, then.place.position, 0, at));
    case 'resume':
      return resumed(lanes, goOnAt(sheet, run.motions, command.when, at, settings));
    case 'go':
      return openGate(sheet, lanes, command.gate, setOffAt(command.when, at, settings));
    case 'next':
      return toNext(sheet, lanes, at, setOffAt(command.when, at, settings), settings.trimMs);
    case 'back':
      return toLast(sheet, lanes, at, setOffAt(command.when, at, settings));
    case 'shift':
      return command.byMs === 0
        ? notNow('A shift of 0 s changes nothing.')
        : shiftLane(sheet, lanes, command.lane, command.byMs, at);
  }
}

/** Every lane stands where it is; of those about to go on, who was put off is still as much later than the first. */
function held(lanes: readonly LaneThen[], at: Instant): LaneMotion[] {
  const underWay = lanes.filter(({ place }) => place.state === 'moving' || place.state === 'lead-in');
  const firstMs = Math.min(...underWay.map((then) => leadInOf(then, at)));
  return lanes.map((then) => {
    const lagMs = underWay.includes(then) ? leadInOf(then, at) - firstMs : 0;
    return { ...from(then, at, then.place.position, 0, at), ...(lagMs > 0 ? { lagMs } : {}) };
  });
}

const resumed = (lanes: readonly LaneThen[], at: Instant): LaneMotion[] =>
  lanes.map(({ run: { motion } }) => goingOn(motion, at));
