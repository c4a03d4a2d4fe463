import { expect, test } from 'vitest';
import { randomId } from '../../server/ids.ts';
import { shortLabels } from '../../server/running/labels.ts';
import { swimmerIdSchema } from '../../shared-types/brand.ts';

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

test('two swimmers of one whole name keep it', () => {
  expect(labelsOf('Ada Vint', 'Ada Vint')).toEqual(['Ada Vint', 'Ada Vint']);
});
