import { type Instant, ms } from '../../shared-types/brand.ts';
import { type LaneMotion, nextGateOf, repFrom, sendOffsOf } from '../../shared-types/motion.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { joinsFrom, spotOf } from '../../shared-types/trace.ts';
import { notNow, repWords, secondsText, type Vectors } from './in-words.ts';
import { afresh, type LaneThen, type Spot } from './vectors.ts';

interface Beginning extends Spot {
  readonly then: LaneThen;
  ahead: number;
  behind: number;
}

/**
 * All lanes from the top. The start is the coach's release: it opens a gate that its lanes have nothing before, and
 * joins that nobody has anything before are behind them all.
 */
export function startAll(sheet: Sheet, lanes: readonly LaneThen[], setsOffAt: Instant): LaneMotion[] {
  const beginnings = lanes.map((then): Beginning => ({ then, position: ms(0), ahead: 0, behind: 0 }));
  const stopped = new Set<Beginning>();
  sheet.joins.forEach((join, index) => {
    const here = beginnings.filter(({ then }) => join.lanes.includes(then.run.lane.lane));
    // A gate that is a lane's first step lies before its second.
    const isFirst = ({ then, ahead }: Beginning): boolean => {
      const spot = spotOf(sheet, then.run.lane, index);
      return join.gate ? spot === 1 && ahead === 0 : spot <= ahead;
    };
    const allPass = here.every((beginning) => !stopped.has(beginning) && isFirst(beginning));
    for (const beginning of here) {
      if (!allPass) stopped.add(beginning);
      else beginning.behind = index + 1;
      if (allPass && join.gate) beginning.ahead = 1;
    }
  });
  return beginnings.map((beginning) => afresh(sheet, beginning.then, beginning, setsOffAt));
}

/**
 * The gate that a start has opened, if it is one alone: then the start was a go too, and can be recalled as one.
 * @param motions every lane's after the start
 */
export function gateOpenedBy(sheet: Sheet, motions: readonly LaneMotion[]): { readonly gate?: number } {
  const opened = motions.flatMap((motion) =>
    motion.gates > 0 ? (nextGateOf(sheet, { ...motion, gates: 0 }) ?? []) : [],
  );
  const [gate, ...others] = new Set(opened);
  return gate === undefined || others.length > 0 ? {} : { gate };
}

/**
 * Opens a gate for all its lanes. They need not have come to it: the coach may cut short the rep they are on, or the
 * rest after it, but no rep that has yet to begin.
 */
export function openGate(
  sheet: Sheet,
  lanes: readonly LaneThen[],
  gateIndex: number,
  at: Instant,
  setsOffAt: Instant,
): Vectors {
  const gate = sheet.joins[gateIndex];
  if (!gate?.gate) return notNow('There is no such stop in this practice.', 'Load the page again.');
  const here = lanes.filter(({ run }) => gate.lanes.includes(run.lane.lane));
  if (here.every(({ run }) => isBehind(sheet, run.motion, gateIndex))) return notNow('That go has been given.');
  for (const then of here) {
    const busy = whatComesBefore(sheet, lanes, then, gateIndex) ?? whoHasYetToLeave(then, at);
    if (busy) return notNow(busy, 'Wait for it, or press next.');
  }
  return lanes.map((then) => {
    if (!here.includes(then)) return then.run.motion;
    return afresh(sheet, then, { position: gate.atMs, ahead: then.run.end + 1, behind: gateIndex + 1 }, setsOffAt);
  });
}

function isBehind(sheet: Sheet, motion: LaneMotion, gateIndex: number): boolean {
  const next = nextGateOf(sheet, motion);
  return next === null || next > gateIndex;
}

/** What a lane has yet to do before it can be let through a gate, in words; null when nothing is in the way. */
function whatComesBefore(
  sheet: Sheet,
  lanes: readonly LaneThen[],
  { run, place }: LaneThen,
  gateIndex: number,
): string | null {
  const { lane, motion, end } = run;
  const ahead = repFrom(lane, place.ahead, end);
  if (ahead < end) return `Lane ${lane.lane} is still ${repWords(lane, place.begun, ahead)}.`;
  if (nextGateOf(sheet, motion) !== gateIndex) return `Lane ${lane.lane} waits for another go first.`;
  const awaited = lanes.find((other) => isAwaited(sheet, { run, place }, other, gateIndex));
  return awaited ? `Lane ${lane.lane} waits for lane ${awaited.run.lane.lane} first.` : null;
}

/** Somebody of the rep in hand who has not left yet: with the next go they would never leave on it. */
function whoHasYetToLeave({ run, place }: LaneThen, at: Instant): string | null {
  const sendOffs = place.begun < 0 ? [] : sendOffsOf(run, place.begun);
  const next = sendOffs.find((sendOff) => sendOff !== null && sendOff > at) ?? null;
  if (next === null) return null;
  return `In lane ${run.lane.lane} somebody leaves in ${secondsText(next - at)}.`;
}

/** Whether the lane meets another at a join before the gate that the gate does not let through with it. */
function isAwaited(sheet: Sheet, then: LaneThen, other: LaneThen, gateIndex: number): boolean {
  const number = other.run.lane.lane;
  if (sheet.joins[gateIndex]?.lanes.includes(number)) return false;
  return sheet.joins.some(
    (join, index) =>
      index < gateIndex &&
      join.lanes.includes(then.run.lane.lane) &&
      join.lanes.includes(number) &&
      !hasPassed(sheet, then, index) &&
      !hasPassed(sheet, other, index),
  );
}

const hasPassed = (sheet: Sheet, { run, place }: LaneThen, join: number): boolean =>
  join < joinsFrom(sheet, run.motion) || place.position > (sheet.joins[join]?.atMs ?? 0);
