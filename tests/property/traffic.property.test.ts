import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyCure,
  type CurableRep,
  type Cure,
  curesFor,
  type LaneTraffic,
  lineCures,
} from '../../server/planning/lanes/cures.ts';
import { cycleWithRest } from '../../server/planning/lanes/suggest-send-offs.ts';
import { type Finding, type LaneRep, type Trip, trafficIn } from '../../server/planning/lanes/traffic.ts';
import { type Meeting, type SeenInLane, swimLane } from '../fixtures/lane-simulator.ts';

/**
 * Every swimmer keeps a whole number of hundredths for each 5 (m or yd) of a part, and parts end at multiples of 5, so
 * that every arrival, and the leader's after two lengths, falls on a sample: the simulator is exact, and both must
 * agree to the millisecond, limits included.
 */
interface Course {
  readonly poolLength: number;
  readonly ends: readonly number[];
}

const course: fc.Arbitrary<Course> = fc
  .tuple(fc.constantFrom(25, 50), fc.integer({ min: 1, max: 4 }), fc.array(fc.nat(), { maxLength: 2 }))
  .map(([poolLength, lengths, cuts]) => {
    const distance = poolLength * lengths;
    const inside = cuts.map((cut) => 5 * (1 + (cut % (distance / 5 - 1))));
    return { poolLength, ends: [...new Set([...inside, distance])].sort((a, b) => a - b) };
  });

/** Hundredths a swimmer takes for 5: like speeds, one far off, and whole seconds that hit the limits exactly. */
const pace = fc.oneof(
  { weight: 3, arbitrary: fc.integer({ min: 340, max: 380 }) },
  { weight: 1, arbitrary: fc.integer({ min: 280, max: 520 }) },
  { weight: 2, arbitrary: fc.constantFrom(300, 320, 340, 360, 400) },
);

/** All parts known, or only the first few, or none. */
const trip = ({ ends }: Course): fc.Arbitrary<Trip> =>
  fc
    .tuple(
      fc.array(pace, { minLength: ends.length, maxLength: ends.length }),
      fc.oneof({ weight: 5, arbitrary: fc.constant(ends.length) }, fc.nat({ max: ends.length })),
    )
    .map(([paces, known]) => {
      let ms = 0;
      return ends.slice(0, known).map((distance, part) => {
        ms += ((distance - (ends[part - 1] ?? 0)) / 5) * (paces[part] ?? 0) * 10;
        return { distance, ms };
      });
    });

const seconds = (...of: number[]): fc.Arbitrary<number> => fc.constantFrom(...of.map((second) => second * 1000));
const apart = fc.oneof({ weight: 3, arbitrary: seconds(5, 10) }, seconds(0, 1, 2, 3, 15, 20, 30, 60));
const cycle = fc.oneof(
  fc.constant(null),
  fc.integer({ min: 2, max: 30 }).map((n) => n * 5000),
);
const start = fc.oneof({ weight: 4, arbitrary: fc.constant('push' as const) }, fc.constant('dive' as const));

const repOn = (on: Course): fc.Arbitrary<LaneRep> =>
  fc.record({
    trips: fc.array(trip(on), { minLength: 1, maxLength: 6 }),
    apartMs: apart,
    cycleMs: cycle,
    distance: fc.oneof({ weight: 9, arbitrary: fc.constant(on.ends.at(-1) ?? 0) }, fc.constant(null)),
    poolLength: fc.constant(on.poolLength),
    start,
    byHeat: fc.oneof({ weight: 9, arbitrary: fc.constant(false) }, fc.constant(true)),
  });

/** Of each pair only where it is closest, the first such place. */
function closest(meetings: readonly Meeting[]): Meeting[] {
  const pairs = new Map<string, Meeting>();
  for (const meeting of meetings) {
    const pair = `${meeting.later} ${meeting.earlier}`;
    if (meeting.gapMs < (pairs.get(pair)?.gapMs ?? Number.POSITIVE_INFINITY)) pairs.set(pair, meeting);
  }
  return [...pairs.values()];
}

/** What the simulator saw, in the words of the closed forms. */
function findingsSeen(rep: LaneRep, { meetings, leaderBack, nextRep, closeDives }: SeenInLane): Finding[] {
  const count = rep.trips.length;
  const neededMs = count * rep.apartMs;
  return [
    ...closest(meetings).map((meeting): Finding => ({ code: 'catches', ...meeting })),
    ...(leaderBack
      ? [{ code: 'lane-full', count, fits: leaderBack.gone, twoLengthsMs: leaderBack.atMs } as const]
      : []),
    ...(nextRep && rep.cycleMs !== null
      ? [{ code: 'send-overflow', count, neededMs, cycleMs: rep.cycleMs } as const]
      : []),
    ...(closeDives ? [{ code: 'dive-gap', apartMs: rep.apartMs } as const] : []),
  ];
}

const seenIn = (rep: LaneRep): Finding[] => findingsSeen(rep, swimLane(rep));

describe('lane traffic on random lanes', () => {
  it('is what a lane swum in steps of 10 ms shows, on 1,000 lanes', () => {
    const found = new Set<string>();
    fc.assert(
      fc.property(course.chain(repOn), (rep) => {
        const findings = trafficIn(rep);
        expect(findings).toEqual(seenIn(rep));
        for (const { code } of findings) found.add(code);
      }),
      { numRuns: 1000, endOnFailure: true },
    );
    expect([...found].sort()).toEqual(['catches', 'dive-gap', 'lane-full', 'send-overflow']);
  });
});

/** A rest gives each lane the cycle that its own slowest swimmer needs. */
function withRest(rep: LaneRep, restMs: number | null): CurableRep {
  const whole = rep.trips.flatMap((known) => known.find(({ distance }) => distance === rep.distance)?.ms ?? []);
  if (restMs === null || rep.distance === null) return { ...rep, restMs: null };
  return { ...rep, restMs, cycleMs: whole.length === 0 ? null : cycleWithRest(Math.max(...whole), restMs) };
}

/** Two or three lanes that swim the same one or two reps at the same gap and send-off. */
const lanesOn = (on: Course): fc.Arbitrary<LaneTraffic[]> =>
  fc
    .record({
      shared: repOn(on).map(({ apartMs, cycleMs, start: from }) => ({ apartMs, cycleMs, start: from })),
      restMs: fc.oneof({ weight: 3, arbitrary: fc.constant(null) }, seconds(5, 20)),
      reps: fc.integer({ min: 1, max: 2 }),
      groups: fc.array(fc.constantFrom('A', 'A', 'B'), { minLength: 2, maxLength: 3 }),
    })
    .chain(({ shared, restMs, reps, groups }) =>
      fc.tuple(
        ...groups.map((group, place) =>
          fc
            .integer({ min: 1, max: 5 })
            .chain((count) => {
              const trips = fc.array(trip(on), { minLength: count, maxLength: count });
              return fc.array(trips, { minLength: reps, maxLength: reps });
            })
            .map((rows): LaneTraffic => {
              const fixed = { ...shared, distance: on.ends.at(-1) ?? 0, poolLength: on.poolLength, byHeat: false };
              return { lane: place + 1, group, reps: rows.map((trips) => withRest({ ...fixed, trips }, restMs)) };
            }),
        ),
      ),
    );

const keys = (rep: LaneRep | undefined): string[] =>
  rep ? seenIn(rep).map((one) => (one.code === 'catches' ? `${one.code} ${one.later} ${one.earlier}` : one.code)) : [];

/** With the cure, the simulator sees nothing in the lanes it is for and nothing new in the others. */
function expectCured(cure: Cure, ill: readonly LaneTraffic[], lanes: readonly LaneTraffic[]): void {
  const clean = new Set([...ill.map(({ lane }) => lane), ...(cure.kind === 'move' ? [cure.to] : [])]);
  applyCure(cure, lanes).forEach(({ lane, reps }, place) => {
    reps.forEach((rep, at) => {
      expect(rep.cycleMs).toBe(withRest(rep, rep.restMs).cycleMs);
      const before = clean.has(lane) ? [] : keys(lanes[place]?.reps[at]);
      expect(keys(rep).filter((key) => !before.includes(key))).toEqual([]);
    });
  });
}

const isIll = ({ reps }: LaneTraffic): boolean => reps.some((rep) => trafficIn(rep).length > 0);

describe('cures on random lanes', () => {
  it('each leaves nothing for the simulator to see in its lane, and nothing new in the others', () => {
    const kinds = new Set<string>();
    fc.assert(
      fc.property(course.chain(lanesOn), (lanes) => {
        for (const ill of lanes.filter(isIll)) {
          for (const cure of curesFor(ill, lanes)) {
            kinds.add(cure.kind);
            expectCured(cure, [ill], lanes);
          }
        }
        const ill = lanes.filter(isIll);
        for (const cure of ill.length === 0 ? [] : lineCures(ill, lanes)) expectCured(cure, ill, lanes);
      }),
      { numRuns: 60, endOnFailure: true },
    );
    expect([...kinds]).toEqual(expect.arrayContaining(['order', 'gap', 'fewer', 'move']));
  });

  it('leave everybody somewhere, and nobody twice', () => {
    fc.assert(
      fc.property(course.chain(lanesOn), (lanes) => {
        const everybody = (of: readonly LaneTraffic[]): string[] =>
          of.flatMap(({ reps }) => reps[0]?.trips.map((known) => JSON.stringify(known)) ?? []).sort();
        for (const ill of lanes.filter(isIll)) {
          for (const cure of curesFor(ill, lanes)) {
            if (cure.kind !== 'fewer') expect(everybody(applyCure(cure, lanes))).toEqual(everybody(lanes));
          }
        }
      }),
      { numRuns: 200, endOnFailure: true },
    );
  });
});
