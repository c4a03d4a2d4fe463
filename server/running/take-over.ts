import type { RunId } from '../../shared-types/brand.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import type { ResultsAnswer } from '../../shared-types/wire/results.ts';
import { failure, type KnownFailure } from '../failure.ts';
import { inForce, setKeyOf } from '../results/run-index.ts';
import { takenBack, takenOver } from '../results/take-over.ts';
import { type Offer, type OfferedTo, type OfferParts, offersIn, timeMsOf, timeOf } from './reference-offers.ts';
import type { RunKeeper } from './run-keeper.ts';
import { runResults } from './run-results.ts';

interface TakeOverParts extends OfferParts {
  readonly keeper: Pick<RunKeeper, 'marks' | 'history'>;
}

type Done = { readonly ok: true } | KnownFailure;

const NO_SUCH_RUN = failure('no-such-run', 'The server has never had such a practice.');
const LOOK_AGAIN = { fix: 'Look at the results again.' };
const NOT_ON_OFFER = failure('not-on-offer', 'This result cannot be taken over any more.', LOOK_AGAIN);
const NOTHING_TO_UNDO = failure(
  'not-on-offer',
  'The squad has another time there by now, so there is nothing to put back.',
  LOOK_AGAIN,
);

interface Found {
  readonly ok: true;
  readonly offer: Offer;
  readonly swimmer: Swimmer;
  /** What the set is told by in every version of the sheet. */
  readonly key: string;
}

const resultsOf = ({ store, keeper }: TakeOverParts, run: RunId): Promise<ResultsAnswer | null> =>
  runResults(store, keeper, run, 'desk');

/** Not to be waited for, so that of two who press at once the second finds what the first has done. */
function find(
  parts: TakeOverParts,
  run: RunId,
  { set, swimmer: id, offer: wanted }: OfferedTo,
  answer: ResultsAnswer | null,
): Found | KnownFailure {
  const swum = parts.keeper.marks.swumRun(run);
  if (!swum || !answer) return NO_SUCH_RUN;
  const own = answer.sets[set]?.swimmers.find((one) => one.swimmer === id);
  const swimmer = parts.store.squad.squad().swimmers.find((one) => one.id === id);
  const offer = own && offersIn(parts, answer.run, swum)(set, own).find((one) => one.id === wanted);
  return offer && swimmer ? { ok: true, offer, swimmer, key: setKeyOf(inForce(swum.versions), set) } : NOT_ON_OFFER;
}

/**
 * Makes a result a reference of the swimmer's, in the place of what was there before. Taken twice it is taken once.
 * @param timeMs what the coach saw: with another time by now nothing is done
 */
export async function takeOver(parts: TakeOverParts, run: RunId, offered: OfferedTo, timeMs: number): Promise<Done> {
  const found = find(parts, run, offered, await resultsOf(parts, run));
  if (!found.ok) return found;
  const { offer, swimmer, key } = found;
  if (timeMsOf(offer.takeOver.after) !== timeMs) {
    return failure('not-on-offer', `The time is another one by now: ${timeOf(offer.takeOver.after)}.`, LOOK_AGAIN);
  }
  if (offer.isTaken) return { ok: true };
  const { store } = parts;
  store.inTransaction(() => {
    store.squad.save(takenOver(swimmer, offer.takeOver));
    store.takeOvers.save(run, { set: key, swimmer: swimmer.id, offer: offer.id, takeOver: offer.takeOver });
  });
  return { ok: true };
}

/** Puts back what the result took the place of. */
export async function undoTakeOver(parts: TakeOverParts, run: RunId, offered: OfferedTo): Promise<Done> {
  const found = find(parts, run, offered, await resultsOf(parts, run));
  if (!found.ok) return found.code === 'not-on-offer' ? NOTHING_TO_UNDO : found;
  const { offer, swimmer, key } = found;
  const back = offer.isTaken ? takenBack(swimmer, offer.takeOver) : null;
  if (!back) return NOTHING_TO_UNDO;
  const { store } = parts;
  store.inTransaction(() => {
    store.squad.save(back);
    store.takeOvers.forget(run, { set: key, swimmer: swimmer.id, offer: offer.id });
  });
  return { ok: true };
}
