import { signal } from '@preact/signals-core';
import { describe, expect, test } from 'vitest';
import { lanesNow } from '../../client/desk/lanes-now.ts';
import { createToday } from '../../client/desk/today-model.ts';
import { planPractice } from '../../server/planning/plan.ts';
import { instant, type PracticeId, practiceIdSchema, runIdSchema, sheetHashSchema } from '../../shared-types/brand.ts';
import { newRun } from '../../shared-types/fold.ts';
import type { WeekPlan } from '../../shared-types/wire/plan.ts';
import { best, pool25, swimmer } from '../fixtures/planning.ts';

const START = instant(Date.UTC(2027, 0, 6, 18));
const FACE = { timezone: 'UTC', trimMs: 0 };
const TEXT = 'Main set\n3 x 50 free @ 1:00 at 200 pace\nwait\n2 x 25 fly @ :40 max\n';

const [ADA, BO] = [
  swimmer('Ada Vint', 1, 'A', [best('200 free', '2:00.00')], { order: 1 }),
  swimmer('Bo Tarn', 1, 'A', [best('200 free', '2:08.00')], { order: 2 }),
];

/** What lane 1 does so many seconds after the start. */
function laneAfter(seconds: number, state: 'ready' | 'running' | 'held' = 'running') {
  const { sheet } = planPractice(TEXT, { swimmers: [ADA, BO] }, pool25);
  if (!sheet) throw new Error('the practice cannot be planned');
  const fresh = newRun(runIdSchema.parse('1'.repeat(32)), sheetHashSchema.parse('1'.repeat(64)), sheet, START);
  const motions = fresh.motions.map((motion) => ({
    ...motion,
    rate: state === 'ready' ? (0 as const) : (1 as const),
    at: START,
  }));
  const run = { ...fresh, state, motions };
  const labels = { [ADA.id]: 'Ada Vint', [BO.id]: 'Bo Tarn' };
  const [lane] = lanesNow({ sheet, run, labels }, instant(START + seconds * 1000), FACE);
  return lane;
}

describe('a lane now', () => {
  // By hand: Ada leaves at 0:00, 1:00, 2:00; 200 in 2:00 is 30 s for the 50; the last rep is over at 3:00.
  test('says what it does, on which rep, and who leaves next and when', () => {
    expect(laneAfter(0, 'ready')).toMatchObject({ lane: 1, doing: 'ready', next: '' });
    expect(laneAfter(10)).toMatchObject({
      doing: 'swimming',
      rep: '3 × 50 free: rep 1 of 3',
      next: ':00, in 50 s',
      turn: 'Ada Vint',
    });
    expect(laneAfter(2)).toMatchObject({ turn: 'Bo Tarn' });
    expect(laneAfter(45)).toMatchObject({ doing: 'resting', rep: '3 × 50 free: rep 2 of 3', next: ':00, in 15 s' });
    expect(laneAfter(56)).toMatchObject({ doing: 'about to leave', next: ':00, in 4 s' });
    expect(laneAfter(185)).toMatchObject({ doing: 'waiting for the coach’s go', next: '' });
  });
});

describe('what is planned for today', () => {
  const [MONDAYS, TODAYS] = [practiceIdSchema.parse('a'.repeat(32)), practiceIdSchema.parse('b'.repeat(32))];
  const day = (date: string, practice: PracticeId) => ({
    day: date,
    practices: [{ practice, title: date, byStyle: [] }],
    swum: [],
  });
  const week: Pick<WeekPlan, 'today' | 'days'> = {
    today: '2027-01-06',
    days: [day('2027-01-04', MONDAYS), day('2027-01-06', TODAYS)],
  };

  /** @param opens what is open after a practice was chosen */
  function onDesk(opens: PracticeId) {
    const open = signal<{ id: PracticeId } | null>(null);
    const put: unknown[] = [];
    const today = createToday({
      server: { weekPlan: async () => ({ ok: true, value: week as WeekPlan }) },
      library: {
        choose: async () => {
          open.value = { id: opens };
        },
      },
      manuscript: { open },
      wall: { putOn: async () => void put.push(open.value?.id) },
    });
    return { today, put };
  }

  test('is that of this day only, and goes on the wall', async () => {
    const { today, put } = onDesk(TODAYS);
    await today.reload();
    expect(today.planned.value?.map(({ practice }) => practice)).toEqual([TODAYS]);
    await today.putOn(TODAYS);
    expect(put).toEqual([TODAYS]);
  });

  test('does not go on the wall when another one is open instead', async () => {
    const { today, put } = onDesk(MONDAYS);
    await today.putOn(TODAYS);
    expect(put).toEqual([]);
  });
});
