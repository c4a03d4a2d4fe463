import { describe, expect, test } from 'vitest';
import { cardOf } from '../../client/desk/lane-card.ts';
import { planPractice } from '../../server/planning/plan.ts';
import { best, pool25, swimmer } from '../fixtures/planning.ts';

const squad = {
  swimmers: [
    swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')]),
    swimmer('Bela Sorn', 1, 'A', []),
    swimmer('Bo Tarn', 2, 'B', [best('200 free', '2:20.00')]),
  ],
};

function cardFor(text: string, lane: number) {
  const { sheet } = planPractice(text, squad, pool25);
  const own = sheet?.lanes.find((one) => one.lane === lane);
  if (!sheet || !own) throw new Error('there is no such lane');
  return cardOf(sheet, own);
}

const rowsOf = (text: string, lane = 1) => cardFor(text, lane).flatMap(({ rows }) => rows);

describe('a card for a lane', () => {
  test('has the readings of a clock that stands at :00 at the start, each said once', () => {
    const [reps, rest, last] = rowsOf(
      'Main\n6 x 50 free @ 1:10 at 200 pace\n:40 rest\n4 x 50 free @ 1:00 at 200 pace\n',
    );
    // Six on 1:10 take 7:00, then 40 s.
    expect(reps).toMatchObject({ every: '1:10', readings: ':00 :10 :20 :30 :40 :50' });
    expect(rest).toMatchObject({ every: '', what: 'Rest :40' });
    expect(last).toMatchObject({ every: '1:00', readings: ':40' });
  });

  test('begins anew at :00 at each go, and has no readings of reps that the coach releases', () => {
    const rows = rowsOf(
      'Main\n3 x 50 free @ :50 at 200 pace\nwait\n2 x 100 free max on go\nwait\n2 x 50 free @ 1:05\n',
    );
    expect(rows.filter(({ every }) => every !== '').map(({ every, readings }) => [every, readings])).toEqual([
      [':50', ':00 :50 :40'],
      ['on go', ''],
      ['1:05', ':00 :05'],
    ]);
  });

  test('has each swimmer’s splits in the order of the lane, and nothing where nothing is to be held', () => {
    const [reps] = rowsOf('Main\n2 x 100 free @ 1:40 at 200 pace\n');
    // 200 in 2:00: 1:00 a 100.
    expect(reps?.targets).toEqual(['1:00.0', '']);
    expect(rowsOf('Main\n2 x 100 free @ 1:40/1:50 at 200 pace\n', 2)[0]).toMatchObject({
      every: '1:50',
      readings: ':00 :50',
      targets: ['1:10.0'],
    });
  });

  test('says so many readings only, and which round it is', () => {
    const [reps] = rowsOf('Main\n20 x 50 free @ 1:01\n');
    expect(reps?.readings).toBe(':00 :01 :02 :03 :04 :05 :06 :07 :08 :09 :10 :11 …');
    expect(rowsOf('Main\n2 rounds:\n  4 x 50 free @ 1:00\n  100 back @ 2:00\n').map(({ what }) => what)).toEqual([
      '4 × 50 free (round 1 of 2)',
      '100 back (round 1 of 2)',
      '4 × 50 free (round 2 of 2)',
      '100 back (round 2 of 2)',
    ]);
  });
});
