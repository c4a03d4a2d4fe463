import { expect, test } from 'vitest';
import { paperBlocks, quotedForStyle } from '../../client/desk/paper-blocks.ts';
import { best, swimmer } from '../fixtures/planning.ts';
import { shownSetsOf } from '../fixtures/shown-sets.ts';
import { SwumPractice } from '../fixtures/swum-practice.ts';

const squad = { swimmers: [swimmer('Ada Vance', 1, 'A', [best('200 free', '2:00.00')])] };

const headsOf = (text: string): string[][] => {
  const [set] = shownSetsOf(new SwumPractice(text, squad));
  return paperBlocks(set?.swimmers[0]?.reps ?? []).map((block) =>
    block.map(({ rep, words }) => (words === '' ? String(rep) : `${rep} ${words}`)),
  );
};

test('a long set is printed in blocks of eight reps, each saying its rounds', () => {
  expect(headsOf('Main\n2 rounds, 1:00 between:\n  6 x 50 free @ 1:00\n')).toEqual([
    ['1 Round 1', '2', '3', '4', '5', '6', '7 Round 2', '8'],
    ['9 Round 2', '10', '11', '12'],
  ]);
});

test('strokes are named where they change', () => {
  expect(headsOf('Main\n4 x 50 IM order @ 1:10\n')).toEqual([['1 fly', '2 back', '3 breast', '4 free']]);
});

test('any title can stand in the margin', () => {
  expect(quotedForStyle('Monday')).toBe('"Monday"');
  expect(quotedForStyle('8" \\ "; }')).toBe('"8\\22  \\5c  \\22 ; }"');
});
