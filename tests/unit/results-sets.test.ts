import { describe, expect, it } from 'vitest';
import { meanToKeep } from '../../server/results/change.ts';
import type { SwumRun } from '../../server/results/run-index.ts';
import { type Knowledge, setResultsOf } from '../../server/results/set-results.ts';
import { instant } from '../../shared-types/brand.ts';
import { LEADS, none, type SwimmerResults, setResultsSchema } from '../../shared-types/results.ts';
import { best, swimmer } from '../fixtures/planning.ts';
import { SwumPractice } from '../fixtures/swum-practice.ts';

const ada = swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]);
const squad = { swimmers: [ada] };

/** One line of a practice, and Ada's finishes of it in seconds; null: not taken. */
function swum(line: string, finishes: readonly (number | null)[], style = ''): SwumPractice {
  return new SwumPractice(`Main${style && `: ${style}`}\n${line}\n`, squad).finishes(ada.id, '2.0.0', finishes);
}

/** What Ada's times of the first set say, an hour later. */
function resultsOf(practice: SwumPractice, knowledge?: Knowledge): SwimmerResults {
  const results = setResultsOf(practice.at(3600), knowledge);
  for (const set of results) expect(setResultsSchema.parse(JSON.parse(JSON.stringify(set)))).toEqual(set);
  const own = results[0]?.swimmers[0];
  if (!own) throw new Error('nothing was swum');
  return own;
}

const line = (practice: SwumPractice, knowledge?: Knowledge): string => resultsOf(practice, knowledge).lead.line;

const FIFTIES = '8 x 50 free @ 1:00 at 200 pace';
const HUNDREDS = '4 x 100 free @ 1:40 (50 at 200 pace, 50 easy)';

/** Paced parts of hundreds, marked at 50. */
function halves(practice: SwumPractice, times: readonly number[]): SwumPractice {
  times.forEach((seconds, place) => {
    practice.take({ swimmer: ada.id, step: `2.0.0.${place + 1}`, distance: 50, seconds });
  });
  return practice;
}

describe('what leads of a race-pace set', () => {
  const held = swum(FIFTIES, [30, 30.1, 30.2, 30.3, 30.9, 30, 31, 30]);

  it('is how many were held, how many in a row, and how far', () => {
    expect(resultsOf(held).hits).toMatchObject({ hits: 6, judged: 8, longestRun: 4, firstMiss: 5, pacedDistance: 300 });
    expect(resultsOf(held).lead).toEqual({
      metrics: LEADS['race pace'],
      line: '6 of 8 held, 4 in a row, 300 at pace',
    });
  });

  it('goes by the tolerance the coach has set', () => {
    expect(line(held, { toleranceMsPer50: 1000 })).toBe('8 of 8 held, 8 in a row, 400 at pace');
  });

  it('says what is missing, and how many were too fast', () => {
    const fast = swum(FIFTIES, [29, 30, null, 31, 30, null, null, null]);
    expect(line(fast)).toBe('3 of 4 held, 1 too fast, 2 in a row, 150 at pace, 4 not timed');
  });

  it('without a target is the mean', () => {
    expect(line(swum('4 x 50 fly @ 1:00 at 200 pace', [33, 34, 35, 36]))).toBe('nothing to hold, mean 34.5');
  });
});

describe('what leads of an active-rest set', () => {
  it('is what was held of the paced parts, and the rest on the wall', () => {
    const set = halves(swum(HUNDREDS, [75, 76, 76, 78]), [30, 30.2, 31, 30]);
    // Rests by hand: 25, 24 and 24 s; none after the last.
    expect(resultsOf(set)).toMatchObject({ hits: { hits: 3, pacedDistance: 150 }, rest: { count: 3 } });
    expect(line(set)).toBe('3 of 4 held, wall rest 24.3');
  });

  it('says so when no paced part was timed', () => {
    expect(line(swum(HUNDREDS, [75, 75, 75, 75]))).toBe('paced part not timed, wall rest 25.0');
  });

  it('does not need a finish', () => {
    expect(line(halves(swum(HUNDREDS, []), [30, 30, 30, 30]))).toBe('4 of 4 held');
  });
});

describe('what leads of a best-average set', () => {
  const set = swum('8 x 50 free @ 1:30', [31, 31, 31.2, 31, 31.4, 31, 31.6, 31.4], 'best average');

  it('is mean, spread and finish', () => {
    // By hand: mean 249.6 / 8 = 31.2; squares 0.04·3 + 0.04 + … = 0.4, SD √(0.4 / 7) = 0.239; finish 31.5 − 31.0.
    expect(line(set)).toBe('mean 31.2, spread 0.2, finish +0.5');
  });

  it('is also how much faster it was than the last time it was the same set', () => {
    const { signature } = resultsOf(set);
    const before = { signature, meanMs: 31_700, at: instant(1) };
    const other = { signature: { ...signature, strict: 'with more rest' }, meanMs: 31_000, at: instant(2) };
    const dive = { signature: { loose: 'from a dive', strict: 'from a dive' }, meanMs: 29_000, at: instant(3) };
    const change = (...means: (typeof before)[]) => resultsOf(set, { earlier: () => means }).change;
    expect(line(set, { earlier: () => [before] })).toBe('mean 31.2, spread 0.2, finish +0.5, −0.5 on last time');
    expect(change(before)).toEqual({ meanMs: -500, likeness: 'strict', at: 1 });
    expect(change(other, before, dive)).toMatchObject({ meanMs: -500, likeness: 'strict' });
    expect(change(dive, other)).toEqual({ meanMs: 200, likeness: 'loose', at: 2 });
    expect(change(before, { ...before, meanMs: 31_100, at: instant(4) })).toMatchObject({ meanMs: 100, at: 4 });
    expect(change(dive)).toEqual(none('not swum before'));
    expect(change()).toEqual(none('not swum before'));
    expect(line(set, { earlier: () => [other] })).toContain('+0.2 on last time (other send-off or effort)');
  });
});

describe('what is kept of a set for the next time', () => {
  it('is its mean, and when it was begun', () => {
    const results = resultsOf(swum('3 x 50 free @ 1:30', [31, null, 33], 'best average'));
    // Sets off at :05.
    expect(meanToKeep(results)).toEqual({ signature: results.signature, meanMs: 32_000, at: 1_800_000_005_000 });
  });

  it('is nothing of a set that was not swum to its end, or not timed: its mean is of another set', () => {
    const [early] = setResultsOf(swum('3 x 50 free @ 1:30', [31], 'best average').at(100));
    const [own] = early?.swimmers ?? [];
    expect(own && meanToKeep(own)).toBeNull();
    expect(meanToKeep(resultsOf(swum('3 x 50 free @ 1:30', [])))).toBeNull();
  });
});

describe('what leads of a stand-up set', () => {
  const dives = '4 x 50 free from a dive max @ 4:00';

  it('is the first, the best, and the fade from first to last', () => {
    expect(line(swum(dives, [25, 24.8, 25.5, 26]))).toBe('first 25.0, best 24.8, fade +4.0 %');
  });

  it('is no fade when it was swum faster and faster', () => {
    expect(line(swum(dives, [26, 25.8, 25.5, 25.2]))).toBe('first 26.0, best 25.2, descending −3.1 %');
  });
});

describe('what leads of a power set', () => {
  const pulley = '3 x 25 free max with pulley 12 kg @ 2:00';
  const power = { ratio: 10, timedDistance: 20 };
  const set = (times: readonly number[]): SwumPractice => {
    const practice = swum(pulley, []);
    times.forEach((seconds, place) => {
      practice.take({ swimmer: ada.id, step: `2.0.0.${place + 1}`, distance: 20, seconds });
      practice.take({ swimmer: ada.id, step: `2.0.0.${place + 1}`, seconds: seconds + 2.5 });
    });
    return practice;
  };

  it('is load, time, power and drop', () => {
    // 12 kg, 10:1, 20 m in 10 s: 23.5 W (computed, g = 9.80665 m/s²); in 12.5 s four fifths of it.
    expect(line(set([10, 11, 12.5]), { power })).toBe('12 kg, best 10.0, 23.5 W, drop 20.0 %');
  });

  it('needs no finish when less than the whole rep is timed, and says where that time is missing', () => {
    const practice = swum(pulley, [null, 12, 12]);
    practice.take({ swimmer: ada.id, step: '2.0.0.1', distance: 20, seconds: 10 });
    expect(line(practice, { power })).toBe('12 kg, best 10.0, 23.5 W, 2 not timed');
    expect(line(swum(pulley, []), { power })).toBe('no times');
  });

  it('has no power while the pulley ratio is not known', () => {
    expect(line(set([10, 11, 12.5]))).toBe('12 kg, best 12.5');
    expect(resultsOf(set([10]), {}).power).toMatchObject({ bestWatts: none('pulley ratio not known') });
  });

  it('takes the load that was really hung on, rep by rep', () => {
    const load = (_swimmer: string, _set: number, step: string) => (step === '2.0.0.3' ? { kg: 16 } : undefined);
    expect(line(set([10, 10, 10]), { power, load })).toBe('12 to 16 kg, best 10.0, 31.4 W, drop 0.0 %');
  });

  it('may be the force of the rope, of some reps or of all', () => {
    const load = (_swimmer: string, _set: number, step: string) => (step === '2.0.0.3' ? { newtons: 50 } : undefined);
    // 50 N over 20 m in 10 s, computed.
    expect(line(set([10, 10, 10]), { power, load })).toBe('12 kg and 50 N, best 10.0, 100.0 W, drop 0.0 %');
  });

  it('with a parachute or free is the time alone', () => {
    expect(line(swum('3 x 25 free max with parachute @ 1:00', [14, 14.2, 14.4]), { power })).toBe('best 14.0');
  });
});

describe('what leads of a threshold set', () => {
  const set = swum('4 x 100 free @ 1:40 hold 1:10', [70, 70.4, 70.8, 71.2], 'threshold');

  it('is the mean pace against threshold pace, and the drift', () => {
    expect(line(set, { thresholdPer100Ms: () => 70_000 })).toBe(
      'mean 1:10.6 per 100, +0.6 on threshold, drift +0.4 s a rep',
    );
    expect(line(set, { thresholdPer100Ms: () => 71_000 })).toContain('−0.4 on threshold');
  });

  it('is the mean pace against the targets where threshold pace is not known', () => {
    expect(line(set)).toBe('mean 1:10.6 per 100, +0.6 on target, drift +0.4 s a rep');
    expect(line(swum('2 x 100 free @ 1:40', [70, 71], 'threshold'))).toBe('mean 1:10.5 per 100, drift +1.0 s a rep');
  });
});

describe('any other set', () => {
  it('says its mean and spread', () => {
    expect(line(swum('3 x 50 free @ 1:00 smooth', [40, 41, 42]))).toBe('mean 41.0, spread 1.0');
  });

  it('of several strokes has a mean, and neither slope nor finish', () => {
    const medley = resultsOf(swum('4 x 50 IM order @ 1:10', [33, 36, 40, 31]));
    const several = none('several strokes');
    expect(medley).toMatchObject({ spread: { meanMs: 35_000 }, finishMs: several });
    expect(medley.fade).toMatchObject({ secondsPerRep: several, descending: false });
  });
});

describe('a set of which little is known', () => {
  it('says so: one rep, no times, nothing to time, not swum', () => {
    expect(line(swum('50 free @ 1:00 at 200 pace', [30.1]))).toBe('1 of 1 held, 50 at pace');
    expect(line(swum('50 free @ 1:00', [30.1], 'best average'))).toBe('mean 30.1');
    expect(line(swum(FIFTIES, []))).toBe('no times');
    expect(line(swum('2 x :30 free kick @ 1:00', []))).toBe('nothing to time');
    const [first] = setResultsOf(swum(FIFTIES, []).at(0));
    expect(first?.swimmers[0]?.lead.line).toBe('not swum');
  });

  it('counts as missing only what was swum', () => {
    // At 200 s the fifth to eighth are to come.
    const [set] = setResultsOf(swum(FIFTIES, [30, null, 31]).at(200));
    expect(set?.swimmers[0]?.spread).toMatchObject({ count: 2, missing: 2 });
    expect(set?.swimmers[0]?.reps.map(({ missing }) => missing ?? 'timed')).toEqual([
      'timed',
      'not timed',
      'timed',
      'not timed',
      ...Array(4).fill('not swum'),
    ]);
  });

  it('is nobody’s on a sheet without swimmers', () => {
    const run: SwumRun = { ...new SwumPractice(`Main\n${FIFTIES}\n`, { swimmers: [] }).at(10) };
    expect(setResultsOf(run).map(({ swimmers }) => swimmers)).toEqual([[]]);
  });
});
