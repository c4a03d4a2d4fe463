import fc from 'fast-check';
import { expect, test } from 'vitest';
import { squadChanges } from '../../server/planning/squad-changes.ts';
import { readSquadCsv } from '../../server/planning/squad-csv.ts';
import { squadCsv } from '../../server/planning/squad-export.ts';
import { importedSquad } from '../../server/planning/squad-import.ts';
import { nameKey } from '../../server/planning/swimmer-names.ts';
import { laneNumber, ms } from '../../shared-types/brand.ts';
import { asName } from '../../shared-types/plain-name.ts';
import { COURSES } from '../../shared-types/pool.ts';
import type { Reference, SetMean, Squad, Swimmer } from '../../shared-types/squad.ts';
import { countedIds } from '../fixtures/planning.ts';
import { randomSwimmers } from '../fixtures/random-squads.ts';

/** Names as they are kept of those that files have: commas, quotes, accents, and what a spreadsheet takes for a formula. */
const name = fc
  .tuple(
    fc.constantFrom('', "'", "''", '=', '+', '-', '@', '"'),
    fc.string({ unit: 'grapheme', minLength: 1, maxLength: 20 }),
  )
  .map((parts) => asName(parts.join('')))
  .filter((written) => written !== '' && written.length <= 60);

const day = fc.option(fc.constantFrom('2026-10-12', '2027-01-06'), { nil: undefined });

const taken = fc.record({
  date: day,
  start: fc.constantFrom('push' as const, 'dive' as const, undefined),
  handTimed: fc.constantFrom(true as const, undefined),
  addMs: fc.nat(9),
  isSplit: fc.boolean(),
});

const mean: fc.Arbitrary<SetMean> = fc
  .record({
    reps: fc.integer({ min: 1, max: 40 }),
    what: fc.constantFrom('50 free', '100 free kick', ':45 fly'),
    having: fc.constantFrom('', ', with board', ', with cord + paddles'),
    from: fc.constantFrom('push', 'dive'),
    course: fc.constantFrom(...COURSES),
    sendOff: fc.constantFrom('@ 1:30', '@ 1:30 dropping :02', 'rest :20', 'on go'),
    meanMs: fc.integer({ min: 20_000, max: 90_000 }).map(ms),
    taken,
  })
  .map(({ reps, what, having, from, course, sendOff, meanMs, taken: { date, handTimed } }) => ({
    set: `${reps} × ${what}, from a ${from}${having}, ${course}`,
    sendOff,
    meanMs,
    ...(date === undefined ? {} : { date }),
    ...(handTimed ? { handTimed } : {}),
  }));

/** A quarter each, the rest in the last: only where a quarter is whole lengths. */
function splitsOf({ event: { distance }, timeMs }: Reference): Pick<Reference, 'splitsMs'> {
  const quarter = Math.floor(timeMs / 4);
  return distance % 100 === 0 ? { splitsMs: [quarter, quarter, quarter, timeMs - 3 * quarter].map(ms) } : {};
}

function dressed(reference: Reference, how: typeof taken extends fc.Arbitrary<infer T> ? T : never): Reference {
  const { halfMs, ...rest } = { ...reference, timeMs: ms(reference.timeMs + how.addMs) };
  return {
    ...rest,
    ...(how.date === undefined ? {} : { date: how.date }),
    ...(how.isSplit ? splitsOf(rest) : halfMs === undefined ? {} : { halfMs }),
    ...(how.start ? { start: how.start } : {}),
    ...(how.handTimed ? { handTimed: how.handTimed } : {}),
  };
}

const unique = <T>(values: readonly T[]): T[] => [
  ...new Map(values.map((value) => [JSON.stringify(value), value])).values(),
];

const squad: fc.Arbitrary<Squad> = fc
  .record({
    swimmers: randomSwimmers,
    names: fc.uniqueArray(name, { minLength: 4, maxLength: 4, selector: nameKey }),
    places: fc.array(fc.record({ lane: fc.integer({ min: 1, max: 12 }), order: fc.integer({ min: 1, max: 12 }) }), {
      minLength: 4,
      maxLength: 4,
    }),
    means: fc.array(mean, { maxLength: 3 }),
    taken: fc.array(taken, { minLength: 12, maxLength: 12 }),
  })
  .map(({ swimmers, names, places, means, taken: how }) => ({
    swimmers: swimmers.map((one, at): Swimmer => {
      const { lane = 1, order = 1 } = places[at] ?? {};
      const dress = (reference: Reference, place: number) =>
        dressed(
          reference,
          how[place % 12] ?? { addMs: 0, isSplit: false, date: undefined, start: undefined, handTimed: undefined },
        );
      const references = unique(one.references.map(dress));
      const place = at % 2 === 0 ? { lane: laneNumber(lane), order } : {};
      const { lane: _, group: _group, ...rest } = one;
      const all = at === 0 && means.length > 0 ? { means: unique(means) } : {};
      return {
        ...rest,
        name: names[at] ?? `Swimmer ${at}`,
        ...(at === 1 ? { short: asName((names[at] ?? 'S').slice(0, 20)) || 'S' } : {}),
        ...place,
        ...(lane > 6 ? {} : { group: 'B' }),
        references,
        ...all,
      };
    }),
  }));

const withoutIds = ({ swimmers }: Squad) => swimmers.map(({ id: _, ...rest }) => rest);

test('a squad that is exported loads again to the same, into nothing and over itself', () => {
  fc.assert(
    fc.property(squad, (before) => {
      const reading = readSquadCsv(squadCsv(before), countedIds());
      expect(reading.problems).toEqual([]);
      expect(withoutIds(reading.squad)).toEqual(withoutIds(before));
      const after = importedSquad(reading, before);
      expect(after).toEqual(before);
      expect(squadChanges(before, after, reading.rows).every(({ kind }) => kind === 'unchanged')).toBe(true);
    }),
    { endOnFailure: true },
  );
});
