import type { RunId, SwimmerId } from '../../shared-types/brand.ts';
import type { RepLoad } from '../../shared-types/loads.ts';
import type { Sheet } from '../../shared-types/sheet.ts';
import { failure, type KnownFailure } from '../failure.ts';
import { slipIn } from '../results/loads.ts';
import { repTimesOf } from '../results/rep-times.ts';
import { inForce, setKeyOf } from '../results/run-index.ts';
import type { Knowledge } from '../results/set-results.ts';
import type { Store } from '../store/store.ts';
import type { MarkKeeper } from './mark-keeper.ts';

const NO_SUCH_RUN = failure('no-such-run', 'The server has never had such a practice.');
const NOT_IN_SET = failure('no-such-set', 'This swimmer has no place in such a set of the practice.');

/** Whose loads of what. */
export interface LoadedSet {
  readonly run: RunId;
  /** Index into the sets of the sheet in force. */
  readonly set: number;
  readonly swimmer: SwimmerId;
}

/** Keeps what a swimmer pulled against in a set, in the place of what was kept before. */
export function keepLoads(
  { store, marks }: { readonly store: Store; readonly marks: MarkKeeper },
  { run, set, swimmer }: LoadedSet,
  loads: readonly RepLoad[],
): { readonly ok: true } | KnownFailure {
  const swum = marks.swumRun(run);
  if (!swum) return NO_SUCH_RUN;
  const sheet = inForce(swum.versions);
  const of = sheet.sets[set];
  const own = repTimesOf(swum)[set]?.find((one) => one.swimmer === swimmer);
  if (!of || !own) return NOT_IN_SET;
  const slip = slipIn(loads, of, own.reps);
  if (slip) return failure('not-a-load', slip.message, slip.fix === undefined ? {} : { fix: slip.fix });
  store.loads.replace(run, { set: setKeyOf(sheet, set), swimmer, loads });
  return { ok: true };
}

/** What was written down of a swimmer's reps of a set of the sheet in force; empty: the practice is believed. */
export type LoadsKnown = (swimmer: SwimmerId, set: number) => readonly RepLoad[];

export function loadsKnown(store: Store, run: RunId, sheet: Sheet): LoadsKnown {
  const known = new Map(store.loads.of(run).map(({ set, swimmer, loads }) => [`${set} ${swimmer}`, loads]));
  return (swimmer, set) => known.get(`${setKeyOf(sheet, set)} ${swimmer}`) ?? [];
}

export const loadOn =
  (known: LoadsKnown): NonNullable<Knowledge['load']> =>
  (swimmer, set, step) =>
    known(swimmer, set).find((one) => one.step === step)?.load;
