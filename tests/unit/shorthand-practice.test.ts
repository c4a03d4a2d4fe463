import { describe, expect, test } from 'vitest';
import { parsePractice } from '../../server/planning/shorthand/parse.ts';
import type { Item, Section } from '../../shared-types/practice.ts';

const EVENING = `# Tuesday evening, club squad -- week 9

Warm-up
300 choice easy
8 x 50 drill @ 1:10 -- thumbs first
  -- relax the shoulders

Main set: race pace
2 rounds together, 4:00 between:
  6 x 50 free @ 1:00 / 1:05 / 1:15 at 200 pace
  count your strokes
  rest 1:00
  3 rounds:
    25 max from a dive on go
  100 easy @ 2:20
together

A:
  8 x 25 fly on go by heat max
B, C:
  6/5 x 50 back @ 1:10 descend 1-3
lanes 5-6:
  10 x :30 kick @ 1:00
wait
3 x (4 x 50 @ :50 + 100 @ 2:00), 2:00 between

Swim down:
  200 choice easy
2:00 rest
`;

const sectionsOf = (text: string): readonly Section[] => {
  const { practice, messages } = parsePractice(text);
  expect(messages.filter((message) => message.severity === 'error')).toEqual([]);
  return practice?.sections ?? [];
};

const shapeOf = (item: Item): unknown =>
  item.kind === 'rounds' || item.kind === 'groups' ? [item.kind, ...item.items.map(shapeOf)] : item.kind;

describe('a whole practice', () => {
  const { practice, messages } = parsePractice(EVENING);
  const [warmUp, main, down] = practice?.sections ?? [];

  test('has its title and its sections with their styles', () => {
    expect(practice?.title).toBe('Tuesday evening, club squad -- week 9');
    expect(practice?.sections.map(({ name, style, line }) => [name, style, line])).toEqual([
      ['Warm-up', undefined, 3],
      ['Main set', 'race pace', 8],
      ['Swim down', undefined, 27],
    ]);
  });

  test('has its blocks inside each other', () => {
    expect(main?.items.map(shapeOf)).toEqual([
      ['rounds', 'set', 'rest', ['rounds', 'set'], 'set'],
      'together',
      ['groups', 'set'],
      ['groups', 'set'],
      ['groups', 'set'],
      'wait',
      ['rounds', 'set', 'set'],
    ]);
    expect(main?.items[0]).toMatchObject({ count: 2, together: true, betweenMs: 240_000, line: 9, column: 1 });
    expect(main?.items[6]).toMatchObject({ count: 3, together: false, betweenMs: 120_000 });
    expect(main?.items.flatMap((item) => (item.kind === 'groups' ? [item.who] : []))).toEqual([
      { kind: 'groups', groups: ['A'] },
      { kind: 'groups', groups: ['B', 'C'] },
      { kind: 'lanes', from: 5, to: 6 },
    ]);
    expect(down?.items).toMatchObject([
      { kind: 'set', line: 28, column: 3 },
      { kind: 'rest', restMs: 120_000 },
    ]);
  });

  test('keeps its notes with their sets, and says which line it took for one', () => {
    expect(warmUp?.items[1]).toMatchObject({
      notes: [
        { line: 5, text: 'thumbs first' },
        { line: 6, text: 'relax the shoulders' },
      ],
    });
    expect(messages).toMatchObject([{ severity: 'info', code: 'note', line: 11, column: 3 }]);
  });

  test('reads the same with CRLF, with tabs, and in capitals', () => {
    expect(parsePractice(EVENING.replaceAll('\n', '\r\n'))).toMatchObject({ practice, messages });
    const tabbed = parsePractice(EVENING.replaceAll('    ', '\t\t').replaceAll(/^ {2}/gm, '\t'));
    expect(tabbed.practice?.sections[1]?.items.map(shapeOf)).toEqual(main?.items.map(shapeOf));
    const loud = parsePractice(EVENING.toUpperCase());
    expect(loud.practice?.sections[1]?.items).toEqual(
      JSON.parse(JSON.stringify(main?.items).replace('count your strokes', 'COUNT YOUR STROKES')),
    );
  });
});

describe('sections', () => {
  test('lines before the first section line lie in one without a name', () => {
    expect(sectionsOf('200 easy\n\nMain\n50')).toMatchObject([
      { name: '', line: 1, items: [{}] },
      { name: 'Main', line: 3, items: [{}] },
    ]);
    expect(sectionsOf('')).toEqual([]);
  });

  test.each(['Set: RACE-PACE', 'Set: race  pace', 'Set : race pace -- hard'])('%s is race pace', (line) => {
    expect(sectionsOf(line)).toMatchObject([{ name: 'Set', style: 'race pace' }]);
  });

  test('a style nobody knows is a warning, and the name stays', () => {
    const { practice, messages } = parsePractice('Set: race pase\n50\n\nMore: fun\n50');
    expect(practice?.sections.map((section) => section.name)).toEqual(['Set', 'More']);
    expect(practice?.sections[0]).not.toHaveProperty('style');
    expect(messages).toMatchObject([
      { severity: 'warning', code: 'unknown-style', line: 1, column: 6, fix: 'race pace' },
      { severity: 'warning', code: 'unknown-style', line: 4, column: 7 },
    ]);
  });

  test('a section may follow the title directly, or a note', () => {
    expect(sectionsOf('# T\nWarm-up\n50')).toMatchObject([{ name: 'Warm-up' }]);
    expect(sectionsOf('# T\n-- bring fins\nWarm-up\n50').map((section) => section.name)).toEqual(['', 'Warm-up']);
  });

  test('words like rest and wait may start a name', () => {
    expect(sectionsOf('Rest day swim\n50\n\nWait and see\n50').map((section) => section.name)).toEqual([
      'Rest day swim',
      'Wait and see',
    ]);
  });
});

describe('notes', () => {
  test('a text right under a set is its note, never a section', () => {
    const { practice, messages } = parsePractice('8 x 50\nbreathe every 5');
    expect(practice?.sections).toMatchObject([
      { name: '', items: [{ notes: [{ line: 2, text: 'breathe every 5' }] }] },
    ]);
    expect(messages).toMatchObject([{ severity: 'info', code: 'note', line: 2, column: 1, fix: '-- breathe every 5' }]);
  });

  test('a text under a section, a rest or a wait is a note of the section', () => {
    expect(sectionsOf('Main\nbe brave\nrest 1:00\ndrink\nwait\nlisten')).toMatchObject([
      { notes: [{ text: 'be brave' }, { text: 'drink' }, { text: 'listen' }] },
    ]);
  });

  test('a long dash opens a note too, as tablets write it for two hyphens', () => {
    expect(sectionsOf('8 x 50 — walls')).toMatchObject([{ items: [{ notes: [{ text: 'walls' }] }] }]);
  });

  test('a note at the margin leaves the block above it open', () => {
    expect(sectionsOf('2 rounds:\n  50\n-- again\n  100')[0]?.items.map(shapeOf)).toEqual([['rounds', 'set', 'set']]);
  });
});

describe('heads', () => {
  test.each([
    ['1 round:', { kind: 'rounds', count: 1, together: false }],
    ['3 rounds, 3:00 between:', { count: 3, betweenMs: 180_000 }],
    ['3 rounds together, 45s between: -- hard', { count: 3, together: true, betweenMs: 45_000 }],
    ['a:', { who: { kind: 'groups', groups: ['A'] } }],
    ['B , C:', { who: { kind: 'groups', groups: ['B', 'C'] } }],
    ['Group A and X:', { who: { kind: 'groups', groups: ['A', 'X'] } }],
    ['lanes 1-2:', { who: { kind: 'lanes', from: 1, to: 2 } }],
    ['Lane 3 :', { who: { kind: 'lanes', from: 3, to: 3 } }],
  ])('%s', (head, item) => {
    expect(sectionsOf(`${head}\n  50`)[0]?.items).toMatchObject([
      { ...item, items: [{ kind: 'set', line: 2, column: 3 }] },
    ]);
  });

  test('rounds in brackets may hold a rest, end with threshold, and nest once', () => {
    expect(sectionsOf('3 x (4 x 50 threshold +3 + 100 threshold + 50 easy + rest 1:00)')[0]?.items).toMatchObject([
      {
        items: [
          { counts: [4], effort: { plusMsPer100: 3000 } },
          { counts: [1], effort: { plusMsPer100: 0 } },
          { counts: [1], effort: { kind: 'easy' } },
          { kind: 'rest', restMs: 60_000 },
        ],
      },
    ]);
    expect(sectionsOf('2 x (2 x (25 with fins + 50) + 100)')[0]?.items.map(shapeOf)).toEqual([
      ['rounds', ['rounds', 'set', 'set'], 'set'],
    ]);
  });
});
