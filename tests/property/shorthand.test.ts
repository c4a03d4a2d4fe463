import fc from 'fast-check';
import { expect, test } from 'vitest';
import { linesOf } from '../../server/planning/shorthand/lines.ts';
import { parsePractice } from '../../server/planning/shorthand/parse.ts';
import type { Practice } from '../../shared-types/practice.ts';
import { TOKENS } from '../../shared-types/tokens.ts';
import { practices, sets } from './shorthand-practices.ts';
import { type Choose, Writer } from './shorthand-writing.ts';

/** Choices drawn by fast-check, so that a failure is shrunk and printed with its seed. */
const choices: fc.Arbitrary<Choose> = fc.infiniteStream(fc.nat({ max: 9999 })).map((stream) => (ways) => {
  const { value } = stream.next();
  return (typeof value === 'number' ? value : 0) % ways;
});

/** What must hold for any text at all. */
function expectSoundAnswer(text: string): void {
  const { practice, messages } = parsePractice(text);
  const lines = linesOf(text);
  expect(practice === null).toBe(messages.some((message) => message.severity === 'error'));
  for (const message of messages) {
    const line = lines[message.line - 1] ?? (message.line === 1 ? '' : undefined);
    expect(line, `line ${message.line}`).toBeDefined();
    expect(message.column).toBeGreaterThanOrEqual(1);
    expect(message.column).toBeLessThanOrEqual(Math.max(1, line?.length ?? 0));
    expect(message.text).toMatch(/^\S[^\n\r]*\S$/u);
    expect(message.text).not.toMatch(/token|expect|undefined|null|NaN|Infinity|syntax/);
  }
  const places = messages.map(({ line, column }) => line * 100_000 + column);
  expect(places).toEqual(places.toSorted((a, b) => a - b));
}

/** The practice without its lines and columns, as the generators make them. */
const withoutPlaces = (practice: Practice | null): unknown =>
  JSON.parse(JSON.stringify(practice), (key, value: unknown) =>
    key === 'line' || key === 'column' || key === 'sizeColumn' ? 0 : value,
  );

test('a set is read as what was written, whatever the order of its clauses', () => {
  fc.assert(
    fc.property(sets, choices, (set, choose) => {
      const text = new Writer(choose).set(set);
      fc.pre(text.length <= 500);
      const { practice, messages } = parsePractice(text);
      expect(messages, text).toEqual([]);
      expect(withoutPlaces(practice), text).toEqual({ sections: [{ name: '', line: 0, items: [set], notes: [] }] });
    }),
    { numRuns: 500 },
  );
});

test('a practice is read as what was written', () => {
  fc.assert(
    fc.property(practices, choices, (written, choose) => {
      const text = new Writer(choose).practice(written);
      fc.pre(linesOf(text).every((line) => line.length <= 500));
      const { practice, messages } = parsePractice(text);
      expect(messages, text).toEqual([]);
      expect(withoutPlaces(practice), text).toEqual(written);
    }),
    { numRuns: 300 },
  );
});

test('any text gets a sound answer', () => {
  fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 300 }), expectSoundAnswer), { numRuns: 500 });
  fc.assert(fc.property(fc.string({ unit: 'grapheme', maxLength: 300 }), expectSoundAnswer), { numRuns: 200 });
  const lines = fc.array(fc.string({ maxLength: 60 }), { maxLength: 20 }).map((list) => list.join('\n'));
  fc.assert(fc.property(lines, expectSoundAnswer), { numRuns: 500 });
});

const VOCABULARY = [
  ...TOKENS.flatMap((token) => ('words' in token ? [...token.words] : [])),
  ...[
    '@',
    '%',
    '+',
    '/',
    '-',
    '(',
    ')',
    ',',
    ':',
    '#',
    'x',
    '×',
    '--',
    '—',
    '\n',
    '\n',
    '\n  ',
    '\n\t',
    '\n\n',
    '\r\n',
  ],
  ...['8', '50', '100', '200', '0', '1.30', '31.5', '50s', ':30', '1:10', '1:75', '1;30', 'A', 'B', 'esay', 'walls'],
];

test('any heap of the words and signs of the shorthand gets a sound answer', () => {
  const soup = fc
    .array(fc.tuple(fc.constantFrom(...VOCABULARY), fc.constantFrom(' ', ' ', '')), { maxLength: 80 })
    .map((list) => list.flat().join(''));
  fc.assert(fc.property(soup, expectSoundAnswer), { numRuns: 2000 });
});

type Change = (text: string, at: number) => string;

const CHANGES: readonly Change[] = [
  (text, at) => text.slice(0, at) + text.slice(at + 1),
  (text, at) => text.slice(0, at) + text.slice(at, at + 1) + text.slice(at),
  (text, at) => text.slice(0, at) + text.slice(at + 1, at + 2) + text.slice(at, at + 1) + text.slice(at + 2),
  ...[
    (lines: string[], i: number) => lines.toSpliced(i, 1),
    (lines: string[], i: number) => lines.toSpliced(i, 0, lines[i] ?? ''),
    (lines: string[], i: number) => lines.toSpliced(i, 2, lines[i + 1] ?? '', lines[i] ?? ''),
  ].map(
    (change): Change =>
      (text, at) => {
        const lines = text.split('\n');
        return change(lines, at % lines.length).join('\n');
      },
  ),
];

test('a practice with slips in it gets a sound answer', () => {
  const slips = fc.array(fc.tuple(fc.constantFrom(...CHANGES), fc.nat()), { minLength: 1, maxLength: 12 });
  fc.assert(
    fc.property(practices, choices, slips, (practice, choose, list) => {
      const text = new Writer(choose).practice(practice);
      expectSoundAnswer(list.reduce((soFar, [change, at]) => change(soFar, at % (soFar.length + 1)), text));
    }),
    { numRuns: 500 },
  );
});
