import fc from 'fast-check';
import { ckmeans } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { type LaneOptions, type Proposal, proposeLanes } from '../../server/planning/lanes/propose-lanes.ts';
import { type LaneNumber, laneNumber, type SwimmerId, swimmerIdSchema } from '../../shared-types/brand.ts';

const idOf = (place: number): SwimmerId => swimmerIdSchema.parse(place.toString(16).padStart(32, '0'));

/** Swimmers 0, 1, 2 … with these times, ms. @param lanesKept the lane of each that is settled, by place */
function propose(
  times: readonly number[],
  options: Pick<LaneOptions, 'lanes' | 'capacity'>,
  lanesKept: readonly (number | null)[] = [],
): Proposal {
  const swimmers = times.map((paceMs, place) => ({ id: idOf(place), paceMs }));
  const fixed = new Map<SwimmerId, LaneNumber>();
  lanesKept.forEach((lane, place) => {
    if (lane !== null) fixed.set(idOf(place), laneNumber(lane));
  });
  const proposal = proposeLanes(swimmers, { ...options, distance: 200, fixed });
  if (proposal.kind !== 'proposal') throw new Error(proposal.text);
  return proposal;
}

const idsIn = ({ lanes }: Proposal): SwimmerId[][] => lanes.map(({ swimmers }) => swimmers.map(({ id }) => id));

/** Squared differences from the mean, straight from the definition. */
function squaresOf(times: readonly number[]): number {
  const mean = times.reduce((sum, time) => sum + time, 0) / times.length;
  return times.reduce((sum, time) => sum + (time - mean) ** 2, 0);
}

const totalOf = (lanes: readonly (readonly number[])[]): number =>
  lanes.reduce((sum, lane) => sum + (lane.length === 0 ? 0 : squaresOf(lane)), 0);

/** The least total over all ways to put the swimmers from `place` on into lanes; order does not matter. */
function leastOfAll(times: readonly number[], lanes: number[][], capacity: number, place = 0): number {
  const time = times[place];
  if (time === undefined) return totalOf(lanes);
  const firstEmpty = lanes.findIndex((lane) => lane.length === 0);
  // Empty lanes are alike: it is enough to try the first.
  const tried = lanes.filter((lane, at) => lane.length < capacity && (lane.length > 0 || at === firstEmpty));
  return Math.min(
    ...tried.map((lane) => {
      lane.push(time);
      const least = leastOfAll(times, lanes, capacity, place + 1);
      lane.pop();
      return least;
    }),
  );
}

/** The least total over all ways to cut sorted times into a run a lane, each beside those settled in it. */
function leastOfRuns(sorted: readonly number[], settled: readonly (readonly number[])[], capacity: number): number {
  const [lane, ...rest] = settled;
  if (lane === undefined) return sorted.length === 0 ? 0 : Number.POSITIVE_INFINITY;
  const runs = Array.from({ length: Math.min(sorted.length, capacity - lane.length) + 1 }, (_, run) => run);
  return Math.min(
    ...runs.map((run) => {
      const here = totalOf([[...lane, ...sorted.slice(0, run)]]);
      return here + leastOfRuns(sorted.slice(run), rest, capacity);
    }),
  );
}

/** Equal but for rounding, measured by what all in one lane would come to. */
function expectSame(found: number, expected: number, times: readonly number[]): void {
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(1e-9 * Math.max(1, totalOf([times])));
}

/** Race times in hundredths as whole ms; narrow, too, so that there are equal ones. */
const time = fc.oneof(
  fc.integer({ min: 5000, max: 20_000 }).map((hundredths) => hundredths * 10),
  fc.integer({ min: 0, max: 5 }).map((step) => 120_000 + step * 1000),
);

/** Times, lanes and capacity with room for all. */
const squadOf = (most: number, mostLanes: number) =>
  fc
    .tuple(fc.array(time, { maxLength: most, size: 'max' }), fc.integer({ min: 1, max: mostLanes }), fc.nat(3))
    .map(([times, lanes, spare]) => ({
      times,
      lanes,
      capacity: Math.max(1, Math.ceil(times.length / lanes) + spare),
    }));

/** The same, each swimmer perhaps settled in a lane that has room. */
const settledSquad = (most: number, mostLanes: number) =>
  fc
    .tuple(squadOf(most, mostLanes), fc.array(fc.option(fc.nat(mostLanes - 1)), { minLength: most, maxLength: most }))
    .map(([squad, wishes]) => {
      const counts = Array.from({ length: squad.lanes }, () => 0);
      const kept = squad.times.map((_, place) => {
        const wish = wishes[place] ?? null;
        const at = wish === null ? null : wish % squad.lanes;
        if (at === null || (counts[at] ?? 0) >= squad.capacity) return null;
        counts[at] = (counts[at] ?? 0) + 1;
        return at + 1;
      });
      return { ...squad, kept };
    });

const RUNS = { numRuns: 150, endOnFailure: true };

describe('proposed lanes of random squads', () => {
  it('have the least sum of squares of all ways to fill the lanes, runs or not', () => {
    fc.assert(
      fc.property(squadOf(9, 4), ({ times, lanes, capacity }) => {
        const empty = Array.from({ length: lanes }, () => []);
        const { sumOfSquares } = propose(times, { lanes, capacity });
        expectSame(sumOfSquares, leastOfAll(times, empty, capacity), times);
      }),
      { ...RUNS, numRuns: 60 },
    );
  });

  it('have the least sum of squares of all cuts into runs beside settled swimmers', () => {
    fc.assert(
      fc.property(settledSquad(9, 4), ({ times, lanes, capacity, kept }) => {
        const settled = Array.from({ length: lanes }, (_, at) =>
          times.filter((_time, place) => kept[place] === at + 1),
        );
        const sorted = times.filter((_time, place) => kept[place] === null).sort((a, b) => a - b);
        const { sumOfSquares } = propose(times, { lanes, capacity }, kept);
        expectSame(sumOfSquares, leastOfRuns(sorted, settled, capacity), times);
      }),
      RUNS,
    );
  });

  it('without a limit are the optimal clusters of one dimension (source: simple-statistics 7.12.1, ckmeans)', () => {
    const sizes = fc.tuple(
      fc.array(time, { minLength: 1, maxLength: 60, size: 'max' }),
      fc.integer({ min: 1, max: 12 }),
    );
    fc.assert(
      fc.property(sizes, ([times, wanted]) => {
        const lanes = Math.min(wanted, times.length);
        const { sumOfSquares } = propose(times, { lanes, capacity: times.length });
        expectSame(sumOfSquares, totalOf(ckmeans(times, lanes)), times);
      }),
      RUNS,
    );
  });

  it('hold everybody once, settled ones where they are settled, none over its capacity', () => {
    fc.assert(
      fc.property(settledSquad(40, 12), ({ times, lanes, capacity, kept }) => {
        const filled = idsIn(propose(times, { lanes, capacity }, kept));
        expect(filled).toHaveLength(lanes);
        expect(filled.flat().sort()).toEqual(times.map((_time, place) => idOf(place)));
        for (const lane of filled) expect(lane.length).toBeLessThanOrEqual(capacity);
        kept.forEach((lane, place) => {
          if (lane !== null) expect(filled[lane - 1]).toContain(idOf(place));
        });
      }),
      RUNS,
    );
  });

  it('go from fast to slow, in each lane and, but for settled swimmers, from lane to lane', () => {
    fc.assert(
      fc.property(settledSquad(40, 12), ({ times, lanes, capacity, kept }) => {
        const filled = propose(times, { lanes, capacity }, kept).lanes;
        const inOrder = (values: readonly (number | null)[]): void =>
          expect(values).toEqual([...values].sort((a, b) => (a ?? 0) - (b ?? 0)));
        for (const { swimmers } of filled) inOrder(swimmers.map(({ paceMs }) => paceMs));
        inOrder(filled.flatMap(({ swimmers }) => swimmers.filter(({ fixed }) => !fixed).map(({ paceMs }) => paceMs)));
      }),
      RUNS,
    );
  });

  it('give figures that follow from who is in them', () => {
    fc.assert(
      fc.property(settledSquad(20, 6), ({ times, lanes, capacity, kept }) => {
        const proposal = propose(times, { lanes, capacity }, kept);
        const filled = proposal.lanes.map(({ swimmers }) => swimmers.map(({ paceMs }) => paceMs ?? 0));
        expectSame(proposal.sumOfSquares, totalOf(filled), times);
        proposal.lanes.forEach(({ meanMs, spreadMs }, at) => {
          const here = filled[at] ?? [];
          if (here.length === 0) expect([meanMs, spreadMs]).toEqual([null, null]);
          else {
            expect(meanMs).toBeCloseTo(here.reduce((sum, one) => sum + one, 0) / here.length, 6);
            expect(spreadMs).toBe(Math.max(...here) - Math.min(...here));
          }
        });
      }),
      RUNS,
    );
  });

  it('share out evenly spaced or equal swimmers evenly, the odd ones to the faster lanes', () => {
    // By hand: k swimmers d apart have d²(k³ − k)/12, least in all when the numbers differ by 1 at most; all such
    // ways are equal, so only the rule for ties, and never rounding, may choose between them.
    const spaced = fc.record({
      first: time,
      apart: fc.nat(300),
      swimmers: fc.nat(60),
      lanes: fc.integer({ min: 1, max: 12 }),
    });
    fc.assert(
      fc.property(spaced, ({ first, apart, swimmers, lanes }) => {
        const times = Array.from({ length: swimmers }, (_, place) => first + place * apart * 10);
        const counts = idsIn(propose(times, { lanes, capacity: 60 })).map((lane) => lane.length);
        const [each, odd] = [Math.floor(swimmers / lanes), swimmers % lanes];
        expect(counts).toEqual(counts.map((_, lane) => each + (lane < odd ? 1 : 0)));
      }),
      RUNS,
    );
  });

  it('stay the same when every time is so much longer, or so many times as long', () => {
    const change = fc.tuple(fc.integer({ min: 0, max: 10_000_000 }), fc.integer({ min: 1, max: 1000 }));
    fc.assert(
      fc.property(settledSquad(20, 6), change, ({ times, lanes, capacity, kept }, [longer, factor]) => {
        const before = propose(times, { lanes, capacity }, kept);
        const moved = times.map((one) => one + longer);
        const after = propose(moved, { lanes, capacity }, kept);
        expect(idsIn(after)).toEqual(idsIn(before));
        expectSame(after.sumOfSquares, before.sumOfSquares, moved);
        const scaled = times.map((one) => one * factor);
        const stretched = propose(scaled, { lanes, capacity }, kept);
        expect(idsIn(stretched)).toEqual(idsIn(before));
        expectSame(stretched.sumOfSquares, before.sumOfSquares * factor * factor, scaled);
      }),
      RUNS,
    );
  });
});
