import { randomId } from '../../server/ids.ts';
import { calendarOf, dateOf, dayNumber } from '../../server/results/calendar.ts';
import { mondayOf } from '../../server/running/week-plan.ts';
import type { Store } from '../../server/store/store.ts';
import { titleOf } from '../../server/title.ts';
import { laneNumber, ms, type PracticeId, practiceIdSchema, swimmerIdSchema } from '../../shared-types/brand.ts';
import type { RaceStroke, Reference, Squad, Swimmer } from '../../shared-types/squad.ts';
import { goneOnWith, libraryText } from './library-texts.ts';
import { StoredSeason } from './stored-season.ts';
import { practiceOf, TWO_HOURS } from './workloads.ts';

/** A club's years with Farwall: its swimmers, its library, what was swum, and the plan of this week. All invented. */

export interface ClubSize {
  readonly swimmers: number;
  /** In the library. */
  readonly practices: number;
  /** Practices swum, three a week, and of how many texts. */
  readonly swum: number;
  readonly swumTexts: number;
}

const DAY_MS = 24 * 60 * 60 * 1000;

/** Seven times of each swimmer, as shares of that over 200 free. */
const TIMES: readonly (readonly [distance: number, stroke: RaceStroke, share: number])[] = [
  [50, 'free', 0.215],
  [100, 'free', 0.46],
  [200, 'free', 1],
  [400, 'free', 2.12],
  [100, 'back', 0.52],
  [100, 'fly', 0.51],
  [200, 'IM', 1.13],
];

const referenceOf = (over200Ms: number, [distance, stroke, share]: (typeof TIMES)[number]): Reference => ({
  event: { distance, stroke, activity: 'swim' },
  course: 'SCM',
  timeMs: ms(Math.round((over200Ms * share) / 10) * 10),
  kind: 'best',
  date: '2026-03-14',
});

const GROUPS = ['A', 'B', 'C'] as const;

/** Where a swimmer swims, by a number from 0; those beyond a full practice are in the squad without a lane. */
function placeOf(number: number): Pick<Swimmer, 'lane' | 'order' | 'group'> {
  const { lanes, swimmersPerLane } = TWO_HOURS;
  const lane = Math.floor(number / swimmersPerLane);
  if (lane >= lanes) return {};
  const group = GROUPS[Math.floor((lane * GROUPS.length) / lanes)] ?? 'A';
  return { lane: laneNumber(lane + 1), order: (number % swimmersPerLane) + 1, group };
}

/** As many steps of half a second over 200 as there are in a full practice. */
const STEPS = TWO_HOURS.lanes * TWO_HOURS.swimmersPerLane;

const swimmerAt = (number: number): Swimmer => ({
  id: swimmerIdSchema.parse((number + 1).toString(16).padStart(32, '0')),
  name: `Swimmer ${number + 1}`,
  ...placeOf(number),
  references: TIMES.map((time) => referenceOf(115_000 + (number % STEPS) * 500, time)),
});

/** In every library text the first set after the two of the warm-up: a coach has one watch. */
const TIMED_SET = 2;

/** Every so many practices there are three versions. */
const CHANGED_EVERY = 4;
const VERSIONS = 3;

/** The longest time that a library goes back. */
const LIBRARY_DAYS = 5 * 365;

function savePractice(store: Store, texts: readonly string[], savedAt: number): PracticeId {
  const id = practiceIdSchema.parse(randomId());
  texts.forEach((text, place) => {
    const draft = {
      id,
      text,
      title: titleOf(text),
      baseVersion: place,
      savedAt: savedAt + place * DAY_MS,
      demo: false,
    };
    if (!store.practices.save(draft).ok) throw new Error('the practice was saved before');
  });
  return id;
}

const versionsOf = (text: string, number: number): string[] =>
  number % CHANGED_EVERY > 0
    ? [text]
    : Array.from({ length: VERSIONS }, (_, place) => (place === 0 ? text : goneOnWith(text, place + 1)));

/** Two practices on each weekday and one on Saturday. */
const PLANNED = [2, 2, 2, 2, 2, 1, 0];

/** Plans this week, and says who is away today: every twentieth. @param practices those to be swum */
function planWeek(store: Store, today: string, practices: readonly PracticeId[]): void {
  const monday = dayNumber(mondayOf(today));
  let next = 0;
  PLANNED.forEach((count, place) => {
    store.plan.replace(dateOf(monday + place), practices.slice(next, next + count));
    next += count;
  });
  store.squad.squad().swimmers.forEach(({ id }, place) => {
    if (place % 20 === 19) store.absences.set(today, id, true);
  });
}

/** Loads the squad as if from a file, so that there is one before to go back to. */
function loadSquad(store: Store, squad: Squad): void {
  store.squad.replace({ swimmers: squad.swimmers.slice(1) }, false);
  store.squad.load(squad, { fileName: 'squad.csv', loadedAt: Date.now() });
}

/**
 * Fills a store. The practice that was saved last is one of two hours for ten lanes.
 * @param store an empty one
 * @returns how many times were taken
 */
export function storeClub(store: Store, size: ClubSize, timezone: string, random: () => number): number {
  const squad = { swimmers: Array.from({ length: size.swimmers }, (_, number) => swimmerAt(number)) };
  const swumTexts = Array.from({ length: size.swumTexts }, (_, number) => libraryText(number + 1, random));
  const season = new StoredSeason(store, size.swum, random, {
    squad,
    lanes: TWO_HOURS.lanes,
    textOf: (practice) => swumTexts[practice % swumTexts.length] ?? '',
    isTimed: ({ step }) => step.set === TIMED_SET,
  });
  season.upToPractice(size.swum);
  const now = Date.now();
  store.inTransaction(() => {
    const others = size.practices - swumTexts.length - 1;
    const ids = Array.from({ length: others }, (_, place) => {
      const texts = versionsOf(libraryText(swumTexts.length + place + 1, random), place);
      return savePractice(store, texts, Math.round(now - (VERSIONS + LIBRARY_DAYS * random()) * DAY_MS));
    });
    ids.push(savePractice(store, [practiceOf(TWO_HOURS.reps)], now));
    loadSquad(store, squad);
    planWeek(store, calendarOf(timezone)(now), ids.toReversed());
  });
  return season.marks;
}
