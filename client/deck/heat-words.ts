import { type Instant, type LaneNumber, type Ms, ms, type SwimmerId } from '../../shared-types/brand.ts';
import type { Departure } from '../../shared-types/departures.ts';
import type { Expected } from '../../shared-types/expected.ts';
import type { Mark } from '../../shared-types/marks.ts';
import { departuresOf, type RepStep, type Sheet } from '../../shared-types/sheet.ts';
import { formatSwimTime } from '../../shared-types/time.ts';
import type { Release } from './actions.ts';
import type { Heats, LaneHeat } from './heats.ts';
import { expectedIn, type Known, nameIn, repOf, standingOf, targetOn } from './lane-marks.ts';
import { capital, differenceWords, laneWords, timeWords } from './words.ts';

/** What the deck says of heats: who is in the water, what they swam, who goes next. Pure. */

/** A lane's pad while it swims heats. */
export interface HeatPad {
  /** Who is in the water and has no time yet: a press is theirs. Null: nobody. */
  readonly swims: {
    readonly name: string;
    readonly target: string;
    /** What the swimmer has swum of the set, or that it is the one before. */
    readonly before: string;
  } | null;
  /** Who came last, with the time; while somebody swims they are to be seen alone. */
  readonly came: { readonly name: string; readonly time: string; readonly difference: string } | null;
  /** Who is let go, or goes with the next press; empty: nobody of this lane. */
  readonly goes: string;
  /** Which of them is to be seen first. */
  readonly chief: 'swims' | 'came' | 'goes';
}

/** What stands over the lanes. */
export interface HeatWords {
  /** `Heat 2 of 4 in the water`, `Next: heat 3 of 4` */
  readonly what: string;
  /** `rep 1 of 6 · lanes 1–2` */
  readonly where: string;
}

/** `heat 2`, or where the lanes have one swimmer each nothing. */
const heatWords = ({ heat, heats = 1 }: RepStep): string => (heats > 1 ? `heat ${heat}` : '');

/** So soon after a heat nobody lets go the next: a second press is a drop of water, ms (a convention of ours). */
const HEATS_APART_MS = 3000;

/**
 * The go that lets off the next heat; null when none is left.
 * @param sinceGoMs how long ago the last one took effect
 */
export function releaseOf({ gate, next, lanes, hasLeft }: Heats, sinceGoMs: number): Release | null {
  if (gate === null || next === null) return null;
  const mayGo = hasLeft && sinceGoMs >= HEATS_APART_MS;
  return { gate, word: `Release ${heatWords(next)}`.trim(), lanes, mayGo };
}

const repWords = ({ rep, reps = 1 }: RepStep): string => (reps > 1 ? `rep ${rep} of ${reps}` : '');

/** So long after somebody left on the set before they may still be in the water at the gate, ms (a convention of ours). */
const STILL_IN_MS = 2 * 60 * 1000;

const isOfHeats = (known: Known, { step }: Pick<Expected, 'step'>): boolean => repOf(known, step)?.heat !== undefined;

/** Who of the lane is in the water and without a time; before the first heat, of the set before. */
function swimsIn(known: Known, lane: LaneNumber, { now }: Pick<Heats, 'now'>, at: Instant): Expected | null {
  const next = expectedIn(known, lane, at)[0];
  if (!next) return null;
  return isOfHeats(known, next) || (now === null && at - next.leftAt < STILL_IN_MS) ? next : null;
}

/** Whether somebody of the heat is still to come. */
const isOut = (known: Known, heats: Heats, at: Instant): boolean =>
  heats.now !== null && heats.hasLeft && heats.lanes.some((lane) => swimsIn(known, lane, heats, at) !== null);

/** What is said of lanes that go together. */
export function heatsWords(known: Known, heats: Heats, at: Instant): HeatWords {
  const { now, next, hasLeft, lanes } = heats;
  const isOver = now === null || (hasLeft && !isOut(known, heats, at));
  const about = isOver ? (next ?? now) : now;
  const who = about && (about.heats ?? 1) > 1 ? `heat ${about.heat} of ${about.heats}` : 'everybody';
  const does = `${capital(who)} ${hasLeft ? 'in the water' : 'about to go'}`;
  const whom = lanes.length === known.practice.sheet.lanes.length ? '' : laneWords(lanes);
  const what = !isOver ? does : next ? `Next: ${who}` : 'All heats have swum';
  return { what, where: [about ? repWords(about) : '', whom].filter(Boolean).join(' · ') };
}

/** @param together the lanes that go with it */
export function heatPad(known: Known, heat: LaneHeat, together: Heats, at: Instant): HeatPad {
  const { practice } = known;
  const { lane } = heat;
  const next = swimsIn(known, lane, together, at);
  const going = together.hasLeft ? heat.next : heat.now;
  const goes = going ? whoLeaves(practice.sheet, lane, going) : undefined;
  const came = next ? null : cameLast(known, lane);
  return {
    swims: next
      ? {
          name: nameIn(practice, next.swimmer, lane),
          target: next.targetMs === null ? '' : formatSwimTime(next.targetMs, 1),
          before: isOfHeats(known, next)
            ? beforeWords(known, next.swimmer, next.step, next.leftAt)
            : 'on the set before',
        }
      : null,
    came: came && {
      name: nameIn(practice, came.swimmer, lane),
      time: timeWords(came),
      difference: cameWords(known, came),
    },
    goes: goes === undefined ? '' : nameIn(practice, goes, lane),
    chief: next ? 'swims' : came && isOut(known, together, at) ? 'came' : 'goes',
  };
}

function whoLeaves(sheet: Sheet, number: LaneNumber, rep: RepStep): SwimmerId | undefined {
  const lane = sheet.lanes.find((each) => each.lane === number);
  return lane && departuresOf(lane, rep)[0]?.swimmer;
}

/** The time, or the miss, of who left last in the lane and has one, on a heat. */
function cameLast(known: Known, lane: LaneNumber): Mark | null {
  const left = known.left.get(lane) ?? [];
  for (const departure of [...left].reverse()) {
    const rep = repOf(known, departure.step);
    if (rep?.heat === undefined) return null;
    const mark = timeOf(known, departure, rep) ?? missOf(known, departure, rep);
    if (mark) return mark;
  }
  return null;
}

const standingOn = (known: Known, { swimmer, step, pass }: Departure, { distance = 0 }: RepStep): Mark[] =>
  standingOf(known.marks, { swimmer, step, pass, distance });

const timeOf = (known: Known, departure: Departure, rep: RepStep): Mark | undefined =>
  standingOn(known, departure, rep).find(({ state }) => state === 'counts');

const missOf = (known: Known, departure: Departure, rep: RepStep): Mark | undefined =>
  standingOn(known, departure, rep).find(({ state }) => state === 'missed');

/** What the swimmer's reps of the same set from before say; null where a time was not taken. */
interface Before {
  readonly first: Ms | null;
  readonly best: Ms | null;
}

/** Of the reps over the same distance. */
function repsBefore(known: Known, swimmer: SwimmerId, step: string, leftAt: Instant): Before {
  const about = repOf(known, step);
  const own = [...known.left.values()].flatMap((left) =>
    left.filter((departure) => departure.swimmer === swimmer && departure.at < leftAt),
  );
  const times = own
    .sort((a, b) => a.at - b.at)
    .flatMap((departure) => {
      const rep = repOf(known, departure.step);
      const isSame = rep !== undefined && rep.set === about?.set && rep.distance === about.distance;
      return isSame ? [timeOf(known, departure, rep)?.ms ?? null] : [];
    });
  const taken = times.filter((time) => time !== null);
  return { first: times[0] ?? null, best: taken.length > 0 ? ms(Math.min(...taken)) : null };
}

/** `1st 12.9, best 12.7`; empty before there is any. */
function beforeWords(known: Known, ...of: [SwimmerId, string, Instant]): string {
  const { first, best } = repsBefore(known, ...of);
  const firstWords = first === null ? '' : `1st ${formatSwimTime(first, 1)}`;
  const bestWords = best === null || best === first ? '' : `best ${formatSwimTime(best, 1)}`;
  return [firstWords, bestWords].filter((part) => part !== '').join(', ');
}

/** `−0.4, +0.1 on 1st, +0.3 on best`: against the target, where there is one, and the swimmer's own reps before. */
function cameWords(known: Known, mark: Mark): string {
  if (mark.ms === null || mark.leftAt === null) return '';
  const target = differenceWords(mark, targetOn(known.practice, mark));
  const { first, best } = repsBefore(known, mark.swimmer, mark.step, mark.leftAt);
  const onFirst = first === null ? '' : `${differenceWords(mark, first)} on 1st`;
  const onBest = best === null || best === first ? '' : `${differenceWords(mark, best)} on best`;
  return [target, onFirst, onBest].filter((part) => part !== '').join(', ');
}
