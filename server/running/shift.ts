import { type Instant, instant, type LaneNumber, ms } from '../../shared-types/brand.ts';
import type { Refusal } from '../../shared-types/commands.ts';
import type { RunEvent } from '../../shared-types/events.ts';
import { type LaneMotion, type LaneRun, laneRunOf, repFrom, sendOffsOf } from '../../shared-types/motion.ts';
import { departuresOf, type Sheet } from '../../shared-types/sheet.ts';
import { joinsFrom } from '../../shared-types/trace.ts';
import { notNow, secondsText, type Vectors } from './in-words.ts';
import type { SheetAfter } from './taking-back.ts';
import { from, type LaneThen, leadInOf } from './vectors.ts';

/** One lane later (+) or earlier (−) from where it is at `at`; the others keep their vectors. */
export function shiftLane(
  sheet: Sheet,
  lanes: readonly LaneThen[],
  number: LaneNumber,
  byMs: number,
  at: Instant,
): Vectors {
  const then = lanes.find(({ run }) => run.lane.lane === number);
  if (!then) return { ok: false, code: 'unknown-lane', message: `Nobody swims in lane ${number}.` };
  const refusal = standsStill(then) ?? (byMs < 0 ? tooEarly(sheet, then, byMs, at) : null);
  if (refusal) return refusal;
  return lanes.map((each) => (each === then ? shifted(then, Math.round(byMs), at) : each.run.motion));
}

/** A run's history as far as it tells shifts. */
interface Shifts {
  /** All of the run so far. */
  readonly events: readonly RunEvent[];
  readonly sheetAfter: SheetAfter;
  readonly at: Instant;
}

/** After these, nothing of what a lane was shifted before is left. */
const SETS_OFF_ALL: readonly RunEvent['kind'][] = ['start', 'next', 'nextSet', 'back'];

/** Whether after this event nothing of what a lane was shifted before is left. */
function endsShifts(sheet: Sheet, event: RunEvent, lane: LaneNumber): boolean {
  if (SETS_OFF_ALL.includes(event.kind)) return true;
  return event.gate !== undefined && (sheet.joins[event.gate]?.lanes.includes(lane) ?? false);
}

/** How many joins a lane has behind it at an instant. */
function joinsMet(sheet: Sheet, { motion, trace }: LaneRun, at: Instant): number {
  const left = trace.findLast(({ rate, join, at: from }) => rate === 1 && join !== undefined && from <= at);
  return Math.max(joinsFrom(sheet, motion), (left?.join ?? -1) + 1);
}

/** The same for a lane as it moves by these vectors. */
function joinsMetBy(sheet: Sheet, motions: readonly LaneMotion[], lane: LaneNumber, at: Instant): number {
  const run = laneRunOf(sheet, motions, lane);
  return run ? joinsMet(sheet, run, at) : 0;
}

/**
 * [CMD2] How much later (+) or earlier (−) than the other lanes a lane swims for having been shifted, ms: since all set
 * off, since its last go, or since it last went on from a join.
 */
function shiftedBy(lane: LaneNumber, { events, sheetAfter, at }: Shifts): number {
  const newest = events[events.length - 1];
  const met = newest ? joinsMetBy(sheetAfter(newest.seq).sheet, newest.motions, lane, at) : 0;
  const takenBack = new Set(events.flatMap(({ kind, takesBack }) => (kind === 'undo' ? (takesBack ?? []) : [])));
  let sumMs = 0;
  for (let place = events.length - 1; place >= 0; place -= 1) {
    const event = events[place];
    if (!event) break;
    const { sheet } = sheetAfter(event.seq);
    if (joinsMetBy(sheet, event.motions, lane, event.at) < met) break;
    if (takenBack.has(event.seq)) continue;
    if (endsShifts(sheet, event, lane)) break;
    if (event.lane === lane) sumMs += event.byMs ?? 0;
  }
  return sumMs;
}

/** [CMD2] The lane as it would be without having been shifted. @returns also by how much that moves it */
export function realignLane(
  sheet: Sheet,
  lanes: readonly LaneThen[],
  number: LaneNumber,
  shifts: Shifts,
): { byMs: number; motions: LaneMotion[] } | Refusal {
  const then = lanes.find(({ run }) => run.lane.lane === number);
  if (!then) return { ok: false, code: 'unknown-lane', message: `Nobody swims in lane ${number}.` };
  const byMs = -shiftedBy(number, shifts);
  if (byMs === 0) return notNow(`Lane ${number} swims with the others.`);
  const motions = shiftLane(sheet, lanes, number, byMs, shifts.at);
  return Array.isArray(motions) ? { byMs, motions } : motions;
}

function standsStill({ run, place }: LaneThen): Refusal | null {
  const lane = `Lane ${run.lane.lane}`;
  if (place.state === 'done') return notNow(`${lane} has swum everything.`);
  if (place.state === 'at gate') return notNow(`${lane} waits for your go, so there is nothing to move.`);
  if (place.state === 'at join') return notNow(`${lane} waits for the other lanes, so there is nothing to move.`);
  return null;
}

function shifted(then: LaneThen, byMs: number, at: Instant): LaneMotion {
  const standsMs = leadInOf(then, at) + byMs;
  const aheadMs = Math.max(0, -standsMs);
  return from(then, at, ms(then.place.position + aheadMs), 1, instant(at + Math.max(0, standsMs)));
}

interface Fixed {
  readonly position: number;
  readonly what: 'leaves' | 'meets the other lanes' | 'comes to the next stop' | 'is done';
}

/** The places ahead at which somebody of the rep in hand has yet to leave. */
function gapsAhead({ run, place }: LaneThen, at: Instant): number[] {
  const step = run.lane.steps[place.begun];
  if (step?.kind !== 'rep') return [];
  const sendOffs = sendOffsOf(run, place.begun);
  return departuresOf(run.lane, step).flatMap(({ afterMs }, order) =>
    (sendOffs[order] ?? at) > at ? [step.atMs + afterMs] : [],
  );
}

/** The next thing a lane moved earlier must not jump over: somebody's send-off, a join, a gate, its end. */
function nextFixed(sheet: Sheet, then: LaneThen, at: Instant): Fixed {
  const { lane, end } = then.run;
  const next = lane.steps[repFrom(lane, then.place.ahead, end)];
  const gate = lane.steps[end];
  const met = joinsMet(sheet, then.run, at);
  const joins = sheet.joins.filter(
    ({ lanes, atMs }, index) =>
      lanes.includes(lane.lane) && (atMs > then.place.position || (atMs === then.place.position && index >= met)),
  );
  const fixed: Fixed[] = [
    ...gapsAhead(then, at).map((position): Fixed => ({ position, what: 'leaves' })),
    ...(next?.kind === 'rep' ? [{ position: next.atMs, what: 'leaves' as const }] : []),
    gate ? { position: gate.atMs, what: 'comes to the next stop' } : { position: lane.durationMs, what: 'is done' },
    ...joins.map(({ atMs }): Fixed => ({ position: atMs, what: 'meets the other lanes' })),
  ];
  return fixed.reduce((best, one) => (one.position < best.position ? one : best));
}

function tooEarly(sheet: Sheet, then: LaneThen, byMs: number, at: Instant): Refusal | null {
  const { position, what } = nextFixed(sheet, then, at);
  const leftMs = leadInOf(then, at) + position - then.place.position;
  if (-byMs <= leftMs) return null;
  const earlier = what === 'leaves' ? 'leave' : 'do so';
  const [left, by] = [secondsText(leftMs), secondsText(-byMs)];
  return notNow(`Lane ${then.run.lane.lane} ${what} in ${left}: it cannot ${earlier} ${by} earlier.`);
}
