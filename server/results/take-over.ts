import { z } from 'zod';
import {
  type Reference,
  referenceSchema,
  type SetMean,
  type Swimmer,
  setMeanSchema,
} from '../../shared-types/squad.ts';
import { sameEvent, startOf } from '../planning/pace/references.ts';

export const takenSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('test'), reference: referenceSchema }),
  z.object({ kind: z.literal('mean'), mean: setMeanSchema }),
]);
/** A reference that comes from results, or that one of those took the place of. */
export type Taken = z.infer<typeof takenSchema>;

export const takeOverSchema = z.object({
  after: takenSchema,
  /** What it took the place of; null: nothing. */
  before: takenSchema.nullable(),
});
/** A result in the place of what a swimmer had before. */
export type TakeOver = z.infer<typeof takeOverSchema>;

/** What an offer is told by among those of a swimmer's set. */
export function offerId(taken: Taken): string {
  if (taken.kind === 'mean') return 'mean';
  const { distance, stroke, activity } = taken.reference.event;
  return `test-${distance}-${stroke}-${activity}`;
}

const isSameReference = (a: Reference, b: Reference): boolean =>
  a.kind === b.kind && a.timeMs === b.timeMs && a.date === b.date && isOfSame(a, b);

/** Of one event, course and start: a time from a push and one from a dive never take each other's place. */
const isOfSame = (a: Reference, b: Reference): boolean =>
  a.course === b.course && sameEvent(a.event, b.event) && startOf(a) === startOf(b);

const isSameMean = (a: SetMean, b: SetMean): boolean =>
  a.set === b.set && a.sendOff === b.sendOff && a.meanMs === b.meanMs && a.date === b.date;

function isSame(a: Taken | null, b: Taken | null): boolean {
  if (a?.kind === 'test') return b?.kind === 'test' && isSameReference(a.reference, b.reference);
  return a?.kind === 'mean' && b?.kind === 'mean' && isSameMean(a.mean, b.mean);
}

/** All that a swimmer has, one like another. */
const allOf = ({ references, means = [] }: Swimmer): Taken[] => [
  ...references.map((reference): Taken => ({ kind: 'test', reference })),
  ...means.map((mean): Taken => ({ kind: 'mean', mean })),
];

/** Whether the swimmer has it. */
const has = (swimmer: Swimmer, taken: Taken): boolean => allOf(swimmer).some((one) => isSame(one, taken));

const latest = <Dated extends { readonly date?: string | undefined }>(known: readonly Dated[]): Dated | undefined =>
  known.reduce<Dated | undefined>(
    (best, one) => (best && (best.date ?? '') > (one.date ?? '') ? best : one),
    undefined,
  );

/** The swimmer's latest of the same kind, which it takes the place of; null: there is none. */
function beforeOf({ references, means = [] }: Swimmer, taken: Taken): Taken | null {
  if (taken.kind === 'mean') {
    const { set, sendOff } = taken.mean;
    const mean = latest(means.filter((one) => one.set === set && one.sendOff === sendOff));
    return mean ? { kind: 'mean', mean } : null;
  }
  const tests = references.filter((one) => one.kind === 'test' && isOfSame(one, taken.reference));
  const reference = latest(tests);
  return reference ? { kind: 'test', reference } : null;
}

const dateOf = (taken: Taken): string => (taken.kind === 'test' ? taken.reference.date : taken.mean.date) ?? '';

/** @returns null where the swimmer has a newer one, or this very one */
export function takeOverOf(swimmer: Swimmer, after: Taken): TakeOver | null {
  const before = beforeOf(swimmer, after);
  if (has(swimmer, after) || (before && dateOf(before) > dateOf(after))) return null;
  return { after, before };
}

/** The swimmer with the result in the place of what was there. */
export const takenOver = (swimmer: Swimmer, { after, before }: TakeOver): Swimmer => exchanged(swimmer, before, after);

/** The swimmer with what was there before. @returns null when the result is not there any more */
export const takenBack = (swimmer: Swimmer, { after, before }: TakeOver): Swimmer | null =>
  has(swimmer, after) ? exchanged(swimmer, after, before) : null;

function exchanged(swimmer: Swimmer, old: Taken | null, next: Taken | null): Swimmer {
  const kept = allOf(swimmer).filter((one) => !isSame(one, old));
  const isThere = kept.some((one) => isSame(one, next));
  const all = next === null || isThere ? kept : [...kept, next];
  const means = all.flatMap((one) => (one.kind === 'mean' ? one.mean : []));
  const { means: _, ...own } = swimmer;
  const references = all.flatMap((one) => (one.kind === 'test' ? one.reference : []));
  return { ...own, references, ...(means.length > 0 ? { means } : {}) };
}
