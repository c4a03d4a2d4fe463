import { type Instant, instant, type LaneNumber, type Ms, type SwimmerId } from './brand.ts';
import type { Departure } from './departures.ts';
import { type RepStep, type Sheet, type Target, targetsOf } from './sheet.ts';
import { type Taking, timedPlacesOf } from './timed-places.ts';

/** Somebody whose time has yet to be taken. */
export interface Expected {
  readonly swimmer: SwimmerId;
  readonly lane: LaneNumber;
  /** The step's id. */
  readonly step: string;
  readonly pass: number;
  /** How far into the rep, in the course's unit. */
  readonly distance: number;
  /** Whether that is the whole rep; if not, it is where a paced part ends. */
  readonly isFinish: boolean;
  readonly leftAt: Instant;
  /** From the send-off up to there. */
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
  /** What is timed of a rep with paced and easy parts; absent: where paced parts end. */
  readonly taking?: (rep: RepStep) => Taking;
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

/** What the target says of a place in the rep; null when nothing. */
export const targetAt = (target: Target | undefined, distance: number, isFinish: boolean): Ms | null =>
  (isFinish ? target?.ms : target?.splits.find((split) => split.distance === distance)?.ms) ?? null;

/** A place in the rep of a departure. */
function placeOn(sheet: Sheet, rep: RepStep, departure: Departure, distance: number): Expected {
  const { swimmer, lane, step, pass, at: leftAt } = departure;
  const isFinish = distance === rep.distance;
  const target = targetsOf(sheet, rep).find((one) => one.swimmer === swimmer);
  const targetMs = targetAt(target, distance, isFinish);
  const dueAt = instant(leftAt + (targetMs ?? (rep.durationMs * distance) / (rep.distance ?? distance)));
  return { swimmer, lane, step, pass, distance, isFinish, leftAt, targetMs, dueAt };
}

/** Until when the swimmer is expected who leaves again at `againAt`. */
const givenUpAt = ({ leftAt, targetMs }: Expected, againAt: number): number =>
  Math.max(againAt, targetMs === null ? againAt + LATE_MS : leftAt + LATE_SHARE * targetMs);

/** Everything that is timed of a departure, nearest first; `ahead` has the finish too where that is not. */
interface Places {
  readonly sheet: Sheet;
  readonly taking: Taking | undefined;
  /** Whether the swimmer has the lane's water alone. */
  readonly isHeat: boolean;
  readonly timed: number;
  readonly ahead: readonly Expected[];
}

const placesOfDepartures = new WeakMap<Departure, Places>();

/** Kept with the departure: a deck asks for everybody's ten times a second. Null of reps of so many seconds. */
function placesOf({ sheet, taking: takingOf }: Expectation, departure: Departure): Places | null {
  const rep = repsOf(sheet).get(`${departure.lane} ${departure.step}`);
  if (rep?.distance === undefined) return null;
  const taking = takingOf?.(rep);
  const known = placesOfDepartures.get(departure);
  if (known?.sheet === sheet && known.taking === taking) return known;
  const timed = timedPlacesOf(sheet, rep, taking);
  const distances = timed.includes(rep.distance) ? timed : [...timed, rep.distance];
  const ahead = distances.map((distance) => placeOn(sheet, rep, departure, distance));
  const places = { sheet, taking, isHeat: rep.heat !== undefined, timed: timed.length, ahead };
  placesOfDepartures.set(departure, places);
  return places;
}

/**
 * What is still to be taken of a departure. Where a paced part ends is given up when something further on was taken,
 * and midway to when the next place is due (a convention of ours).
 */
function untakenOf({ timed, ahead }: Places, isTaken: (one: Expected) => boolean, t: Instant): Expected[] {
  const isBehind = ahead.map((_, place) => ahead.slice(place).some(isTaken));
  return ahead.filter((one, place) => {
    const next = ahead[place + 1];
    const isLate = next !== undefined && t >= (one.dueAt + next.dueAt) / 2;
    return place < timed && !isBehind[place] && !isLate;
  });
}

/** In heats one swimmer of a lane is in the water: the one before is given up midway to when this one is due. */
const isOvertaken = (one: Expected, heat: Expected | undefined, t: Instant): boolean =>
  heat !== undefined && heat.step !== one.step && t >= (one.dueAt + heat.dueAt) / 2;

/**
 * [CMD5] Who of a lane is still to be marked at `t`, in the order in which they should come. A swimmer stays expected
 * until leaving again (or the practice's end); after that, as when `next` was pressed with the swimmer in the water,
 * until 1.5 × the target, or without a target until 10 s after leaving again. Who has no target should come when the
 * sheet's time for the rep is over. In heats the next one takes the place of who has not come.
 */
export function expectedAt(expectation: Expectation, lane: number, t: Instant): Expected[] {
  const { departures, taken, finishedAt } = expectation;
  const marked = new Set(taken.map(thingOf));
  const here = departures.filter((departure) => departure.lane === lane && departure.at <= t);
  const again = new Map<SwimmerId, number>();
  const coming: Expected[] = [];
  let heat: Expected | undefined;
  for (const departure of [...here].sort((a, b) => b.at - a.at)) {
    const againAt = again.get(departure.swimmer) ?? finishedAt ?? Number.POSITIVE_INFINITY;
    again.set(departure.swimmer, departure.at);
    const places = placesOf(expectation, departure);
    const overtaking = heat;
    if (places?.isHeat) heat = places.ahead[0];
    const inTime = places?.ahead.some((one) => givenUpAt(one, againAt) > t);
    if (!places || !inTime) continue;
    const untaken = untakenOf(places, (one) => marked.has(thingOf(one)), t);
    coming.push(...untaken.filter((one) => givenUpAt(one, againAt) > t && !isOvertaken(one, overtaking, t)));
  }
  return coming.sort((a, b) => a.dueAt - b.dueAt || a.leftAt - b.leftAt);
}
