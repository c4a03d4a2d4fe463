import type { Instant, PracticeId } from '../../shared-types/brand.ts';
import type { ClockFace } from '../../shared-types/time.ts';
import type {
  CopiedWeek,
  CopyWeek,
  PlannedDay,
  PlannedPractice,
  SwumPractice,
  WeekPlan,
} from '../../shared-types/wire/plan.ts';
import { planPractice } from '../planning/plan.ts';
import { plannedSets } from '../planning/planned-volume.ts';
import { calendarOf, dateOf, dayNumber } from '../results/calendar.ts';
import { spanOfWeeks, styleSums, type WeekSet, weekOf, weekOn } from '../results/week.ts';
import type { Store } from '../store/store.ts';

const IN_EARNEST = { rehearsed: false } as const;
const DAYS = 7;
/** Day 0 of the count, 1 March of the year 0, was a Wednesday in the Gregorian calendar carried back (ISO 8601). */
const MONDAY_BEFORE_DAY_0 = 2;

/** The Monday of a day's week (ISO 8601: weeks begin on Mondays). */
export const mondayOf = (day: string): string => {
  const number = dayNumber(day);
  return dateOf(number - ((number + MONDAY_BEFORE_DAY_0) % DAYS));
};

const sevenFrom = (first: string): string[] =>
  Array.from({ length: DAYS }, (_, place) => dateOf(dayNumber(first) + place));

interface Asked {
  readonly store: Store;
  readonly face: ClockFace;
  readonly now: Instant;
}

export const todayOf = ({ face, now }: Pick<Asked, 'face' | 'now'>): string =>
  calendarOf(face.timezone)(now + face.trimMs);

/** What is planned for seven days and what was swum in them. Only what was swum in earnest counts. */
export function weekPlan({ store, face, now }: Asked, first: string): WeekPlan {
  const days = sevenFrom(first);
  const last = days[DAYS - 1] ?? first;
  const planned = store.plan.between(first, last);
  const known = practicesIn(store);
  const shown = days.map((day) => ({ day, practices: (planned.get(day) ?? []).map(known) }));
  const sets = shown.flatMap(({ practices }) => practices.flatMap((one) => one.sets));
  const { from, to } = spanOfWeeks(last, 1);
  const swum = swumByDay({ store, face }, from, to);
  return {
    today: todayOf({ face, now }),
    days: shown.map(({ day, practices }) => ({
      day,
      practices: practices.map(({ shown }) => shown),
      swum: swum.get(day) ?? [],
    })),
    planned: weekOn(last, sets),
    swum: weekOf(store.history.swum(from, to, null, IN_EARNEST), last, face),
  };
}

/** The practices that somebody has left on, by the day on which the first did. */
function swumByDay({ store, face }: Omit<Asked, 'now'>, from: Instant, to: Instant): Map<string, SwumPractice[]> {
  const dayAt = calendarOf(face.timezone);
  const byDay = Map.groupBy(store.history.runs(from, to, IN_EARNEST), ({ at }) => dayAt(at + face.trimMs));
  return new Map([...byDay].map(([day, runs]) => [day, runs.map(({ run, title }) => ({ run, title }))]));
}

/** A practice of the plan, with the sets that it comes to. */
interface Planned {
  readonly shown: PlannedPractice;
  readonly sets: readonly WeekSet[];
}

/** Says what a practice comes to; each is worked out once. */
function practicesIn(store: Store): (id: PracticeId) => Planned {
  const [squad, pool] = [store.squad.squad(), store.pool.pool()];
  const known = new Map<PracticeId, Planned>();
  const workedOut = (practice: PracticeId): Planned => {
    const stored = store.practices.practice(practice);
    const sheet = stored && planPractice(stored.text, squad, pool).sheet;
    const isThere = stored && !store.practices.isDeleted(practice);
    const sets = sheet ? plannedSets(sheet) : [];
    return { shown: { practice, title: isThere ? stored.title : null, byStyle: styleSums(sets) }, sets };
  };
  return (id) => {
    const one = known.get(id) ?? workedOut(id);
    known.set(id, one);
    return one;
  };
}

export const plannedDay = (store: Store, day: string): PlannedDay => ({
  day,
  practices: store.plan
    .on(day)
    .map(practicesIn(store))
    .map(({ shown }) => shown),
});

/** Copies seven days onto seven others; a day that has something already stays as it is. */
export function copyWeek(store: Store, { from, to }: CopyWeek): CopiedWeek {
  return store.inTransaction(() => {
    const onto = sevenFrom(to);
    const filled = sevenFrom(from).flatMap((day, place) => {
      const [practices, target] = [store.plan.on(day), onto[place]];
      return practices.length > 0 && target !== undefined ? [{ practices, target }] : [];
    });
    const free = filled.filter(({ target }) => store.plan.on(target).length === 0);
    for (const { practices, target } of free) store.plan.replace(target, practices);
    return { copied: free.length, kept: filled.length - free.length };
  });
}
