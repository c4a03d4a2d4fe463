import { describe, expect, it } from 'vitest';
import { type RepStep, type Target, targetsOf } from '../../shared-types/sheet.ts';
import { best, plan, pool25, repsOf, sheetOf, swimmer } from '../fixtures/planning.ts';

const times = [best('200 free', '2:00.00', '58.00'), best('200 fly', '2:12.00'), best('200 IM', '2:16.00')];
const ada = { swimmers: [swimmer('Ada', 1, 'A', times)] };

function targets(text: string, squad = ada, pool = pool25): Target[] {
  const sheet = sheetOf(text, squad, pool);
  return repsOf(sheet, 1).flatMap((step: RepStep) => targetsOf(sheet, step));
}

const first = (text: string, squad = ada, pool = pool25): Target | undefined => targets(text, squad, pool)[0];

describe('even race pace: T · d / D', () => {
  it('is the whole race in equal shares', () => {
    expect(first('4 x 50 free @ 1:00 at 200 pace')?.ms).toBe(30_000);
    expect(first('4 x 75 free @ 1:30 at 200 pace')?.ms).toBe(45_000);
    expect(first('4 x 50 fly @ 1:00 at 200 pace')?.ms).toBe(33_000);
    expect(first('4 x 50 back @ 1:00 at 200 fly pace')?.ms).toBe(33_000);
  });

  it("men's 200 m freestyle, long course, world record of 28 July 2009, 1:42.00: 25.50 per 50 (published splits 24.23 25.89 26.18 25.70)", () => {
    const record = {
      event: best('200 free', '1:42.00').event,
      course: 'LCM',
      timeMs: best('200 free', '1:42.00').timeMs,
      kind: 'best',
    } as const;
    const squad = { swimmers: [swimmer('R', 1, 'A', [{ ...record }])] };
    expect(24.23 + 25.89 + 26.18 + 25.7).toBeCloseTo(102, 10);
    expect(first('4 x 50 free @ 1:00 at 200 pace', squad, { ...pool25, course: 'LCM' })?.ms).toBe(25_500);
  });

  it('says where it comes from', () => {
    expect(first('4 x 50 free @ 1:00 at 90% of 200 pace')?.basis).toBe(
      '200 free 2:00.00 SCM (best), even pace 30.00 per 50, at 90 % speed ÷ 0.90',
    );
  });

  it('goal beats best beats test', () => {
    const references = [
      best('200 free', '2:00.00'),
      { ...best('200 free', '1:56.00'), kind: 'goal' as const },
      { ...best('200 free', '2:04.00'), kind: 'test' as const },
    ];
    expect(first('50 free @ 1:00 at 200 pace', { swimmers: [swimmer('G', 1, 'A', references)] })?.ms).toBe(29_000);
    expect(first('50 free @ 1:00 at 200 pace', { swimmers: [swimmer('T', 1, 'A', references.slice(2))] })?.ms).toBe(
      31_000,
    );
  });
});

describe('percent', () => {
  it('is of speed: t / p', () => {
    expect(first('4 x 50 free @ 1:00 at 80% of 200 pace')?.ms).toBe(37_500);
  });

  it('or of time, where the pool says so: t · (2 − p)', () => {
    expect(first('4 x 50 free @ 1:00 at 80% of 200 pace', ada, { ...pool25, percent: 'time' })?.ms).toBe(36_000);
  });

  it('goes linearly over the reps of a ramp, ends included', () => {
    const ramp = targets('3 x 50 free @ 1:00 from 80% to 100% of 200 pace by rep').map(({ ms }) => ms);
    expect(ramp).toEqual([37_500, 33_333, 30_000]);
    expect(targets('1 x 50 free @ 1:00 from 80% to 100% of 200 pace by rep').map(({ ms }) => ms)).toEqual([30_000]);
  });

  it('or over rounds', () => {
    const ramp = targets('3 rounds:\n  2 x 50 free @ 1:00 from 80% to 100% of 200 pace by round').map(({ ms }) => ms);
    expect(ramp).toEqual([37_500, 37_500, 33_333, 33_333, 30_000, 30_000]);
  });
});

describe('part of a race, from the own half split 58.00 of 2:00.00', () => {
  it('front half: H · d / (D/2)', () => {
    expect(first('4 x 50 free @ 1:00 at 200 front pace')?.ms).toBe(29_000);
  });

  it('back half: (T − H) · d / (D/2)', () => {
    expect(first('4 x 50 free @ 1:00 at 200 back-half pace')?.ms).toBe(31_000);
  });
});

describe('hold, easy and parts', () => {
  it('hold is for the rep, or per distance', () => {
    expect(first('4 x 50 free @ 1:00 hold 31.5')?.ms).toBe(31_500);
    expect(first('4 x 100 free @ 2:00 hold 31.5 per 50')?.ms).toBe(63_000);
  });

  it('easy is 65 % of 200-pace speed (common practice, no source), marked as estimated', () => {
    expect(first('100 free easy @ 2:00')).toMatchObject({ ms: 92_308, estimated: true, restMs: 27_692 });
  });

  it('an active-rest rep has a split at the end of each part, running from the send-off', () => {
    const target = first('8 x 100 free @ 1:30 (50 at 200 pace, 50 easy)');
    expect(target?.splits).toEqual([
      { distance: 50, ms: 30_000, paced: true },
      { distance: 100, ms: 76_154, paced: false },
    ]);
    expect(target).toMatchObject({ ms: 76_154, restMs: 13_846 });
  });

  it('a time to hold is for the rep it is written on, or for the part', () => {
    const splits = (text: string) => first(text)?.splits.map(({ ms }) => ms);
    expect(splits('4 x 50 free @ 1:30 hold 40 (25 fly, 25 free)')).toEqual([20_000, 40_000]);
    expect(splits('4 x 50 free @ 1:30 (25 hold 15, 25 easy)')).toEqual([15_000, 38_077]);
  });

  it('parts go by rep like whole reps: ramps and alternations', () => {
    const paced = (text: string) => targets(text).map(({ splits }) => splits[0]?.ms);
    expect(paced('3 x 100 free @ 2:00 (50 from 80% to 100% of 200 pace by rep, 50 easy)')).toEqual([
      37_500, 33_333, 30_000,
    ]);
    expect(paced('2 x 50 free @ 1:30 (25 odds at 200 pace evens easy, 25 easy)')).toEqual([15_000, 23_077]);
  });

  it('parts of 15 and 35 need not end at a wall', () => {
    const target = first('8 x 50 fly @ 1:30 (15 at 200 pace, 35 free easy)');
    expect(target?.splits[0]).toEqual({ distance: 15, ms: 9_900, paced: true });
  });

  it('odds and evens have their own targets', () => {
    const alternating = targets('4 x 50 free @ 1:00 odds at 200 pace evens easy').map(({ ms }) => ms);
    expect(alternating).toEqual([30_000, 46_154, 30_000, 46_154]);
  });
});

describe('where there is no reference there is no target', () => {
  const messages = (text: string): string[] =>
    plan(text, ada).messages.map(({ code, text: said }) => `${code}: ${said}`);

  it('and the coach is told who lacks what', () => {
    expect(first('4 x 50 back @ 1:00 at 200 pace')).toMatchObject({ ms: null, restMs: null, splits: [] });
    expect(messages('4 x 50 back @ 1:00 at 200 pace')).toEqual([
      `no-reference: {${ada.swimmers[0]?.id}} has no 200 back time (SCM): no target`,
    ]);
  });

  it('no kick from a swim time', () => {
    expect(first('4 x 50 free kick @ 1:00 at 200 pace')?.ms).toBeNull();
  });

  it('no medley but a whole one', () => {
    expect(first('100 IM @ 2:00 at 200 pace')?.ms).toBe(68_000);
    expect(first('50 IM @ 2:00 at 200 pace')?.ms).toBeNull();
  });

  it('no target for max, build, resisted and timed reps', () => {
    for (const line of ['50 free max', '50 free build', '50 free with parachute at 200 pace', ':30 free at 200 pace']) {
      expect(first(`4 x ${line} @ 1:30`)?.ms).toBeNull();
    }
  });

  it('IM order takes each rep’s own stroke', () => {
    const reps = repsOf(sheetOf('4 x 50 IM order @ 1:00 at 200 pace', ada), 1);
    expect(reps.map(({ stroke }) => stroke)).toEqual(['fly', 'back', 'breast', 'free']);
    expect(targets('4 x 50 IM order @ 1:00 at 200 pace').map(({ ms }) => ms)).toEqual([33_000, null, null, 30_000]);
  });

  it('own is the stroke of the main event', () => {
    const main = { distance: 200, stroke: 'fly', activity: 'swim' } as const;
    const squad = { swimmers: [swimmer('M', 1, 'A', times, { main })] };
    expect(first('4 x 50 own @ 1:00 at 200 pace', squad)?.ms).toBe(33_000);
    expect(first('4 x 50 free @ 1:00 at own 200 pace', squad)?.ms).toBe(33_000);
  });
});

describe('what a coach should look at', () => {
  const said = (text: string, squad = ada): string[] =>
    plan(text, squad).messages.map(({ code, text: words }) => `${code}: ${words}`);

  it('a target that does not fit its send-off', () => {
    expect(said('4 x 50 free @ :30 at 200 pace')).toContain(
      'cannot-make-it: a target of 30.0 does not fit the :30 send-off',
    );
    expect(said('4 x 50 free @ :35 at 200 pace')).toEqual([]);
  });

  it('active rest that is not on the wall for 15 s or less (common practice, no source)', () => {
    expect(said('8 x 100 free @ 1:40 (50 at 200 pace, 50 easy)')).toEqual([
      'wall-rest: active rest leaves 24 s on the wall; 15 s or less is usual',
    ]);
  });

  it('swimmers who leave the blocks too close, and cautions for dives and all-out swimming', () => {
    const two = { swimmers: [swimmer('A', 1, 'A', []), swimmer('B', 1, 'A', [])] };
    const messages = said('4 x 50 free from a dive max @ 4:00', two);
    expect(messages.filter((message) => message.startsWith('dive-gap'))).toHaveLength(1);
    const cautions = messages.filter((message) => message.startsWith('caution'));
    expect(cautions).toHaveLength(2);
    for (const caution of cautions) {
      expect(caution).toMatch(/local rules, your facility's code and the lifeguard on duty decide$/);
    }
  });

  it('more swimmers than the send-off has room for: eight :05 apart need :40', () => {
    const eight = { swimmers: Array.from({ length: 8 }, (_, place) => swimmer(`S${place}`, 1, 'A', [])) };
    expect(said('10 x 25 free @ :30', eight)).toEqual([
      'send-overflow: 8 swimmers :05 apart need :40, the send-off is :30',
    ]);
  });
});
