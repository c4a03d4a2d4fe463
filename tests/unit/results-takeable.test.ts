import { describe, expect, it } from 'vitest';
import { indexRun } from '../../server/results/run-index.ts';
import { setResultsOf } from '../../server/results/set-results.ts';
import type { Taken } from '../../server/results/take-over.ts';
import { takeableOf } from '../../server/results/takeable.ts';
import type { Swimmer } from '../../shared-types/squad.ts';
import { best, swimmer } from '../fixtures/planning.ts';
import { SwumPractice } from '../fixtures/swum-practice.ts';

const ada = swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]);

/** One line of a practice with Ada's finishes in seconds, an hour later. */
function takeable(line: string, finishes: readonly (number | null)[], style = '', who: Swimmer = ada): Taken[] {
  const practice = new SwumPractice(`Main${style && `: ${style}`}\n${line}\n`, { swimmers: [who] });
  const swum = practice.finishes(who.id, '2.0.0', finishes).at(3600);
  const index = indexRun(swum);
  const [set] = index.sheet.sets;
  const results = setResultsOf(swum)[0]?.swimmers[0];
  if (!set || !results) throw new Error('nothing was swum');
  return takeableOf({
    course: index.sheet.course,
    set,
    swimmer: who,
    results,
    effortOn: ({ lane, step }) => index.places.get(`${lane} ${step}`)?.step.effort,
    dayOf: () => '2027-01-15',
  });
}

/** `50 free dive 26.4` of each test. */
const tests = (...swum: Parameters<typeof takeable>): string[] =>
  takeable(...swum).flatMap((taken) => {
    if (taken.kind !== 'test') return [];
    const { event, start, timeMs } = taken.reference;
    const activity = event.activity === 'swim' ? '' : ` ${event.activity}`;
    return [`${event.distance} ${event.stroke}${activity} ${start} ${timeMs / 1000}`];
  });

const means = (...swum: Parameters<typeof takeable>) =>
  takeable(...swum).flatMap((taken) => (taken.kind === 'mean' ? taken.mean : []));

describe('a test that results can become', () => {
  it('is the fastest all-out rep from a dive, dated and timed by hand, and no best', () => {
    expect(takeable('4 x 50 free from a dive max @ 3:00', [26.9, 26.4, null, 27])).toEqual([
      {
        kind: 'test',
        reference: {
          event: { distance: 50, stroke: 'free', activity: 'swim' },
          course: 'SCM',
          timeMs: 26_400,
          kind: 'test',
          start: 'dive',
          handTimed: true,
          date: '2027-01-15',
        },
      },
    ]);
  });

  it('is one for each stroke where they change by rep', () => {
    expect(tests('4 x 50 IM order from a dive max @ 3:00', [30, 32, 36, 27])).toEqual([
      '50 fly dive 30',
      '50 back dive 32',
      '50 breast dive 36',
      '50 free dive 27',
    ]);
  });

  it('is of the swimmer’s own stroke where that is what was swum', () => {
    const own: Swimmer = { ...ada, main: { distance: 200, stroke: 'fly', activity: 'swim' } };
    expect(tests('2 x 50 own from a dive max @ 3:00', [29.5, 30], '', own)).toEqual(['50 fly dive 29.5']);
  });

  it('may be a trial for the threshold from a push, from 200 on; not a short swim', () => {
    expect(tests('1 x 400 free max @ 8:00', [275])).toEqual(['400 free push 275']);
    expect(tests('1 x 200 free max @ 5:00', [130])).toEqual(['200 free push 130']);
    expect(tests('4 x 100 free max @ 3:00', [60, 60, 60, 60])).toEqual([]);
  });

  it('may be kick with a board and pull with a buoy, however short', () => {
    expect(tests('2 x 50 free kick max with board @ 2:00', [41, 40])).toEqual(['50 free kick push 40']);
    expect(tests('2 x 100 free pull max with buoy @ 3:00', [70, 71])).toEqual(['100 free pull push 70']);
  });

  it.each([
    ['2 x 50 free from a dive at 200 pace @ 3:00', 'not all-out'],
    ['2 x 50 free from a dive @ 3:00', 'no effort said'],
    ['2 x 50 free from a dive max with fins @ 3:00', 'faster for the fins'],
    ['2 x 50 free max with cord @ 3:00', 'held back'],
    ['2 x 50 free drill from a dive max @ 3:00', 'a drill'],
    ['2 x 50 free from a dive (25 max, 25 easy) @ 3:00', 'only a part of it all-out'],
    ['2 x 50 choice from a dive max @ 3:00', 'no stroke said'],
    ['2 x 50 IM from a dive max @ 3:00', 'no whole medley'],
  ])('%s: none, %s', (line) => {
    expect(takeable(line, [26, 26])).toEqual([]);
  });

  it('is none of what was not timed', () => {
    expect(takeable('2 x 50 free from a dive max @ 3:00', [null, null])).toEqual([]);
  });
});

describe('a mean that results can become', () => {
  const line = '6 x 100 free @ 2:00 max';

  it('is of a best average swum whole, as the next one looks for it', () => {
    expect(means(line, [64, 64.3, 64.6, null, 64.2, 64.4], 'best average')).toEqual([
      {
        set: '6 × 100 free, from a push, SCM',
        sendOff: '@ 2:00',
        // (64 + 64.3 + 64.6 + 64.2 + 64.4) / 5 = 64.3, computed.
        meanMs: 64_300,
        handTimed: true,
        date: '2027-01-15',
      },
    ]);
  });

  it('has send-offs that drop as they are written', () => {
    const [mean] = means('3 x 100 free @ 2:00 dropping :05 max', [64, 64, 64], 'best average');
    expect(mean?.sendOff).toBe('@ 2:00 dropping :05');
  });

  it('is none of another kind of work, of one time alone, and of a set that was not swum to its end', () => {
    expect(means(line, [64, 64, 64, 64, 64, 64], 'aerobic')).toEqual([]);
    expect(means(line, [64], 'best average')).toEqual([]);
    expect(means('40 x 100 free @ 2:00 max', [64, 64, 64], 'best average')).toEqual([]);
  });

  it('is none of several rounds: the next set is asked for one round at a time', () => {
    const text = 'Main: best average\n2 rounds:\n  3 x 100 free @ 2:00 max\n';
    const swum = new SwumPractice(text, { swimmers: [ada] })
      .take({ swimmer: ada.id, step: '3.0.1.1', seconds: 64 })
      .take({ swimmer: ada.id, step: '3.0.2.1', seconds: 64 })
      .at(3600);
    const index = indexRun(swum);
    const [set] = index.sheet.sets;
    const results = setResultsOf(swum)[0]?.swimmers[0];
    if (!set || !results) throw new Error('nothing was swum');
    const of = { course: index.sheet.course, set, swimmer: ada, results, dayOf: () => '2027-01-15' };
    expect(takeableOf({ ...of, effortOn: () => 'max' })).toEqual([]);
  });
});
