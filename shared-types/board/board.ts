import type { Instant } from '../brand.ts';
import type { Run } from '../events.ts';
import { nextGateOf } from '../motion.ts';
import type { RepStep, Sheet, SheetSet } from '../sheet.ts';
import { type ClockFace, pastTheMinute, timeOfDay } from '../time.ts';
import type { Labels } from '../wire/from-server.ts';
import { type LaneBoard, laneBoardAt } from './lane.ts';
import type { BoardPhase } from './phase.ts';

/** What a board needs to know of its screen: which lanes, in which order, what to call people, how the clock is read. */
export interface BoardScreen {
  /** Lanes to show, top to bottom; absent: all of the sheet, lane 1 at the top. */
  readonly lanes?: readonly number[];
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
  const moment = {
    sheet,
    state: run.state,
    motions: run.motions,
    t,
    labels: screen.labels,
    trimMs: screen.face.trimMs,
  };
  const shown = screen.lanes ?? sheet.lanes.map(({ lane }) => lane);
  const lanes = shown.flatMap((number) => {
    const lane = sheet.lanes.find((candidate) => candidate.lane === number);
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

function boardSet(sheet: Sheet, index: number): BoardSet | null {
  const set = sheet.sets[index];
  return set ? { index, section: sheet.sections[set.section]?.name ?? '', set } : null;
}

function setsOf(sheet: Sheet, lanes: readonly LaneBoard[]): BoardSet[] {
  const places = new Set(lanes.flatMap(({ rep }) => (rep ? [rep.set] : [])));
  return [...places].sort((a, b) => a - b).flatMap((place) => boardSet(sheet, place) ?? []);
}

/** The first rep of a lane's next set after the rep it is at. */
function firstOfNextSet(sheet: Sheet, lane: number, rep: RepStep): RepStep | null {
  const steps = sheet.lanes.find((candidate) => candidate.lane === lane)?.steps ?? [];
  const from = steps.indexOf(rep);
  for (let place = from + 1; place < steps.length; place += 1) {
    const step = steps[place];
    if (step?.kind === 'rep' && step.set !== rep.set) return step;
  }
  return null;
}

function upNextOf(sheet: Sheet, lanes: readonly LaneBoard[]): Board['upNext'] {
  const followers = lanes.flatMap(({ lane, rep, nextAt, phase }) => {
    if (!rep) return [];
    const next = firstOfNextSet(sheet, lane, rep);
    const swum = phase === 'swimming' || phase === 'easy';
    const isNext = swum && rep.rep === rep.reps && rep.round === rep.rounds;
    return next ? [{ next, at: isNext ? nextAt : null }] : [];
  });
  const first = followers.reduce<(typeof followers)[number] | null>(
    (best, one) => (!best || one.next.set < best.next.set ? one : best),
    null,
  );
  const set = first && boardSet(sheet, first.next.set);
  return set ? { set, at: first.at } : null;
}

/** [RUN1] The gates at which a lane stands, waiting for the coach. */
function waitingGatesAt(sheet: Sheet, run: Run, lanes: readonly LaneBoard[]): number[] {
  if (run.state !== 'running') return [];
  const waiting = new Set<number>(lanes.filter(({ phase }) => phase === 'gate').map(({ lane }) => lane));
  const gates = run.motions.flatMap((motion) => (waiting.has(motion.lane) ? (nextGateOf(sheet, motion) ?? []) : []));
  return [...new Set(gates)].sort((a, b) => a - b);
}
