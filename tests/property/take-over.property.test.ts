import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { referenceFor, startOf } from '../../server/planning/pace/references.ts';
import { takenBack, takenOver, takeOverOf } from '../../server/results/take-over.ts';
import { ms } from '../../shared-types/brand.ts';
import { COURSES, REFERENCE_KINDS } from '../../shared-types/pool.ts';
import type { Reference, Swimmer } from '../../shared-types/squad.ts';
import { swimmer } from '../fixtures/planning.ts';

const RUNS = { endOnFailure: true, numRuns: 300 };

const day = fc.integer({ min: 1, max: 28 }).map((date) => `2027-01-${String(date).padStart(2, '0')}`);

/** Few events, so that many references are of the same. */
const reference = fc
  .record({
    distance: fc.constantFrom(50, 400, 3000),
    activity: fc.constantFrom('swim' as const, 'kick' as const),
    course: fc.constantFrom(...COURSES),
    timeMs: fc.integer({ min: 20_000, max: 300_000 }),
    kind: fc.constantFrom(...REFERENCE_KINDS),
    date: fc.option(day, { nil: undefined }),
    start: fc.constantFrom('push' as const, 'dive' as const, undefined),
  })
  .map(
    ({ distance, activity, course, timeMs, kind, date, start }): Reference => ({
      event: { distance, stroke: 'free', activity },
      course,
      timeMs: ms(timeMs),
      kind,
      ...(date === undefined ? {} : { date }),
      ...(start === undefined ? {} : { start }),
    }),
  );

const known = fc.array(reference, { maxLength: 12 }).map((all): Swimmer => {
  const different = new Map(all.map((one) => [JSON.stringify([one.event, one.course, one.timeMs, one.kind]), one]));
  return swimmer('Ada Vance', 1, 'A', [...different.values()]);
});

/** From results there are tests only, dated. */
const result = fc
  .tuple(reference, day, fc.constantFrom('push' as const, 'dive' as const))
  .map(([one, date, start]): Reference => ({ ...one, kind: 'test', date, start, handTimed: true }));

const texts = ({ references }: Swimmer): string[] => references.map((one) => JSON.stringify(one)).sort();

describe('any result taken over by any swimmer', () => {
  it('leaves goals, bests and all of another event, course or start alone, and undone nothing has changed', () => {
    fc.assert(
      fc.property(known, result, (own, reference) => {
        const takeOver = takeOverOf(own, { kind: 'test', reference });
        if (!takeOver) return;
        const after = takenOver(own, takeOver);
        const gone = own.references.filter((one) => !texts(after).includes(JSON.stringify(one)));
        expect(gone.length).toBeLessThanOrEqual(1);
        for (const one of gone) {
          expect(one).toMatchObject({ kind: 'test', course: reference.course, event: reference.event });
          expect(startOf(one)).toBe(startOf(reference));
        }
        const back = takenBack(after, takeOver);
        expect(back && texts(back)).toEqual(texts(own));
      }),
      RUNS,
    );
  });

  it('from a push never changes the time that is meant by an event, where there is one from a dive', () => {
    fc.assert(
      fc.property(known, result, fc.constantFrom(...REFERENCE_KINDS), (own, reference, prefer) => {
        const takeOver = takeOverOf(own, { kind: 'test', reference });
        const before = referenceFor(own, reference.event, reference.course, prefer);
        if (!takeOver || startOf(reference) !== 'push' || !before || startOf(before) !== 'dive') return;
        expect(referenceFor(takenOver(own, takeOver), reference.event, reference.course, prefer)).toEqual(before);
      }),
      RUNS,
    );
  });
});
