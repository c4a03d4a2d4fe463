import { type Instant, instant } from '../brand.ts';
import type { Run } from '../events.ts';
import { nextGateOf } from '../motion.ts';
import type { End } from '../pool.ts';
import { laneOf, type RepStep, type Sheet, type SheetSet } from '../sheet.ts';
import { type ClockFace, pastTheMinute, timeOfDay } from '../time.ts';
import type { Labels } from '../wire/from-server.ts';
import { type LaneBoard, laneBoardAt, type Moment, markersAt } from './lane.ts';
import type { BoardPhase } from './phase.ts';

/** What a board needs to know of its screen: which lanes, in which order, what to call people, how the clock is read. */
export interface BoardScreen {
  /** Lanes to show, top to bottom; absent: all of the sheet, lane 1 at the top. */
  readonly lanes?: readonly number[];
  /** The end of the pool at the right of the lanes' water; the far end unless said. */
  readonly rightEnd?: End;
  readonly labels: Labels;
  readonly face: ClockFace;
}

/** A set in words, with the section it belongs to. */
export interface BoardSet {
  readonly index: number;
  readonly section: string;
  readonly set: SheetSet;
}

/** What a wall shows at an instant. */
export interface Board {
  readonly phase: BoardPhase;
  readonly at: Instant;
  /** Milliseconds past the minute on the pool's clock. */
  readonly pastMinuteMs: number;
  /** `18:05` */
  readonly timeOfDay: string;
  readonly title: string;
  /** The sets the lanes are at, in the order of the practice; more than one when lanes swim different ones. */
  readonly sets: readonly BoardSet[];
  /** Between sets and near a set's end: the set after these, and when its first lane leaves (null: on the coach). */
  readonly upNext: { readonly set: BoardSet; readonly at: Instant | null } | null;
  readonly lanes: readonly LaneBoard[];
  /** Index into the sheet's joins of each gate that lanes stand at. */
  readonly waitingGates: readonly number[];
}

/** The board with no practice on it: a pace clock. */
export const idleBoard = (at: Instant, face: ClockFace): Board => ({
  phase: 'idle',
  at,
  pastMinuteMs: pastTheMinute(at, face.trimMs),
  timeOfDay: timeOfDay(at, face),
  title: '',
  sets: [],
  upNext: null,
  lanes: [],
  waitingGates: [],
});

/** What the screen shows at `t`: a pure function of sheet, run, instant and screen. */
export function boardAt(sheet: Sheet, run: Run, t: Instant, screen: BoardScreen): Board {
  const moment = momentOf(sheet, run, t, screen);
  const shown = screen.lanes ?? sheet.lanes.map(({ lane }) => lane);
  const lanes = shown.flatMap((number) => {
    const lane = laneOf(sheet, number);
    return lane ? [laneBoardAt(moment, lane)] : [];
  });
  const idle = idleBoard(t, screen.face);
  return {
    ...idle,
    phase: run.state,
    title: sheet.title ?? '',
    sets: setsOf(sheet, lanes),
    upNext: upNextOf(sheet, lanes),
    lanes,
    waitingGates: waitingGatesAt(sheet, run, lanes),
  };
}

const momentOf = (sheet: Sheet, { state, motions }: Run, t: Instant, screen: BoardScreen): Moment => ({
  sheet,
  state,
  motions,
  t,
  labels: screen.labels,
  trimMs: screen.face.trimMs,
  rightEnd: screen.rightEnd ?? 'far',
});

/** What moves on a lane's water. */
export interface LaneSwims extends Pick<LaneBoard, 'markers' | 'changes'> {
  readonly lane: number;
}

/** Where the swimmers of these lanes are at `t`, soon after, while nothing else on their board has changed. */
export function swimsAt(
  lanes: readonly LaneBoard[],
  ...[sheet, run, t, screen]: Parameters<typeof boardAt>
): LaneSwims[] {
  const moment = momentOf(sheet, run, t, screen);
  return lanes.map(({ lane, phase, changes }) => ({
    lane,
    changes,
    markers: phase === 'done' ? [] : markersAt(moment, lane),
  }));
}

function boardSet(sheet: Sheet, index: number): BoardSet | null {
  const set = sheet.sets[index];
  return set ? { index, section: sheet.sections[set.section]?.name ?? '', set } : null;
}

function setsOf(sheet: Sheet, lanes: readonly LaneBoard[]): BoardSet[] {
  const places = new Set(lanes.flatMap(({ rep }) => (rep ? [rep.set] : [])));
  return [...places].sort((a, b) => a - b).flatMap((place) => boardSet(sheet, place) ?? []);
}

interface NextSet {
  /** The first rep of a lane's next set after the rep it is at. */
  readonly first: RepStep;
  /** When the lane leaves on it, where that is its next send-off; null when it depends on the coach or comes later. */
  readonly at: Instant | null;
}

function nextSetOf(sheet: Sheet, { lane, rep, nextAt, phase }: LaneBoard): NextSet | null {
  const steps = rep ? (laneOf(sheet, lane)?.steps ?? []) : [];
  let repsBetween = 0;
  for (let index = rep ? steps.indexOf(rep) + 1 : 0; index < steps.length; index += 1) {
    const step = steps[index];
    if (step?.kind !== 'rep') continue;
    const isSwum = phase === 'swimming' || phase === 'easy';
    if (step.set !== rep?.set) return { first: step, at: isSwum && repsBetween === 0 ? nextAt : null };
    repsBetween += 1;
  }
  return null;
}

/** Of the lanes' next sets the earliest in the practice; it begins when the first lane leaves on it. */
function upNextOf(sheet: Sheet, lanes: readonly LaneBoard[]): Board['upNext'] {
  const following = lanes.flatMap((lane) => nextSetOf(sheet, lane) ?? []);
  const index = Math.min(...following.map(({ first }) => first.set));
  const starts = following.flatMap(({ first, at }) => (first.set === index && at !== null ? [at] : []));
  const set = boardSet(sheet, index);
  return set && { set, at: starts.length > 0 ? instant(Math.min(...starts)) : null };
}

/** [RUN1] The gates at which a lane stands, waiting for the coach. */
function waitingGatesAt(sheet: Sheet, run: Run, lanes: readonly LaneBoard[]): number[] {
  if (run.state !== 'running') return [];
  const waiting = new Set<number>(lanes.filter(({ phase }) => phase === 'gate').map(({ lane }) => lane));
  const gates = run.motions.flatMap((motion) => (waiting.has(motion.lane) ? (nextGateOf(sheet, motion) ?? []) : []));
  return [...new Set(gates)].sort((a, b) => a - b);
}
