import type { Instant, LaneNumber, SwimmerId } from '../../shared-types/brand.ts';
import { everybodyIn, type RepStep, type SheetLane } from '../../shared-types/sheet.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import { partEndsOf, type Taking, timedPlacesOf } from '../../shared-types/timed-places.ts';
import { expectedIn, type Known, nameIn, standingOf, type Thing, targetOn } from './lane-marks.ts';

/** A lane's times of a set, swimmers by reps, and whose time can be typed. Pure. */

/** Something that was left for, so that a time can be typed for it. */
export interface TypedThing extends Thing {
  readonly leftAt: Instant;
}

export interface GridCell {
  readonly thing: TypedThing;
  readonly target: string;
  /** Empty: none was taken. */
  readonly time: string;
}

export interface GridRow {
  readonly swimmer: SwimmerId;
  readonly name: string;
  /** A cell for each column; null where the swimmer did not leave. */
  readonly cells: readonly (GridCell | null)[];
}

export interface LaneGrid {
  /** The sets that the lane has begun. */
  readonly sets: readonly { readonly set: number; readonly words: string }[];
  readonly set: number | null;
  /** `3`, `3 at 25`, `2·3`, `3 again` */
  readonly columns: readonly string[];
  readonly rows: readonly GridRow[];
  /** What is timed of it, where that can be chosen. */
  readonly taking: Taking | null;
}

/** A place in a rep that somebody left for. */
interface Left {
  readonly rep: RepStep;
  readonly thing: TypedThing;
}

const orderOf = ({ rep, thing }: Left): number[] => [
  rep.outerRound ?? 0,
  rep.round ?? 0,
  rep.rep,
  thing.pass,
  thing.distance,
];

function byOrder(a: Left, b: Left): number {
  const [ofA, ofB] = [orderOf(a), orderOf(b)];
  const differing = ofA.findIndex((value, place) => value !== ofB[place]);
  return differing < 0 ? 0 : (ofA[differing] ?? 0) - (ofB[differing] ?? 0);
}

function columnWords({ rep, thing: { pass, distance } }: Left): string {
  const rounds = [
    ...((rep.outerRounds ?? 1) > 1 ? [rep.outerRound] : []),
    ...((rep.rounds ?? 1) > 1 ? [rep.round] : []),
    rep.rep,
  ];
  const again = pass > 1 ? ' again' : '';
  return `${rounds.join('·')}${distance === rep.distance ? '' : ` at ${distance}`}${again}`;
}

/** Every place that is timed of everybody who left in a lane. */
function leftIn({ practice: { sheet }, left, taking }: Known, lane: SheetLane): Left[] {
  const reps = new Map(lane.steps.map((step) => [step.id, step]));
  return (left.get(lane.lane) ?? []).flatMap((departure): Left[] => {
    const rep = reps.get(departure.step);
    if (rep?.kind !== 'rep') return [];
    const { swimmer, step, pass, at: leftAt } = departure;
    return timedPlacesOf(sheet, rep, taking?.(rep)).map((distance) => ({
      rep,
      thing: { swimmer, step, pass, distance, leftAt },
    }));
  });
}

const EMPTY: LaneGrid = { sets: [], set: null, columns: [], rows: [], taking: null };

/** @param wanted a set's index; null: the one begun last */
export function gridOf(known: Known, laneNumber: LaneNumber, wanted: number | null): LaneGrid {
  const { sheet } = known.practice;
  const lane = sheet.lanes.find((one) => one.lane === laneNumber);
  if (!lane) return EMPTY;
  const all = leftIn(known, lane);
  const begun = [...new Set(all.map(({ rep }) => rep.set))].sort((a, b) => a - b);
  const set = begun.find((one) => one === wanted) ?? begun[begun.length - 1] ?? null;
  const left = all.filter(({ rep }) => rep.set === set).sort(byOrder);
  const columns = left.filter((one, place) => place === 0 || byOrder(left[place - 1] ?? one, one) !== 0);
  const here = [...new Set([...everybodyIn(lane), ...left.map(({ thing }) => thing.swimmer)])];
  const swam = here.filter((swimmer) => left.some(({ thing }) => thing.swimmer === swimmer));
  const first = left.find(({ rep }) => partEndsOf(sheet, rep).some((end) => end !== rep.distance));
  return {
    sets: begun.map((one) => ({ set: one, words: setWords(known, one) })),
    set,
    columns: columns.map(columnWords),
    rows: swam.map((swimmer) => rowOf(known, laneNumber, swimmer, columns, left)),
    taking: first ? (known.taking?.(first.rep) ?? 'part') : null,
  };
}

function setWords({ practice: { sheet } }: Known, index: number): string {
  const set = sheet.sets[index];
  return [set?.words ?? '', set?.detail ?? ''].filter((part) => part !== '').join(' ');
}

function rowOf(
  known: Known,
  lane: LaneNumber,
  swimmer: SwimmerId,
  columns: readonly Left[],
  left: readonly Left[],
): GridRow {
  const own = left.filter(({ thing }) => thing.swimmer === swimmer);
  const cells = columns.map((column) => {
    const here = own.find((one) => byOrder(one, column) === 0);
    return here ? cellOf(known, here.thing) : null;
  });
  return { swimmer, name: nameIn(known.practice, swimmer, lane), cells };
}

function cellOf(known: Known, thing: TypedThing): GridCell {
  const lasted = standingOf(known.marks, thing).find(({ state }) => state === 'counts')?.ms ?? null;
  const target = targetOn(known.practice, thing);
  return {
    thing,
    target: target === null ? '' : formatSwimTime(target, 1),
    time: lasted === null ? '' : formatSwimTime(lasted, 1),
  };
}

/** Somebody whose time can be typed. */
export interface Callable extends GridCell {
  readonly name: string;
  /** `at 25`; empty of a finish. */
  readonly place: string;
}

const keyOf = ({ swimmer, step, pass, distance }: Thing): string => `${swimmer} ${step} ${pass} ${distance}`;

/** Of each swimmer everything that is timed of the rep they left for last. */
function latestOf(left: readonly Left[]): Left[] {
  const last = new Map<SwimmerId, Instant>();
  for (const { thing } of left) {
    if (thing.leftAt >= (last.get(thing.swimmer) ?? 0)) last.set(thing.swimmer, thing.leftAt);
  }
  return left.filter(({ thing }) => last.get(thing.swimmer) === thing.leftAt);
}

/** Whose times can be called out in a lane: who is still expected, first; then everybody's on the rep swum last. */
export function callableIn(known: Known, laneNumber: LaneNumber, at: Instant): Callable[] {
  const lane = known.practice.sheet.lanes.find((one) => one.lane === laneNumber);
  const left = lane ? leftIn(known, lane) : [];
  const byKey = new Map(left.map((one) => [keyOf(one.thing), one]));
  const expected = expectedIn(known, laneNumber, at).flatMap((one) => byKey.get(keyOf(one)) ?? []);
  return [...new Set([...expected, ...latestOf(left)])].map(({ rep, thing }) => ({
    ...cellOf(known, thing),
    name: nameIn(known.practice, thing.swimmer, laneNumber),
    place: rep.distance === thing.distance ? '' : `at ${thing.distance}`,
  }));
}
