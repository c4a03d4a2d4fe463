import { describe, expect, it } from 'vitest';
import { withTakenOver } from '../../server/planning/kept-references.ts';
import { compareReferences, referenceFor, referenceText } from '../../server/planning/pace/references.ts';
import { thresholdOf } from '../../server/planning/pace/threshold.ts';
import { type Taken, takenBack, takenOver, takeOverOf } from '../../server/results/take-over.ts';
import type { Reference, Swimmer } from '../../shared-types/squad.ts';
import { best, pool25, swimmer, time } from '../fixtures/planning.ts';

const test = (event: string, written: string, more: Partial<Reference> = {}): Reference =>
  time(event, written, { kind: 'test', ...more });
const byHand = (event: string, written: string, more: Partial<Reference> = {}): Reference =>
  test(event, written, { start: 'dive', handTimed: true, date: '2027-01-15', ...more });
const taken = (reference: Reference): Taken => ({ kind: 'test', reference });

const race = best('100 free', '58.00');
const older = test('100 free', '59.10', { date: '2026-10-03' });
const ada = swimmer('Ada Vance', 1, 'A', [race, older]);

function over(who: Swimmer, reference: Reference): Swimmer {
  const takeOver = takeOverOf(who, taken(reference));
  if (!takeOver) throw new Error('not on offer');
  return takenOver(who, takeOver);
}

describe('a result that is taken over', () => {
  const newer = byHand('100 free', '58.40');

  it('takes the place of the latest test of the event, never of a race, and gives it back', () => {
    const takeOver = takeOverOf(ada, taken(newer));
    if (!takeOver) throw new Error('not on offer');
    expect(takeOver.before).toEqual(taken(older));
    const after = takenOver(ada, takeOver);
    expect(after.references).toEqual([race, newer]);
    expect(takenBack(after, takeOver)).toEqual(ada);
  });

  it('takes the place of nothing where there was none', () => {
    const takeOver = takeOverOf({ ...ada, references: [race] }, taken(newer));
    expect(takeOver?.before).toBe(null);
    expect(takeOver && takenBack(over({ ...ada, references: [race] }, newer), takeOver)?.references).toEqual([race]);
  });

  it('from a push never takes the place of one from a dive, nor counts before it', () => {
    const trial = byHand('400 free', '4:31.20', { start: 'push' });
    const dived = test('400 free', '4:28.00', { date: '2026-10-03' });
    const own = { ...ada, references: [dived] };
    expect(takeOverOf(own, taken(trial))?.before).toBe(null);
    const after = over(own, trial);
    expect(after.references).toEqual([dived, trial]);
    expect(referenceFor(after, trial.event, 'SCM', 'test')).toEqual(dived);
    expect(compareReferences(trial, dived, 'test')).toBeGreaterThan(0);
  });

  it('is not on offer where the swimmer has a newer one, or it already', () => {
    expect(takeOverOf({ ...ada, references: [test('100 free', '59.00', { date: '2027-02-01' })] }, taken(newer))).toBe(
      null,
    );
    expect(takeOverOf(over(ada, newer), taken(newer))).toBe(null);
  });

  it('cannot be taken back once the squad has another in its place', () => {
    const takeOver = takeOverOf(ada, taken(newer));
    expect(takeOver && takenBack(ada, takeOver)).toBe(null);
  });

  it('says that it is by hand, to the tenth, and from a push', () => {
    expect(referenceText(newer)).toBe('100 free 58.4 SCM (test, by hand, 15 Jan 2027)');
    const trial = byHand('400 free', '4:31.20', { start: 'push' });
    expect(referenceText(trial)).toBe('400 free 4:31.2 SCM (test, from a push, by hand, 15 Jan 2027)');
  });

  it('as the mean of a set takes the place of the mean of the same set with the same send-off', () => {
    const mean = {
      set: '6 × 100 free, from a push, SCM',
      sendOff: '@ 2:00',
      meanMs: byHand('100 free', '64.30').timeMs,
    };
    const [before, other] = [
      { ...mean, date: '2026-12-01' },
      { ...mean, sendOff: '@ 1:50', date: '2026-12-08' },
    ];
    const after = { ...mean, handTimed: true as const, date: '2027-01-15' };
    const own = { ...ada, means: [before, other] };
    const takeOver = takeOverOf(own, { kind: 'mean', mean: after });
    if (!takeOver) throw new Error('not on offer');
    expect(takenOver(own, takeOver).means).toEqual([other, after]);
    expect(takenBack(takenOver(own, takeOver), takeOver)?.means).toEqual([other, before]);
  });
});

describe('the threshold', () => {
  it('is of trials from a push where there are two, and never of one from a push and one from a dive', () => {
    const [long, short] = [
      byHand('400 free', '6:00.00', { start: 'push' }),
      byHand('200 free', '2:50.00', { start: 'push' }),
    ];
    const dived = [test('400 free', '5:58.00'), test('200 free', '2:47.00')];
    const of = (references: Reference[]) => {
      const threshold = thresholdOf({ ...ada, references }, { stroke: 'free', activity: 'swim' }, pool25);
      return 'missing' in threshold ? null : threshold.per100Ms;
    };
    // 400 in 6:00 and 200 in 2:50 are 95.00 s per 100 (computed: half the difference).
    expect(of([...dived, long, short])).toBeCloseTo(95_000, 6);
    expect(of([...dived, long])).toBeCloseTo(95_500, 6);
    expect(of([long, test('200 free', '2:47.00')])).toBe(null);
  });
});

describe('a squad that is loaded anew', () => {
  const kept = byHand('100 free', '58.40');

  it('keeps what was taken over from results, which no file has', () => {
    const before = { ...ada, references: [race, kept] };
    expect(withTakenOver(ada, before).references).toEqual([race, older, kept]);
  });

  it('goes before it with a test of the same day or later', () => {
    const newer = test('100 free', '57.90', { date: '2027-01-15' });
    expect(withTakenOver({ ...ada, references: [newer] }, { ...ada, references: [kept] }).references).toEqual([newer]);
  });
});
