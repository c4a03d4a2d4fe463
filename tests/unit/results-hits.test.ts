import { describe, expect, it } from 'vitest';
import { hitsOf, judgementsOf } from '../../server/results/hits.ts';
import { ms } from '../../shared-types/brand.ts';
import type { RepTime } from '../../shared-types/results.ts';

type Judged = Parameters<typeof hitsOf>[0][number];

/** A rep of this length; the target's parts as [distance, seconds, paced], running; marks as [distance, seconds]. */
function rep(
  number: number,
  distance: number,
  parts: readonly [number, number, boolean][],
  marks: readonly [number, number][],
): Judged {
  const finish = marks.find(([at]) => at === distance)?.[1];
  const splits: RepTime['target']['splits'] = parts.map(([at, seconds, paced]) => ({
    distance: at,
    ms: ms(Math.round(seconds * 1000)),
    paced,
  }));
  return {
    rep: number,
    distance,
    ms: finish === undefined ? null : ms(Math.round(finish * 1000)),
    splits: marks
      .filter(([at]) => at < distance)
      .map(([at, seconds]) => ({ distance: at, ms: ms(Math.round(seconds * 1000)), takenAt: 'turn' })),
    target: { ms: splits[splits.length - 1]?.ms ?? null, estimated: false, splits },
    ...(finish === undefined ? { missing: 'not timed' as const } : {}),
  };
}

/** Fifties to hold 30.0; null: no time taken. */
const fifties = (...seconds: (number | null)[]): Judged[] =>
  seconds.map((time, place) => rep(place + 1, 50, [[50, 30, true]], time === null ? [] : [[50, time]]));

const verdicts = (...args: Parameters<typeof judgementsOf>): string[] =>
  judgementsOf(...args).map(({ distance, verdict }) => `${distance} ${verdict}`);

describe('hits', () => {
  it('are at or under the target and 0.3 s per 50', () => {
    // By hand: 30.3 still is a hit, 30.31 is not.
    expect(hitsOf(fifties(30, 30.3, 30.31, 29.7))).toMatchObject({ judged: 4, hits: 3, under: 0, firstMiss: 3 });
  });

  it('that are faster than the tolerance are hits that are counted once more, as under', () => {
    expect(hitsOf(fifties(29.7, 29.69, 28))).toMatchObject({ hits: 3, under: 2, firstMiss: null, longestRun: 3 });
  });

  it('allow in proportion to the distance: 0.6 s on 100, 0.15 s on 25', () => {
    const hundred = (seconds: number): Judged => rep(1, 100, [[100, 60, true]], [[100, seconds]]);
    const length = (seconds: number): Judged => rep(1, 25, [[25, 15, true]], [[25, seconds]]);
    expect([hundred(60.6), hundred(60.61), length(15.15), length(15.16)].map((one) => hitsOf([one]).hits)).toEqual([
      1, 0, 1, 0,
    ]);
  });

  it('go by the tolerance that is asked for', () => {
    expect(hitsOf(fifties(30.3), 0)).toMatchObject({ toleranceMsPer50: 0, hits: 0 });
    expect(hitsOf(fifties(31), 1000)).toMatchObject({ hits: 1, under: 0 });
  });

  it('have a longest run, which a miss ends and a time that is missing too: nobody knows that it was held', () => {
    expect(hitsOf(fifties(30, 30, 31, 30, 30, 30)).longestRun).toBe(3);
    expect(hitsOf(fifties(30, 30, null, 30, 30))).toMatchObject({
      longestRun: 2,
      judged: 4,
      unjudged: 1,
      firstMiss: null,
    });
  });

  it('say how far was swum at target', () => {
    expect(hitsOf(fifties(30, 31, 30)).pacedDistance).toBe(100);
  });

  it('of nothing are nothing: no reps, no times, no targets', () => {
    const nothing = { judged: 0, hits: 0, under: 0, longestRun: 0, firstMiss: null, pacedDistance: 0 };
    expect(hitsOf([])).toMatchObject({ ...nothing, unjudged: 0 });
    expect(hitsOf(fifties(null, null))).toMatchObject({ ...nothing, unjudged: 2 });
    expect(hitsOf([rep(1, 50, [], [[50, 30]])])).toMatchObject({ ...nothing, unjudged: 0 });
    expect(hitsOf([rep(1, 50, [[50, 45, false]], [[50, 30]])])).toMatchObject({ ...nothing, unjudged: 0 });
  });

  it('leave out reps that were not swum', () => {
    expect(hitsOf(fifties(30, null).map((one) => ({ ...one, missing: 'not swum' as const }))).unjudged).toBe(0);
  });
});

describe('the paced part of a rep', () => {
  const easyEnd: [number, number, boolean][] = [
    [50, 30, true],
    [100, 76, false],
  ];

  it('is judged by a mark at its end', () => {
    expect(verdicts(rep(1, 100, easyEnd, [[50, 30.2]]), 300)).toEqual(['50 held']);
    expect(
      verdicts(
        rep(1, 100, easyEnd, [
          [50, 30.4],
          [100, 80],
        ]),
        300,
      ),
    ).toEqual(['50 missed']);
    expect(verdicts(rep(1, 100, easyEnd, [[50, 29]]), 300)).toEqual(['50 under']);
  });

  it('is not judged where only the finish of a rep with an easy end was taken', () => {
    expect(verdicts(rep(1, 100, easyEnd, [[100, 70]]), 300)).toEqual(['50 unjudged']);
    expect(verdicts(rep(1, 100, easyEnd, []), 300)).toEqual(['50 unjudged']);
  });

  it('after an easy one is judged by its own time, if it is known where it began', () => {
    const easyFirst: [number, number, boolean][] = [
      [50, 46, false],
      [100, 76, true],
    ];
    // The easy part took 50 s instead of 46; the paced one 30.1 for 30.
    expect(
      verdicts(
        rep(1, 100, easyFirst, [
          [50, 50],
          [100, 80.1],
        ]),
        300,
      ),
    ).toEqual(['50 held']);
    expect(verdicts(rep(1, 100, easyFirst, [[100, 76]]), 300)).toEqual(['50 unjudged']);
  });

  it('and the next are judged together where no time was taken between them, else each by its own', () => {
    const two: [number, number, boolean][] = [
      [50, 30, true],
      [100, 62, true],
    ];
    expect(verdicts(rep(1, 100, two, [[100, 62.5]]), 300)).toEqual(['100 held']);
    expect(
      verdicts(
        rep(1, 100, two, [
          [50, 31],
          [100, 62.5],
        ]),
        300,
      ),
    ).toEqual(['50 missed', '50 under']);
  });

  it('counts with its own distance: 15 m of 50 at most 0.09 s over', () => {
    const start: [number, number, boolean][] = [
      [15, 7, true],
      [50, 40, false],
    ];
    expect(hitsOf([rep(1, 50, start, [[15, 7.09]])])).toMatchObject({ hits: 1, pacedDistance: 15 });
    expect(hitsOf([rep(1, 50, start, [[15, 7.1]])])).toMatchObject({ hits: 0, firstMiss: 1 });
  });

  it('is judged as far as the target goes: what follows may have none', () => {
    expect(
      verdicts(
        rep(
          1,
          100,
          [[50, 30, true]],
          [
            [50, 30],
            [100, 66],
          ],
        ),
        300,
      ),
    ).toEqual(['50 held']);
  });
});
