import type { Instant, SwimmerId } from '../../shared-types/brand.ts';
import type { Departure } from '../../shared-types/departures.ts';
import type { Mark } from '../../shared-types/marks.ts';
import { lengthOf } from '../../shared-types/pool.ts';
import { type Figure, type Missing, none, type RepTime, type SplitTime } from '../../shared-types/results.ts';
import { departuresOf, type RepStep, type Sheet, targetsOf } from '../../shared-types/sheet.ts';
import { restBetween } from './rest.ts';
import { indexRun, type Place, type RunIndex, type SwumRun, setKeyOf } from './run-index.ts';

/** A swimmer's reps of a set, in order. */
export interface SwimmerReps {
  readonly swimmer: SwimmerId;
  readonly reps: readonly RepTime[];
}

/** What was swum, set by set of the sheet in force: everybody who was to swim it or did, by lane and order. */
export function repTimesOf(run: SwumRun): SwimmerReps[][] {
  const index = indexRun(run);
  return index.sheet.sets.map((_, set) =>
    [...placesOf(index, set)].map(([swimmer, places]) => ({ swimmer, reps: repsOf(index, swimmer, places) })),
  );
}

type Places = Map<SwimmerId, Map<string, Place>>;

function put(places: Places, swimmer: SwimmerId, place: Place): void {
  const own = places.get(swimmer) ?? new Map<string, Place>();
  places.set(swimmer, own.set(place.step.id, place));
}

/** Which reps of a set are whose: those of the sheet in force, and those left on in a version that is no more. */
function placesOf({ sheet, places: known, departures }: RunIndex, set: number): Places {
  const places: Places = new Map();
  for (const lane of sheet.lanes) {
    lane.steps.forEach((step, index) => {
      if (step.kind !== 'rep' || step.set !== set) return;
      for (const { swimmer } of departuresOf(lane, step)) put(places, swimmer, { sheet, lane, index, step });
    });
  }
  const key = setKeyOf(sheet, set);
  for (const [swimmer, own] of departures) {
    for (const departure of own) {
      const place = known.get(`${departure.lane} ${departure.step}`);
      if (place && setKeyOf(place.sheet, place.step.set) === key) put(places, swimmer, place);
    }
  }
  return places;
}

/** A rep with what is known of it. */
interface Swum {
  readonly place: Place;
  readonly passes: readonly Departure[];
  /** The one that counts: a rep that was repeated is swum anew. */
  readonly last: Departure | null;
}

function repsOf(index: RunIndex, swimmer: SwimmerId, places: ReadonlyMap<string, Place>): RepTime[] {
  const own = index.departures.get(swimmer) ?? [];
  const swum = [...places.values()]
    .sort((a, b) => a.step.atMs - b.step.atMs)
    .map((place): Swum => {
      const passes = own.filter(({ step }) => step === place.step.id);
      return { place, passes, last: passes[passes.length - 1] ?? null };
    });
  const lastAt = Math.max(...swum.map(({ last }) => last?.at ?? Number.NEGATIVE_INFINITY));
  return swum.map((one, order) => repTime(index, swimmer, one, { rep: order + 1, lastAt, own }));
}

interface Among {
  readonly rep: number;
  /** When the swimmer left on the last rep of the set. */
  readonly lastAt: number;
  /** All the swimmer's departures, in order. */
  readonly own: readonly Departure[];
}

function repTime(index: RunIndex, swimmer: SwimmerId, swum: Swum, { rep, lastAt, own }: Among): RepTime {
  const { place, passes, last } = swum;
  const { sheet, step } = place;
  const marks = last ? index.marksOf(swimmer, step.id, last.pass) : [];
  const finish = marks.find(({ distance }) => distance === step.distance);
  const missing = missingOf(step, last, finish);
  return {
    rep,
    ...placedIn(place),
    passes: passes.length,
    leftAt: last?.at ?? null,
    ms: missing === null ? (finish?.ms ?? null) : null,
    ...(missing === null ? {} : { missing }),
    splits: splitsOf(sheet, step, marks),
    target: targetOf(sheet, step, swimmer),
    restMs: last && last.at < lastAt ? restAfter(index, place, last, finish, own) : none('no send-off after it'),
  };
}

function placedIn({ sheet, lane, step }: Place) {
  const { outerRound, round, distance, timedMs } = step;
  return {
    step: step.id,
    lane: lane.lane,
    ...(outerRound === undefined ? {} : { outerRound }),
    ...(round === undefined ? {} : { round }),
    ...(distance === undefined ? {} : { distance }),
    ...(timedMs === undefined ? {} : { timedMs }),
    cycleMs: step.durationMs,
    stroke: step.stroke,
    activity: sheet.sets[step.set]?.activity ?? 'swim',
    start: step.start,
  };
}

function missingOf(step: RepStep, last: Departure | null, finish: Mark | undefined): Missing | null {
  if (!last) return 'not swum';
  if (step.distance === undefined) return 'nothing to time';
  return finish ? null : 'not timed';
}

/** Times taken on the way. A turn is where whole lengths end; anything else was read between the walls. */
function splitsOf({ course }: Sheet, step: RepStep, marks: readonly Mark[]): SplitTime[] {
  const whole = step.distance ?? 0;
  const splits = marks.flatMap(({ distance, ms }): SplitTime[] => {
    if (ms === null || distance >= whole) return [];
    return [{ distance, ms, takenAt: distance % lengthOf(course) === 0 ? 'turn' : 'mid-pool' }];
  });
  return splits.sort((a, b) => a.distance - b.distance);
}

function targetOf(sheet: Sheet, step: RepStep, swimmer: SwimmerId): RepTime['target'] {
  const target = targetsOf(sheet, step).find((each) => each.swimmer === swimmer);
  return target
    ? { ms: target.ms, estimated: target.estimated, splits: target.splits }
    : { ms: null, estimated: false, splits: [] };
}

/**
 * The rest after a rep that is not the set's last: until the swimmer leaves again, be it on a rep of another set that
 * is swum by turns with this one. A written rest or the wait for other lanes is no rest between reps.
 */
function restAfter(
  { places }: RunIndex,
  { lane, index }: Place,
  last: Departure,
  finish: Mark | undefined,
  own: readonly Departure[],
): Figure {
  const next = own.find(({ at }) => at > last.at);
  const then = next && places.get(`${next.lane} ${next.step}`);
  const between = then && then.lane.lane === lane.lane ? lane.steps.slice(index + 1, then.index) : [];
  if (between.some(({ kind }) => kind === 'rest')) return none('a pause follows');
  return restBetween(touchOf(finish), next?.at ?? null);
}

const touchOf = (finish: Mark | undefined): Instant | null => finish?.pressedAt ?? null;
