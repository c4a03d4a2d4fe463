import type { Instant, SwimmerId } from '../../shared-types/brand.ts';
import { eventText, howTaken, referenceTime, type Swimmer } from '../../shared-types/squad.ts';
import { dateText, formatSwimTime } from '../../shared-types/time.ts';
import type { ReferenceOffer, ResultsAnswer, RunSummary, ShownSwimmer } from '../../shared-types/wire/results.ts';
import { indexRun, type RunIndex, type SwumRun, setKeyOf } from '../results/run-index.ts';
import { offerId, type Taken, type TakeOver, takenBack, takeOverOf } from '../results/take-over.ts';
import { takeableOf } from '../results/takeable.ts';
import type { Store } from '../store/store.ts';

/** A result that is a reference, or could become one. */
export interface Offer {
  readonly id: string;
  readonly takeOver: TakeOver;
  /** It is one: the squad has it. */
  readonly isTaken: boolean;
}

/** What is needed to say it. */
export interface OfferParts {
  readonly store: Store;
  /** The day of an instant on the pool's clock, YYYY-MM-DD. */
  readonly dayOf: (at: Instant) => string;
}

/** Says what of a set of the sheet in force is on offer to a swimmer who is in the squad. */
export type OffersOf = (set: number, own: ShownSwimmer) => Offer[];

/** What nobody has swum, in a rehearsal, is never offered. */
export function offersIn({ store, dayOf }: OfferParts, run: RunSummary, swum: SwumRun): OffersOf {
  if (run.rehearsed) return () => [];
  const index = indexRun(swum);
  const squad = new Map(store.squad.squad().swimmers.map((swimmer) => [swimmer.id, swimmer]));
  const stored = store.takeOvers.of(run.id);
  return (set, own) => {
    const swimmer = squad.get(own.swimmer);
    if (!swimmer) return [];
    const key = setKeyOf(index.sheet, set);
    const made = stored.filter((one) => one.set === key && one.swimmer === own.swimmer);
    const taken = made
      .filter(({ takeOver }) => takenBack(swimmer, takeOver) !== null)
      .map(({ offer, takeOver }): Offer => ({ id: offer, takeOver, isTaken: true }));
    const fresh = takeableIn(index, set, own, swimmer, dayOf).flatMap((one): Offer[] => {
      const known = taken.find(({ id }) => id === offerId(one));
      const takeOver = takeOverOf(swimmer, one);
      // In its place, so that nothing moves under the hand that has pressed.
      if (known) return [known];
      return takeOver ? [{ id: offerId(one), takeOver, isTaken: false }] : [];
    });
    return [...fresh, ...taken.filter((one) => !fresh.includes(one))];
  };
}

function takeableIn(
  { sheet, places }: RunIndex,
  set: number,
  results: ShownSwimmer,
  swimmer: Swimmer,
  dayOf: OfferParts['dayOf'],
): Taken[] {
  const of = sheet.sets[set];
  if (!of) return [];
  const effortOn = ({ lane, step }: { lane: number; step: string }) => places.get(`${lane} ${step}`)?.step.effort;
  return takeableOf({ course: sheet.course, set: of, swimmer, results, effortOn, dayOf });
}

/** The results with what can be taken over from them. */
export function withOffers(answer: ResultsAnswer, offersOf: OffersOf): ResultsAnswer {
  const swimmerWith = (set: number, own: ShownSwimmer): ShownSwimmer => {
    const offers = offersOf(set, own).map(shownOffer);
    return offers.length > 0 ? { ...own, offers } : own;
  };
  const sets = answer.sets.map((set) => ({ ...set, swimmers: set.swimmers.map((own) => swimmerWith(set.set, own)) }));
  return { ...answer, sets };
}

function shownOffer({ id, takeOver: { after, before }, isTaken }: Offer): ReferenceOffer {
  return {
    id,
    what: whatOf(after),
    time: timeOf(after),
    timeMs: timeMsOf(after),
    notes: after.kind === 'test' ? howTaken(after.reference) : ['by hand'],
    before: before && beforeText(before),
    isTaken,
  };
}

const whatOf = (taken: Taken): string =>
  taken.kind === 'test'
    ? `${eventText(taken.reference.event)} ${taken.reference.course} test`
    : `mean of ${taken.mean.set}, ${taken.mean.sendOff}`;

export const timeMsOf = (taken: Taken) => (taken.kind === 'test' ? taken.reference.timeMs : taken.mean.meanMs);

export const timeOf = (taken: Taken): string =>
  taken.kind === 'test'
    ? referenceTime(taken.reference)
    : formatSwimTime(taken.mean.meanMs, taken.mean.handTimed ? 1 : 2);

function beforeText(before: Taken): string {
  const date = before.kind === 'test' ? before.reference.date : before.mean.date;
  return `${timeOf(before)}${date === undefined ? '' : ` of ${dateText(date)}`}`;
}

/** Whose result of which set. */
export interface OfferedTo {
  readonly set: number;
  readonly swimmer: SwimmerId;
  readonly offer: string;
}
