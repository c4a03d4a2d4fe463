import type { Reference, SetMean, Swimmer } from '../../shared-types/squad.ts';
import { sameEvent, startOf } from './pace/references.ts';

type Dated = { readonly date?: string | undefined };

const isAsNew = (a: Dated, b: Dated): boolean => (a.date ?? '') >= (b.date ?? '');

/** A test of the same that the file has, as new or newer. */
const isOutdated = (kept: Reference, next: Swimmer): boolean =>
  next.references.some(
    (one) =>
      one.kind === kept.kind &&
      one.course === kept.course &&
      sameEvent(one.event, kept.event) &&
      startOf(one) === startOf(kept) &&
      isAsNew(one, kept),
  );

const isOutdatedMean = (kept: SetMean, next: Swimmer): boolean =>
  (next.means ?? []).some((one) => one.set === kept.set && one.sendOff === kept.sendOff && isAsNew(one, kept));

/**
 * A swimmer from a squad's file, with what was taken over from results before: no file has that, so that it would be
 * lost. What the file has of as new a date goes before it.
 */
export function withTakenOver(next: Swimmer, before: Swimmer): Swimmer {
  const references = before.references.filter((one) => one.handTimed && !isOutdated(one, next));
  const means = (before.means ?? []).filter((one) => one.handTimed && !isOutdatedMean(one, next));
  const allMeans = [...(next.means ?? []), ...means];
  return {
    ...next,
    references: [...next.references, ...references],
    ...(allMeans.length > 0 ? { means: allMeans } : {}),
  };
}
