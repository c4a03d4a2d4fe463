import type { Instant, LaneNumber, Ms, SwimmerId } from '../../shared-types/brand.ts';
import type { Departure } from '../../shared-types/departures.ts';
import { type Expectation, type Expected, expectedAt, targetAt } from '../../shared-types/expected.ts';
import { isolated } from '../../shared-types/isolated.ts';
import type { Mark } from '../../shared-types/marks.ts';
import { type RepStep, type Sheet, targetsOf } from '../../shared-types/sheet.ts';
import type { LivePractice } from '../common/live.ts';

/** A lane's times, and who is still to come: what the deck says of them and does with them is told by these. Pure. */

/** What a time is taken of. */
export type Thing = Pick<Expected, 'swimmer' | 'step' | 'pass' | 'distance'>;

export const thingOf = ({ swimmer, step, pass, distance }: Thing): Thing => ({ swimmer, step, pass, distance });

export const isSameThing = (a: Thing, b: Thing): boolean =>
  a.swimmer === b.swimmer && a.step === b.step && a.pass === b.pass && a.distance === b.distance;

export const isStanding = ({ state }: Mark): boolean => state !== 'void';

/** The times of a thing that stand: the one that counts, and what others took of the same. */
export const standingOf = (marks: readonly Mark[], thing: Thing): Mark[] =>
  marks.filter((mark) => isStanding(mark) && isSameThing(mark, thing));

/** The lane's time that was pressed last and still stands. */
export function lastPressedIn(marks: readonly Mark[], lane: LaneNumber): Mark | null {
  return marks.reduce<Mark | null>((last, mark) => {
    const isLater = mark.lane === lane && isStanding(mark) && (last === null || mark.pressedAt >= last.pressedAt);
    return isLater ? mark : last;
  }, null);
}

export function byLane(departures: readonly Departure[]): ReadonlyMap<number, readonly Departure[]> {
  const left = new Map<number, Departure[]>();
  for (const departure of departures) {
    const here = left.get(departure.lane);
    if (here) here.push(departure);
    else left.set(departure.lane, [departure]);
  }
  return left;
}

/** What a lane's times are worked out from. */
export interface Known extends Pick<Expectation, 'taking'> {
  /** Everybody who left in each lane. */
  readonly left: ReadonlyMap<number, readonly Departure[]>;
  readonly practice: LivePractice;
  readonly marks: readonly Mark[];
}

/** Who left longer ago is not looked for any more, ms: nobody is under way for so long (a convention of ours). */
const LOOKED_FOR_MS = 60 * 60 * 1000;

const expectedOfKnown = new WeakMap<Known, Map<string, Expected[]>>();

/** [CMD5] Whose time is still to be taken in a lane, who should come first first. Kept: asked again and again in a tick. */
export function expectedIn(known: Known, lane: LaneNumber, at: Instant): Expected[] {
  const kept = expectedOfKnown.get(known) ?? new Map<string, Expected[]>();
  expectedOfKnown.set(known, kept);
  const expected = kept.get(`${lane} ${at}`) ?? expectedNow(known, lane, at);
  kept.set(`${lane} ${at}`, expected);
  return expected;
}

function expectedNow({ practice, left, taking, marks }: Known, lane: LaneNumber, at: Instant): Expected[] {
  const { sheet, run } = practice;
  // Who was missed is expected no more than who was timed.
  const taken = marks.filter(
    (mark) => mark.lane === lane && (mark.state === 'counts' || mark.state === 'second' || mark.state === 'missed'),
  );
  const finishedAt = run.state === 'finished' ? (run.changedAt ?? null) : null;
  const departures = (left.get(lane) ?? []).filter((one) => one.at >= at - LOOKED_FOR_MS);
  const expectation = { sheet, departures, taken, finishedAt };
  return expectedAt(taking ? { ...expectation, taking } : expectation, lane, at);
}

/** Who can have been meant by a time pressed for somebody else: who had left by then and has not been timed. */
export const meantInstead = (known: Known, lane: LaneNumber, mark: Mark): Expected | undefined =>
  expectedIn(known, lane, mark.pressedAt).find(({ swimmer }) => swimmer !== mark.swimmer);

/** The name the coach chose, else the place in the lane. */
export function nameIn({ labels, sheet }: LivePractice, swimmer: SwimmerId, lane: number | null): string {
  const label = labels[swimmer] ?? '';
  const place = sheet.lanes.find((each) => each.lane === lane)?.swimmers.indexOf(swimmer) ?? -1;
  return label === '' ? `swimmer ${place + 1}` : isolated(label);
}

const repsOfSheets = new WeakMap<Sheet, ReadonlyMap<string, RepStep>>();

/** What is swum on a step, in whatever lane; looked for at every tick. */
export function repOf({ practice: { sheet } }: Pick<Known, 'practice'>, step: string): RepStep | undefined {
  let reps = repsOfSheets.get(sheet);
  if (!reps) {
    const steps = sheet.lanes.flatMap((lane) => lane.steps);
    reps = new Map(steps.flatMap((one): [string, RepStep][] => (one.kind === 'rep' ? [[one.id, one]] : [])));
    repsOfSheets.set(sheet, reps);
  }
  return reps.get(step);
}

/** What is held of a thing, wherever it is swum. */
export function targetOn({ sheet }: LivePractice, { swimmer, step, distance }: Thing): Ms | null {
  for (const { steps } of sheet.lanes) {
    const rep = steps.find(({ id }) => id === step);
    const target = rep?.kind === 'rep' ? targetsOf(sheet, rep).find((one) => one.swimmer === swimmer) : undefined;
    if (target && rep?.kind === 'rep') return targetAt(target, distance, distance === rep.distance);
  }
  return null;
}
