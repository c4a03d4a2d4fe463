import { type Instant, instant, type LaneNumber, type Ms, type SwimmerId } from './brand.ts';
import type { Departure } from './departures.ts';
import { type RepStep, type Sheet, targetsOf } from './sheet.ts';

/** Somebody whose time has yet to be taken. */
export interface Expected {
  readonly swimmer: SwimmerId;
  readonly lane: LaneNumber;
  /** The step's id. */
  readonly step: string;
  readonly pass: number;
  /** Of the whole rep, in the course's unit. */
  readonly distance: number;
  readonly leftAt: Instant;
  readonly targetMs: Ms | null;
  /** When the swimmer should come. */
  readonly dueAt: Instant;
}

/** [CMD5] Whose time has been taken: what a finish is told by. */
type Taken = Pick<Expected, 'swimmer' | 'step' | 'pass' | 'distance'>;

/** [CMD5] So many times the target a swimmer stays expected who has left on another rep since. */
const LATE_SHARE = 1.5;
/** Without a target: so long after leaving on the next rep, ms (a convention of ours: the touch just before it). */
const LATE_MS = 10_000;

/** What the expected of a run are worked out from. */
export interface Expectation {
  readonly sheet: Sheet;
  readonly departures: readonly Departure[];
  /** Marks that are not void. */
  readonly taken: readonly Taken[];
  /** When the practice was finished: nobody leaves any more, which counts like a next departure. */
  readonly finishedAt: Instant | null;
}

const thingOf = ({ swimmer, step, pass, distance }: Taken): string => `${swimmer} ${step} ${pass} ${distance}`;

const repsOfSheets = new WeakMap<Sheet, ReadonlyMap<string, RepStep>>();

/** The reps of a sheet by lane and id; looked for at every tick of a deck. */
function repsOf(sheet: Sheet): ReadonlyMap<string, RepStep> {
  let known = repsOfSheets.get(sheet);
  if (!known) {
    const reps = sheet.lanes.flatMap(({ lane, steps }) =>
      steps.flatMap((step): [string, RepStep][] => (step.kind === 'rep' ? [[`${lane} ${step.id}`, step]] : [])),
    );
    known = new Map(reps);
    repsOfSheets.set(sheet, known);
  }
  return known;
}

/** What comes of a departure, or null when there is no finish to take: reps of so many seconds have none. */
function comingOf(sheet: Sheet, { swimmer, lane, step, pass, at: leftAt }: Departure): Expected | null {
  const rep = repsOf(sheet).get(`${lane} ${step}`);
  if (rep?.distance === undefined) return null;
  const targetMs = targetsOf(sheet, rep).find((target) => target.swimmer === swimmer)?.ms ?? null;
  const dueAt = instant(leftAt + (targetMs ?? rep.durationMs));
  return { swimmer, lane, step, pass, distance: rep.distance, leftAt, targetMs, dueAt };
}

/** Until when the swimmer is expected who leaves again at `againAt`. */
const givenUpAt = ({ leftAt, targetMs }: Expected, againAt: number): number =>
  Math.max(againAt, targetMs === null ? againAt + LATE_MS : leftAt + LATE_SHARE * targetMs);

/**
 * [CMD5] Who of a lane is still to be marked at `t`, in the order in which they should come. A swimmer stays expected
 * until leaving again (or the practice's end); after that, as when `next` was pressed with the swimmer in the water,
 * until 1.5 × the target, or without a target until 10 s after leaving again. Who has no target should come when the
 * sheet's time for the rep is over.
 */
export function expectedAt(
  { sheet, departures, taken, finishedAt }: Expectation,
  lane: number,
  t: Instant,
): Expected[] {
  const marked = new Set(taken.map(thingOf));
  const here = departures.filter((departure) => departure.lane === lane && departure.at <= t);
  const again = new Map<SwimmerId, number>();
  const coming: Expected[] = [];
  for (const departure of [...here].sort((a, b) => b.at - a.at)) {
    const againAt = again.get(departure.swimmer) ?? finishedAt ?? Number.POSITIVE_INFINITY;
    again.set(departure.swimmer, departure.at);
    const one = comingOf(sheet, departure);
    if (one && givenUpAt(one, againAt) > t && !marked.has(thingOf(one))) coming.push(one);
  }
  return coming.sort((a, b) => a.dueAt - b.dueAt || a.leftAt - b.leftAt);
}
