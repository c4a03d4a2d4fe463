import { expect, test } from 'vitest';
import { planPractice } from '../../server/planning/plan.ts';
import { STYLES } from '../../shared-types/practice.ts';
import { goneOnWith, libraryText } from '../bench/library-texts.ts';
import { seeded } from '../bench/seeded.ts';
import { poolOf, squadOf } from '../bench/workloads.ts';

const SIZE = { lanes: 3, swimmersPerLane: 2 };

test('the practices of the benchmarks can be swum without a coach who lets them go, and are of every style', () => {
  const random = seeded(11);
  const [squad, pool] = [squadOf(SIZE), poolOf(SIZE)];
  const sheets = Array.from({ length: 60 }, (_, place) => {
    const { sheet, messages } = planPractice(goneOnWith(libraryText(place, random), 2 + (place % 4)), squad, pool);
    expect(messages.filter(({ severity }) => severity === 'error')).toEqual([]);
    return sheet;
  });
  const steps = sheets.flatMap((sheet) => sheet?.lanes ?? []).flatMap((lane) => lane.steps);
  expect(steps.map(({ kind }) => kind)).not.toContain('gate');
  const styles = sheets.flatMap((sheet) => sheet?.sets ?? []).map(({ style }) => style);
  expect(new Set(styles)).toEqual(new Set(STYLES));
});

test('the same seed writes the same practices', () => {
  const written = (): string[] => {
    const random = seeded(5);
    return [1, 2, 3].map((number) => libraryText(number, random));
  };
  expect(written()).toEqual(written());
  expect(new Set(written()).size).toBe(3);
});
