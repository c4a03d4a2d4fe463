import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createLibrarySearch } from '../../client/desk/library-search.ts';
import { metresIn } from '../../client/desk/metres-in.ts';
import { comparedLines } from '../../client/desk/versions-model.ts';
import { pool25 } from '../fixtures/planning.ts';

interface Asked {
  readonly query: string;
  answer(title: string): Promise<void>;
}

/** A search with a hand on its clock and on the server's answers. */
function searching() {
  const asked: Asked[] = [];
  let due: (() => void) | null = null;
  const search = createLibrarySearch(
    {
      findPractices: (query) =>
        new Promise((resolve) => {
          asked.push({
            query: query.toString(),
            answer: async (title) => {
              resolve({ ok: true, value: { practices: [], more: title === 'more' } });
              await Promise.resolve();
            },
          });
        }),
    },
    (run) => {
      due = run;
      return () => {
        due = null;
      };
    },
    (text) => metresIn(text, pool25),
  );
  const pass = (): void => {
    const run = due;
    due = null;
    run?.();
  };
  return { search, asked, pass };
}

describe('the search of the library', () => {
  test('asks once the keys rest, for what is there then', () => {
    const { search, asked, pass } = searching();
    search.want({ text: 'fr' });
    search.want({ text: 'free ' });
    expect(asked).toEqual([]);
    pass();
    search.want({ style: 'power', least: '2,000', most: 'many' });
    pass();
    expect(asked.map(({ query }) => query)).toEqual(['text=free', 'text=free&style=power&least=2000']);
  });

  test('drops an answer that something newer was asked for, and everything when it is cleared', async () => {
    const { search, asked, pass } = searching();
    search.want({ text: 'old' });
    pass();
    search.want({ text: 'new' });
    pass();
    await asked[1]?.answer('more');
    await asked[0]?.answer('old');
    await expect.poll(() => search.found.value).toEqual({ practices: [], more: true });
    search.clear();
    expect([search.isAsked.value, search.found.value]).toEqual([false, null]);
    search.reload();
    expect(asked).toHaveLength(2);
  });
});

test.for([
  ['2000', 2000],
  ['2,000', 2000],
  ['2 000', 2000],
  ['2.000', 2000],
  ['', null],
  ['far', null],
  ['1.5', null],
] as const)('a distance written “%s” is %s', ([text, metres]) => {
  expect(metresIn(text, pool25)).toBe(metres);
});

test('a distance in yards is looked for in metres', () => {
  // 1 yd is 0.9144 m (international yard and pound agreement of 1959).
  expect(metresIn('1000', { ...pool25, course: 'SCY' })).toBeCloseTo(914.4, 9);
});

describe('two versions', () => {
  test('are compared line by line', () => {
    expect(comparedLines('Main\n4 x 50\nDown', 'Main\n6 x 50\nDown\n')).toEqual([
      { text: 'Main', in: 'both' },
      { text: '4 x 50', in: 'old' },
      { text: '6 x 50', in: 'new' },
      { text: 'Down', in: 'both' },
    ]);
  });

  test('have each its own text in the lines compared, in order', () => {
    const text = fc.array(fc.constantFrom('Main', '4 x 50', '', 'Down'), { maxLength: 8 });
    const plain = (lines: readonly string[]): string => lines.join('\n').replace(/\n+$/, '');
    fc.assert(
      fc.property(text, text, (older, newer) => {
        const lines = comparedLines(plain(older), plain(newer));
        const of = (other: 'old' | 'new') => lines.flatMap((line) => (line.in === other ? [] : [line.text]));
        expect(plain(of('new'))).toBe(plain(older));
        expect(plain(of('old'))).toBe(plain(newer));
      }),
      { endOnFailure: true },
    );
  });
});
