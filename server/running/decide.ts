import { type Instant, instant } from '../../shared-types/brand.ts';
import type { Command, Refusal } from '../../shared-types/commands.ts';
import type { Run, RunEvent, RunState } from '../../shared-types/events.ts';
import type { LaneMotion } from '../../shared-types/motion.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import type { RunPlan } from '../planning/revise.ts';
import { changed } from './changing.ts';
import { gateOpenedBy, openGate, startAll } from './gates.ts';
import { notNow, overtaken, refusedIn, type Vectors } from './in-words.ts';
import { toLast, toNext } from './jumps.ts';
import { goingOn, goOnAt, type SettingOff, setOffAt } from './setting-off.ts';
import { realignLane, shiftLane } from './shift.ts';
import { recalled, type SheetAfter, undone } from './taking-back.ts';
import { from, type LaneThen, lanesThen, leadInOf } from './vectors.ts';

export interface DecisionContext {
  readonly now: Instant;
  /** All of the run's events so far. */
  readonly events: readonly RunEvent[];
  /** The sheet that the lanes swam by after event `seq`, and its hash; 0: the first. */
  readonly sheetAfter: SheetAfter;
  /** What the sheet was made from; null for runs from before practices could be changed as they are swum. */
  readonly plan: RunPlan | null;
  readonly settings: SettingOff;
}

export type Decision =
  | {
      readonly ok: true;
      readonly event: RunEvent;
      /** [CMD7] Another version of the sheet, whose hash the event has yet to be given. */
      readonly revised?: Sheet;
    }
  | Refusal;

/** [CMD4] How late a press may take effect, how old it may be at all, and how far its clock may be ahead, ms. */
const MOST_LATE_MS = 2000;
const STALE_MS = 5000;
const MOST_AHEAD_MS = 200;

/**
 * [RUN2] [RUN4] [CMD2–4] What a control command does to a run: the event that carries the state and every lane's
 * vector afterwards, or why it is refused. Pure: the same arguments give the same decision.
 */
export function decide(sheet: Sheet, run: Run, command: Command, context: DecisionContext): Decision {
  const { now, events } = context;
  const later = events.filter(({ seq }) => seq > command.basedOnSeq);
  const refusal =
    notInTime(command.pressedAt, now) ?? overtaken(command, later, now) ?? refusedIn(run.state, command.kind);
  if (refusal) return refusal;
  const at = effectOf(command.pressedAt, run, now);
  const effect = effectOfCommand(sheet, run, command, at, context);
  if ('ok' in effect) return effect;
  const { revised, ...carried } = effect;
  const event: RunEvent = {
    run: run.id,
    seq: run.seq + 1,
    kind: command.kind,
    command: command.id,
    device: command.device,
    at,
    decidedAt: instant(Math.round(now)),
    ...carried,
    motions: [...carried.motions],
  };
  return { ok: true, event, ...(revised ? { revised } : {}) };
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

/** What an event carries of its effect. */
type Effect = Pick<RunEvent, 'state' | 'lane' | 'byMs' | 'gate' | 'takesBack' | 'change' | 'sheet'> & {
  readonly motions: readonly LaneMotion[];
  readonly revised?: Sheet;
};

/** The lanes move (or stand) by these vectors, in this state. */
const becomes = (state: RunState, motions: Vectors, more: Partial<Effect> = {}): Effect | Refusal =>
  Array.isArray(motions) ? { ...more, state, motions } : motions;

function effectOfCommand(
  sheet: Sheet,
  run: Run,
  command: Command,
  at: Instant,
  { settings, events, plan, sheetAfter }: DecisionContext,
): Effect | Refusal {
  const lanes = lanesThen(sheet, run.motions, at);
  switch (command.kind) {
    case 'start': {
      const motions = startAll(sheet, lanes, setOffAt(command.when, at, settings));
      return becomes('running', motions, gateOpenedBy(sheet, motions));
    }
    case 'hold':
      return becomes('held', held(lanes, at));
    case 'finish':
      return becomes(
        'finished',
        lanes.map((then) => from(then, at, then.place.position, 0, at)),
      );
    case 'resume':
      return becomes('running', resumed(lanes, goOnAt(sheet, run.motions, command.when, at, settings)));
    case 'go': {
      const { gate, when } = command;
      return becomes('running', openGate(sheet, lanes, gate, at, setOffAt(when, at, settings)), { gate });
    }
    case 'next':
    case 'nextSet': {
      const stride = command.kind === 'next' ? 'rep' : 'set';
      return becomes(
        'running',
        toNext(sheet, lanes, stride, at, setOffAt(command.when, at, settings), settings.trimMs),
      );
    }
    case 'back':
      return becomes('running', toLast(sheet, lanes, at, setOffAt(command.when, at, settings)));
    case 'shift': {
      const { lane, byMs } = command;
      if (byMs === 0) return notNow('A shift of 0 s changes nothing.');
      return becomes('running', shiftLane(sheet, lanes, lane, byMs, at), { lane, byMs });
    }
    case 'realign': {
      const realigned = realignLane(sheet, lanes, command.lane, { events, sheetAfter, at });
      if ('ok' in realigned) return realigned;
      return becomes('running', realigned.motions, { lane: command.lane, byMs: realigned.byMs });
    }
    case 'recall':
      return recalled(sheet, run, events, at);
    case 'undo':
      return undone(events, sheetAfter, at);
    case 'change': {
      const { change } = command;
      const revised = changed(sheet, run.state, lanes, change, at, { plan, events, settings });
      if ('ok' in revised) return revised;
      return { state: run.state, motions: revised.motions, change, revised: revised.sheet };
    }
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
