import { expect, test } from 'vitest';
import { createAbsences, hereWords } from '../../client/desk/absences-model.ts';
import type { Outcome } from '../../client/desk/desk-server.ts';
import type { SwimmerId } from '../../shared-types/brand.ts';
import type { Absences } from '../../shared-types/wire/absences.ts';
import { swimmer } from '../fixtures/planning.ts';

const [ADA, BO] = [swimmer('Ada', 1, 'A', []), swimmer('Bo', 1, 'A', [])];

function onDesk({ isRefused = false } = {}) {
  const away = new Set<SwimmerId>();
  let changes = 0;
  const answer = (): Outcome<Absences> => ({ ok: true, value: { day: '2027-01-06', away: [...away] } });
  const model = createAbsences(
    {
      absences: async () => answer(),
      setAbsence: async (id, isAway) => {
        if (isRefused)
          return { ok: false, code: 'no-such-swimmer', message: 'This swimmer is not in the squad any more.' };
        if (isAway) away.add(id);
        else away.delete(id);
        return answer();
      },
    },
    () => {
      changes += 1;
    },
  );
  return { model, changes: () => changes };
}

test('who is ticked off is away, and the sheet is asked for anew each time', async () => {
  const { model, changes } = onDesk();
  await model.set(ADA.id, true);
  expect([[...model.away.value], changes()]).toEqual([[ADA.id], 1]);
  await model.set(ADA.id, false);
  expect([[...model.away.value], changes()]).toEqual([[], 2]);
});

test('a refusal is said, and nothing is taken for changed', async () => {
  const { model, changes } = onDesk({ isRefused: true });
  await model.set(ADA.id, true);
  expect([model.problem.value?.message, model.away.value.size, changes()]).toEqual([
    'This swimmer is not in the squad any more.',
    0,
    0,
  ]);
});

test('how many are here is said as soon as somebody is not', () => {
  expect(hereWords([ADA, BO], new Set())).toBe('2 swimmers');
  expect(hereWords([ADA, BO], new Set([BO.id]))).toBe('1 of 2 swimmers is here today');
  expect(hereWords([ADA], new Set([ADA.id]))).toBe('0 of 1 swimmer is here today');
});
