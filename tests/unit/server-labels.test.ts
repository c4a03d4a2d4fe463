import { expect, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { shortLabels } from '../../server/running/labels.ts';
import { loadingOf } from '../../server/running/loading.ts';
import { instant, practiceIdSchema, swimmerIdSchema } from '../../shared-types/brand.ts';
import { pool25, swimmer, threeLanes } from '../fixtures/planning.ts';

const labelsOf = (...names: string[]): string[] => {
  const swimmers = names.map((name) => ({ id: swimmerIdSchema.parse(randomId()), name }));
  return Object.values(shortLabels(swimmers));
};

test('a wall calls swimmers by their first names', () => {
  expect(labelsOf('Ada Vint', 'Bo Tarn', 'Cher')).toEqual(['Ada', 'Bo', 'Cher']);
});

test('of swimmers who share a first name it adds as much of the last as tells them apart', () => {
  expect(labelsOf('Ada Vint', 'Ada Moss', 'Bo Tarn')).toEqual(['Ada V', 'Ada M', 'Bo']);
  expect(labelsOf('Ada Vint', 'Ada Volk', 'Ada Moss')).toEqual(['Ada Vi', 'Ada Vo', 'Ada M']);
  expect(labelsOf('Ada', 'Ada Vint')).toEqual(['Ada', 'Ada V']);
});

test('a short name that the coach has given is kept, and nobody else gets it', () => {
  const [ada, other, bo] = ['Ada Vint', 'Ada Moss', 'Bo Tarn'].map((name) => ({
    id: swimmerIdSchema.parse(randomId()),
    name,
  }));
  if (!ada || !other || !bo) throw new Error('three were made');
  const labels = shortLabels([{ ...ada, short: 'Bo' }, other, bo]);
  expect([labels[ada.id], labels[other.id], labels[bo.id]]).toEqual(['Bo', 'Ada', 'Bo T']);
});

test('two swimmers of one whole name keep it', () => {
  expect(labelsOf('Ada Vint', 'Ada Vint')).toEqual(['Ada Vint', 'Ada Vint']);
});

test('[CMD7] a run labels everybody of the squad, so that who has no lane yet can join one by name', () => {
  const { lane: _, ...late } = swimmer('Faro Unn', 1, 'A', []);
  const squad = { swimmers: [...threeLanes.swimmers, late] };
  const practice = {
    id: practiceIdSchema.parse(randomId()),
    version: 1,
    demo: false,
    title: '',
    text: 'Main set\n100 free easy\n',
  };
  const loaded = loadingOf({ ...practice, savedAt: 0 }, squad, pool25);
  if (!loaded.ok) throw new Error(loaded.message);
  const settings = { trimMs: 0, gridMs: 5000, leadInMs: 3000 };
  const put = { id: randomId(), loadedAt: instant(0), settings, rehearsed: false, demo: false };
  const { pinned } = loaded.loading.runFrom(put);
  expect(pinned.shortLabels[late.id]).toBe('Faro');
  expect(pinned.fullLabels[late.id]).toBe('Faro Unn');
});
