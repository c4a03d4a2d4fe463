import { expect, test } from 'vitest';
import { parsePractice } from '../../server/planning/shorthand/parse.ts';
import { LIMITS } from '../../shared-types/practice.ts';

const toLength = (piece: string, length: number): string =>
  piece.repeat(Math.ceil(length / piece.length)).slice(0, length);

/** As many lines of `start` and then `piece` over and over as a practice may have. */
function full(start: string, piece: string, lineLength: number = LIMITS.lineLength): string {
  const line = start + toLength(piece, lineLength - start.length);
  return Array<string>(Math.min(LIMITS.lines, Math.floor(LIMITS.bytes / (lineLength + 1))))
    .fill(line)
    .join('\n');
}

const indented = (line: string): string => Array.from({ length: 340 }, (_, i) => ' '.repeat(i) + line).join('\n');

const HEAVY: Readonly<Record<string, string>> = {
  'one long line': toLength('8 x 50 free @ 1:10 ', LIMITS.bytes),
  'many good lines': full(
    '8 x 50 free @ 1:10/1:15 at 200 pace (25 max, 25 easy), :10 apart with fins + paddles -- ',
    'walls ',
    163,
  ),
  'many bad lines': full('8 x 50 fere @ 90 at 250% of 200 pace free fly free (50 a) -- ', 'walls ', 163),
  'clauses over and over': full('8 x 50 ', 'free @ 1:10 at 200 pace '),
  'rounds in brackets': full('3 x ', '(3 x '),
  'brackets with parts': full('100 ', '(50 easy, '),
  'only brackets': full('100 ', ')'),
  'sets joined in brackets': full('2 x (50', ' + 4 x 50 @ 1:00'),
  'slashes after @': full('8 x 50 @ ', '1:10/'),
  'slashed counts': full('', '1/'),
  'unknown words': full('8 x 50 ', 'fere ekick zz '),
  digits: full('', '1'),
  colons: full('8 x 50 @ ', ':1'),
  spaces: full('8', ' '),
  hyphens: full('', '- '),
  'letters and commas': full('', 'a,'),
  commas: full('8 x 50 ', ','),
  'group heads ever deeper': indented('A:'),
  'rounds ever deeper': indented('2 rounds:'),
};

/** Milliseconds a practice may take to read, of the largest size that is allowed. */
const ALLOWED_MS = 100;

const fastestOfFive = (text: string): number =>
  Math.min(
    ...Array.from({ length: 5 }, () => {
      const from = performance.now();
      parsePractice(text);
      return performance.now() - from;
    }),
  );

test.each(Object.keys(HEAVY))(`a full-size text of %s is read within ${ALLOWED_MS} ms`, (name) => {
  const text = HEAVY[name] ?? '';
  expect(text.length).toBeGreaterThan(LIMITS.bytes * 0.87);
  expect(text.length).toBeLessThanOrEqual(LIMITS.bytes);
  expect(fastestOfFive(text)).toBeLessThanOrEqual(ALLOWED_MS);
});
