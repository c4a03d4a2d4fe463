import { describe, expect, it } from 'vitest';
import {
  type CurableRep,
  type Cure,
  curesFor,
  cureWords,
  type LaneTraffic,
} from '../../server/planning/lanes/cures.ts';
import { suggestSendOffs } from '../../server/planning/lanes/suggest-send-offs.ts';
import { type LaneRep, type Trip, trafficIn } from '../../server/planning/lanes/traffic.ts';

/** Boundaries from `distance, seconds` pairs. */
const trip = (...marks: [number, number][]): Trip => marks.map(([distance, s]) => ({ distance, ms: s * 1000 }));
const hundred = (s: number): Trip => trip([100, s]);
const alike = (count: number, one: Trip): Trip[] => Array.from({ length: count }, () => one);

const rep = (trips: readonly Trip[], more: Partial<LaneRep> = {}): LaneRep => ({
  trips,
  apartMs: 5000,
  cycleMs: null,
  distance: 100,
  poolLength: 25,
  start: 'push',
  byHeat: false,
  ...more,
});

const found = (trips: readonly Trip[], more: Partial<LaneRep> = {}): string[] =>
  trafficIn(rep(trips, more)).map(({ code }) => code);

describe('catches: a later swimmer arrives less than 2 s after an earlier one', () => {
  it('5 s apart, 70.0 and 66.9: 1.9 s after', () => {
    expect(trafficIn(rep([hundred(70), hundred(66.9)]))).toEqual([
      { code: 'catches', later: 1, earlier: 0, distance: 100, gapMs: 1900 },
    ]);
    expect(found([hundred(70), hundred(66.99)])).toEqual(['catches']);
    expect(found([hundred(70), hundred(67)])).toEqual([]);
  });

  it('or before', () => {
    expect(trafficIn(rep([hundred(70), hundred(60)]))).toMatchObject([{ gapMs: -5000 }]);
  });

  it('also where a part ends, though all is well at the end', () => {
    const first = trip([50, 36], [100, 80]);
    const second = trip([50, 32], [100, 80]);
    expect(trafficIn(rep([first, second]))).toMatchObject([{ distance: 50, gapMs: 1000 }]);
  });

  it('whoever leaves between them, known or not, holds a place and a gap', () => {
    expect(trafficIn(rep([hundred(70), [], hundred(61.5)]))).toMatchObject([{ later: 2, earlier: 0, gapMs: 1500 }]);
    expect(found([hundred(70), [], hundred(62)])).toEqual([]);
  });

  it('as far as times are known', () => {
    const half = trip([50, 30]);
    expect(trafficIn(rep([trip([50, 36], [100, 72]), half]))).toMatchObject([{ distance: 50, gapMs: -1000 }]);
  });

  it('side by side only when the later one is faster', () => {
    expect(found([hundred(70), hundred(70)], { apartMs: 0 })).toEqual([]);
    expect(found([hundred(70), hundred(69.9)], { apartMs: 0 })).toEqual(['catches']);
  });

  it('never in heats', () => {
    expect(found([hundred(70), hundred(60)], { byHeat: true, start: 'dive' })).toEqual([]);
  });
});

describe('lane full: the leader is back from two lengths before all have been gone a gap', () => {
  it('two lengths in 43 s, :05 apart: 8 fit (computed: floor(43 / 5))', () => {
    expect(found(alike(8, hundred(86)))).toEqual([]);
    expect(trafficIn(rep(alike(9, hundred(86))))).toEqual([
      { code: 'lane-full', count: 9, fits: 8, twoLengthsMs: 43_000 },
    ]);
  });

  it('just as many as fit are not too many', () => {
    expect(found(alike(8, hundred(80)))).toEqual([]);
    expect(found(alike(9, hundred(80)))).toEqual(['lane-full']);
  });

  it('the time for two lengths lies between the splits', () => {
    const uneven = trip([25, 15], [75, 75]);
    expect(trafficIn(rep(alike(10, uneven), { distance: 75 }))).toMatchObject([{ fits: 9, twoLengthsMs: 45_000 }]);
  });

  it('not on reps of two lengths, and not in long course before 100', () => {
    expect(found(alike(12, trip([50, 43])), { distance: 50 })).toEqual([]);
    expect(found(alike(12, hundred(43)), { poolLength: 50 })).toEqual([]);
  });

  it('not when each leaves after the leader is in', () => {
    expect(found(alike(3, hundred(60)), { apartMs: 60_000 })).toEqual([]);
    expect(found(alike(3, hundred(60)), { apartMs: 59_000 })).toEqual(['lane-full']);
  });

  it('not known when the leader’s time is not, and nobody to meet for one alone', () => {
    expect(found([[], ...alike(11, hundred(86))])).toEqual([]);
    expect(found([hundred(60)], { apartMs: 40_000 })).toEqual([]);
  });
});

describe('send-offs and dives', () => {
  it('eight :05 apart need :40, the cycle is :30 (computed)', () => {
    const eight = alike(8, []);
    expect(trafficIn(rep(eight, { cycleMs: 30_000 }))).toEqual([
      { code: 'send-overflow', count: 8, neededMs: 40_000, cycleMs: 30_000 },
    ]);
    expect(found(eight, { cycleMs: 40_000 })).toEqual([]);
  });

  it('from the blocks less than :15 apart (common practice, no source)', () => {
    expect(found([[], []], { start: 'dive', apartMs: 14_000 })).toEqual(['dive-gap']);
    expect(found([[], []], { start: 'dive', apartMs: 15_000 })).toEqual([]);
    expect(found([[]], { start: 'dive' })).toEqual([]);
  });
});

const lane = (number: number, trips: readonly Trip[], more: Partial<CurableRep> = {}): LaneTraffic => ({
  lane: number,
  group: 'A',
  reps: [{ ...rep(trips), restMs: null, ...more }],
});

const cures = (ill: LaneTraffic, ...others: LaneTraffic[]): Cure[] => [...curesFor(ill, [ill, ...others])];
const words = (ill: LaneTraffic, ...others: LaneTraffic[]): string[] => cures(ill, ...others).map(cureWords);

describe('cures that pass', () => {
  it('order by speed comes first; who has no time stays behind', () => {
    const [best] = cures(lane(3, [hundred(80), [], hundred(60), hundred(70)]));
    expect(best).toEqual({ kind: 'order', lane: 3, order: [2, 3, 0, 1] });
    expect(best && cureWords(best)).toBe('order lane 3 by speed');
  });

  it('another gap, the nearest to the present one first, narrower or wider', () => {
    const apart = (ill: LaneTraffic) => cures(ill).flatMap((cure) => (cure.kind === 'gap' ? cure.apartMs / 1000 : []));
    expect(apart(lane(1, [hundred(70), hundred(66)])).slice(0, 2)).toEqual([10, 15]);
    expect(apart(lane(1, alike(4, []), { apartMs: 15_000, cycleMs: 50_000 }))).toEqual([10, 5]);
  });

  it('a gap only when it suits the other lanes of the line as well', () => {
    const ill = lane(1, [hundred(70), hundred(66)], { cycleMs: 90_000 });
    expect(words(ill)).toContain('write :10 apart');
    const long = lane(2, alike(10, []), { cycleMs: 90_000 });
    expect(words(ill, long).filter((cure) => cure.includes('apart'))).toEqual([]);
  });

  it('order and gap together where neither alone does it', () => {
    const slow = trip([25, 24], [50, 95]);
    const even = trip([25, 20], [50, 60]);
    const quickStart = trip([25, 12], [50, 62]);
    const ill = lane(1, [slow, even, quickStart], { distance: 50, cycleMs: 100_000 });
    expect(words(ill)[0]).toBe('order lane 1 by speed and write :10 apart');
  });

  it('from a dive also heats', () => {
    expect(words(lane(1, [[], []], { start: 'dive' })).slice(0, 1)).toEqual(['write :15 apart']);
    expect(words(lane(1, [[], []], { start: 'dive' }))).toContain('write on go by heat');
  });

  it('fewer in the lane, the most that pass', () => {
    const full = lane(2, alike(9, hundred(86)), { cycleMs: 100_000 });
    expect(words(full)).toEqual(['at most 8 in lane 2, those who leave first']);
  });

  it('another lane of the same group that has room', () => {
    const full = lane(2, alike(9, hundred(86)), { cycleMs: 100_000 });
    const host = lane(4, alike(7, hundred(86)), { cycleMs: 100_000 });
    const move = 'move the ninth swimmer to lane 4 and order that lane by speed';
    expect(words(full, host)).toContain(move);
    expect(words(full, { ...host, group: 'B' })).not.toContain(move);
    expect(words(full, lane(4, alike(8, hundred(86)), { cycleMs: 100_000 }))).not.toContain(move);
  });

  it('fewer in the lane make a shorter cycle where the rest follows the slowest of them', () => {
    // Rest :05 after 25.0 gives :30, room for three :10 apart; after 18.0 it gives :25, room for two.
    const [slow, quick] = [trip([25, 25]), trip([25, 18])];
    const rest = { distance: 25, apartMs: 10_000, cycleMs: 30_000, restMs: 5000 };
    const stay = (trips: Trip[]) => cures(lane(1, trips, rest)).flatMap((cure) => ('count' in cure ? cure.count : []));
    expect(stay([slow, quick, quick, quick])).toEqual([3]);
    expect(stay([quick, quick, quick, slow])).toEqual([2]);
  });
});

describe('suggested send-offs', () => {
  it('are the smallest multiples of :05 that leave everyone at least the rest asked for', () => {
    const slowest = new Map([
      ['A', 75_000],
      ['B', 80_001],
    ]);
    expect([...suggestSendOffs(slowest, 5000)]).toEqual([
      ['A', 80_000],
      ['B', 90_000],
    ]);
  });
});
