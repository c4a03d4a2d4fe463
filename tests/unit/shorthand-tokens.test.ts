import { describe, expect, test } from 'vitest';
import { tokensOf } from '../../server/planning/shorthand/lexer.ts';
import { nearestWord } from '../../server/planning/shorthand/nearest-word.ts';
import { TOKENS } from '../../shared-types/tokens.ts';

/** Reads a line with the table alone, as an editor does. */
function scan(line: string): [name: string, text: string][] {
  const found: [string, string][] = [];
  for (let at = 0; at < line.length; ) {
    const hit = TOKENS.map((token) => {
      const pattern = new RegExp(token.pattern, 'iy');
      pattern.lastIndex = at;
      return [token.name, pattern.exec(line)?.[0] ?? ''] as const;
    }).find(([, text]) => text !== '');
    if (!hit) throw new Error(`nothing matches at ${at} of ${JSON.stringify(line)}`);
    found.push([...hit]);
    at += hit[1].length;
  }
  return found;
}

const LINES = [
  '10/9/8 x 50s free @ 1:20/:45 dropping :05 at 90% of own 200 fly back-half pace, :10 apart -- walls -- and turns',
  '8×50 bk (15 max, 35 easy) 1;30 1\'30" with pulley 12kg + fins — note',
  'Größe: Überraschung 🏊‍♀️ naïve don’t x-ray \u00a0\u2009\ufeff 8x50x9 backs half',
  '\ud800 \udfff \u0000 日本語 ！',
];

describe('the token table', () => {
  test.each(LINES)('reads %j to its end, as the server does', (line) => {
    const scanned = scan(line);
    expect(scanned.map(([, text]) => text).join('')).toBe(line);
    const inServer = tokensOf(line).map((token) => [token.tokenType.name, token.image]);
    expect(inServer).toEqual(scanned.filter(([name]) => name !== 'Space'));
  });

  test('has no capturing groups, so that the patterns can be joined', () => {
    for (const { pattern } of TOKENS) expect(new RegExp(`${pattern}|`).exec('')).toHaveLength(1);
  });

  test('each spelling is read as its own token, in any case', () => {
    for (const token of TOKENS) {
      for (const word of 'words' in token ? token.words : []) {
        expect(tokensOf(word.toUpperCase()).map((each) => each.tokenType.name)).toEqual([token.name]);
      }
    }
  });
});

describe('the nearest word', () => {
  const known = ['free', 'fr', 'back', 'breast', 'easy', 'max'];
  test.each([
    ['esay', 'easy'],
    ['FREE', 'free'],
    ['fre', 'free'],
    ['brest', 'breast'],
    ['brst', 'breast'],
    ['mx', null],
    ['mix', 'max'],
    ['easily', 'easy'],
    ['quickly', null],
  ])('to %s is %s', (word, nearest) => expect(nearestWord(word, known)).toBe(nearest));
});
