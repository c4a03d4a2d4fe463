import { signal } from '@preact/signals-core';
import { expect, test } from 'vitest';
import { createLanes } from '../../client/desk/lanes-model.ts';
import { laneNumber } from '../../shared-types/brand.ts';
import { DEFAULT_POOL } from '../../shared-types/pool.ts';
import { atPlace } from '../../shared-types/swimmer-place.ts';
import type { SquadAnswer } from '../../shared-types/wire/desk.ts';
import type { ChangeLanes } from '../../shared-types/wire/lanes.ts';
import { swimmer } from '../fixtures/planning.ts';

const ADA = swimmer('Ada', 1, 'A', [], { order: 1 });
const BO = swimmer('Bo', 1, 'A', [], { order: 2 });
const CY = swimmer('Cy', 1, 'A', [], { order: 3 });

/** Lanes on a server that changes them, as long as nobody else was faster. */
function onDesk() {
  const squad = signal<SquadAnswer | null>({ swimmers: [ADA, BO, CY], demo: false });
  const state = { somebodyWasFaster: false, reloads: 0 };
  const said: string[] = [];
  const model = createLanes(
    {
      proposeLanes: async () => ({ ok: false, code: 'no-lanes', message: 'Nobody has a 50 fly time (SCM).' }),
      changeLanes: async ({ places }: ChangeLanes) => {
        if (state.somebodyWasFaster) return { ok: false, code: 'saved-in-between', message: 'Somebody was faster.' };
        const swimmers = (squad.value?.swimmers ?? []).map((one) => {
          const place = places.find(({ swimmer: id }) => id === one.id);
          return place ? atPlace(one, place) : one;
        });
        return { ok: true, value: { swimmers, demo: false } };
      },
    },
    {
      squad,
      pool: signal(DEFAULT_POOL),
      adopt: (stored, words) => {
        squad.value = stored;
        said.push(words);
      },
      reload: async () => {
        state.reloads += 1;
      },
    },
  );
  const order = () =>
    [...(squad.value?.swimmers ?? [])]
      .sort((a, b) => (a.order ?? 0) - (b.order ?? 0))
      .map(({ name, lane }) => `${name}${lane}`);
  return { model, said, order, state };
}

test('keys pressed faster than the server answers each count from where the one before led', async () => {
  const { model, order, said } = onDesk();
  await Promise.all([model.moveByKey(ADA.id, 'ArrowDown'), model.moveByKey(ADA.id, 'ArrowDown')]);
  expect(order()).toEqual(['Bo1', 'Cy1', 'Ada1']);
  expect(said).toEqual(['Ada leaves as number 2 in lane 1.', 'Ada leaves as number 3 in lane 1.']);
});

test('moves are taken back one by one, the last first', async () => {
  const { model, order } = onDesk();
  await model.moveByKey(ADA.id, '2');
  await model.move({ swimmer: CY.id, lane: laneNumber(1), place: 0 });
  expect(model.lastStep.value?.words).toBe('Undo: the order in lane 1');
  await model.undo();
  expect(model.lastStep.value?.words).toBe('Undo: Ada to lane 2');
  await model.undo();
  expect([order(), model.lastStep.value]).toEqual([['Ada1', 'Bo1', 'Cy1'], null]);
  await model.undo();
  expect(order()).toEqual(['Ada1', 'Bo1', 'Cy1']);
});

test('after somebody else was faster the page asks anew, and nothing of before can be taken back', async () => {
  const { model, order, state } = onDesk();
  await model.moveByKey(BO.id, '2');
  state.somebodyWasFaster = true;
  await model.moveByKey(ADA.id, '3');
  expect([model.problem.value?.message, state.reloads, model.lastStep.value]).toEqual([
    'Somebody was faster.',
    1,
    null,
  ]);
  expect(order()).toEqual(['Ada1', 'Bo2', 'Cy1']);
});

test('why there are no lanes is said, and none are shown', async () => {
  const { model } = onDesk();
  await model.propose({ event: { distance: 50, stroke: 'fly', activity: 'swim' }, course: 'SCM', capacity: 6 });
  expect([model.proposalProblem.value?.message, model.proposed.value]).toEqual([
    'Nobody has a 50 fly time (SCM).',
    null,
  ]);
});
