import { describe, expect, test } from 'vitest';
import {
  isProblem,
  noTime,
  ownFieldsOf,
  splitWords,
  timeFieldsOf,
  timeFrom,
  withOwn,
  withoutMean,
  withTime,
} from '../../client/desk/swimmer-fields.ts';
import { createSwimmer } from '../../client/desk/swimmer-model.ts';
import { ms } from '../../shared-types/brand.ts';
import type { Reference, Swimmer } from '../../shared-types/squad.ts';
import type { SquadAnswer } from '../../shared-types/wire/desk.ts';
import { best, swimmer } from '../fixtures/planning.ts';

const ADA = swimmer('Ada Vint', 1, 'A', [{ ...best('200 free', '2:00.00'), halfMs: ms(58_500) }]);
const OLD = ADA.references[0] as Reference;

describe('a swimmer as typed', () => {
  test('is read as it was written, and what is empty is not said', () => {
    const said = { ...ADA, short: 'Addy', category: 'women' as const, main: OLD.event };
    expect(withOwn(ADA, ownFieldsOf(said))).toEqual(said);
    expect(withOwn(said, { name: ' Ada Vint ', short: '', group: '', category: '', main: '' })).toEqual(
      withOwn(ADA, { ...ownFieldsOf(ADA), group: '' }),
    );
    expect(withOwn(ADA, { ...ownFieldsOf(ADA), group: 'b', main: '100 Butterfly' })).toMatchObject({
      group: 'B',
      main: { distance: 100, stroke: 'fly', activity: 'swim' },
    });
  });

  test.for([
    [{ name: ' ' }, 'A swimmer needs a name.'],
    [{ name: 'x'.repeat(61) }, 'The name is longer than 60 letters.'],
    [{ short: 'x'.repeat(21) }, 'The short name is longer than 20 letters.'],
    [{ group: 'AB' }, '“AB” is not a pace group.'],
    [{ main: 'two lengths' }, '“two lengths” is not an event.'],
  ] as const)('with %o says what is wrong', ([more, message]) => {
    expect(withOwn(ADA, { ...ownFieldsOf(ADA), ...more })).toMatchObject({ message });
  });
});

describe('a time as typed', () => {
  test('is read in each way that times are written', () => {
    for (const time of ['1:58.4', '118.4', '1.58,40', '1:58,4']) {
      expect(timeFrom({ ...noTime('SCM'), event: '200 free', time }, null)).toEqual({
        ...best('200 free', '1:58.40'),
        course: 'SCM',
      });
    }
  });

  test('comes back the same from its fields, splits and thousandths too', () => {
    for (const time of [OLD, { ...OLD, timeMs: ms(120_004), start: 'push' as const, handTimed: true as const }]) {
      expect(timeFrom(timeFieldsOf(time), time)).toEqual(time);
    }
  });

  test('loses its splits when time or event is another: they would not add up', () => {
    expect(splitWords(OLD)).toBe('half 58.50');
    const faster = timeFrom({ ...timeFieldsOf(OLD), time: '1:59.00' }, OLD);
    const other = timeFrom({ ...timeFieldsOf(OLD), event: '200 back' }, OLD);
    expect([faster, other].map((read) => 'halfMs' in read)).toEqual([false, false]);
  });

  test.for([
    [{ event: 'free', time: '58.4' }, '“free” is not an event.'],
    [{ event: '100 free', time: 'fast' }, '“fast” is not a swim time.'],
    [{ event: '100 free', time: '0' }, '“0” is not a swim time.'],
  ] as const)('with %o says what is wrong', ([more, message]) => {
    const read = timeFrom({ ...noTime('SCM'), ...more }, null);
    expect(isProblem(read) && read.message).toBe(message);
  });

  test('is put in the place of the one that is changed, and not there twice', () => {
    const goal = { ...OLD, kind: 'goal' as const };
    const two = withTime(ADA, goal, null);
    expect(two?.references).toEqual([OLD, goal]);
    expect(two && withTime(two, { ...OLD, kind: 'test' }, OLD)?.references.map(({ kind }) => kind)).toEqual([
      'test',
      'goal',
    ]);
    expect(two && withTime(two, { ...goal }, null)).toBeNull();
  });

  test('of a set can be taken out; the last leaves none behind', () => {
    const mean = { set: '4 × 50 free, from a push, SCM', sendOff: '@ 1:00', meanMs: ms(33_000) };
    const with1: Swimmer = { ...ADA, means: [mean] };
    expect(withoutMean(with1, mean)).toEqual(ADA);
  });
});

/** A page on a server that keeps one squad. */
function onDesk() {
  let squad: Swimmer[] = [ADA];
  const said: string[] = [];
  const answer = (): { ok: true; value: SquadAnswer } => ({ ok: true, value: { swimmers: squad, demo: false } });
  const state = { isRefused: false, limits: [] as number[] };
  const model = createSwimmer(
    {
      swimmer: async (id, limit) => {
        state.limits.push(limit);
        const swimmer = squad.find((one) => one.id === id);
        return swimmer
          ? { ok: true, value: { swimmer, thresholds: [], sets: [], more: false } }
          : { ok: false, code: 'no-such-swimmer', message: 'This swimmer is not in the squad any more.' };
      },
      saveSwimmer: async (next, instead) => {
        if (state.isRefused) return { ok: false, code: 'saved-in-between', message: 'Somebody was faster.' };
        squad = instead ? squad.map((one) => (one.id === next.id ? next : one)) : [...squad, next];
        return answer();
      },
      removeSwimmer: async (id) => {
        squad = squad.filter((one) => one.id !== id);
        return answer();
      },
    },
    { adopt: (_stored, words) => said.push(words) },
  );
  return { model, said, state, names: () => squad.map(({ name }) => name) };
}

const WORDS = { done: 'Saved.', undo: 'Undo: the name' };

describe('the page of a swimmer', () => {
  test('saves, says so, and takes the last thing back', async () => {
    const { model, names, said } = onDesk();
    await model.choose(ADA.id);
    expect(await model.save({ ...ADA, name: 'Ada Orr' }, WORDS)).toBe(true);
    expect([names(), said, model.lastStep.value?.words]).toEqual([['Ada Orr'], ['Saved.'], 'Undo: the name']);
    expect(model.shown.value?.swimmer.name).toBe('Ada Orr');
    await model.undo();
    expect([names(), model.lastStep.value]).toEqual([['Ada Vint'], null]);
  });

  test('takes a swimmer out and puts the same one back', async () => {
    const { model, names } = onDesk();
    await model.choose(ADA.id);
    expect(await model.remove()).toBe(true);
    expect(names()).toEqual([]);
    await model.undo();
    expect(names()).toEqual(['Ada Vint']);
  });

  test('adds one, who is out again after an undo', async () => {
    const { model, names } = onDesk();
    await model.add(swimmer('Bo Tarn', 1, 'A', []));
    expect(names()).toEqual(['Ada Vint', 'Bo Tarn']);
    await model.undo();
    expect(names()).toEqual(['Ada Vint']);
  });

  test('says why something was refused, and keeps what can be taken back', async () => {
    const { model, state } = onDesk();
    await model.choose(ADA.id);
    await model.save({ ...ADA, name: 'Ada Orr' }, WORDS);
    state.isRefused = true;
    expect(await model.save({ ...ADA, name: 'Ada Moss' }, WORDS)).toBe(false);
    expect([model.problem.value?.message, model.lastStep.value?.words]).toEqual(['Somebody was faster.', WORDS.undo]);
  });

  test('asks for more sets, and for the usual number of the next swimmer', async () => {
    const { model, state } = onDesk();
    await model.choose(ADA.id);
    await model.showOlder();
    await model.choose(null);
    await model.choose(ADA.id);
    expect(state.limits).toEqual([25, 50, 25]);
  });
});
