import { describe, expect, test } from 'vitest';
import { numbersIn, writingOf } from '../../client/desk/local-numbers.ts';

const inLanguage = (language: string, text: string): string => numbersIn(writingOf(language), text);

describe('numbers on the desk', () => {
  // Marks of the Unicode Common Locale Data Repository, version 48: de, fr (U+202F), de-CH (an apostrophe), sv (U+00A0); from memory.
  test.for([
    ['en-GB', '1:57.96 of 1,800 m'],
    ['de-DE', '1:57,96 of 1.800 m'],
    ['fr-FR', '1:57,96 of 1\u202f800 m'],
    ['de-CH', "1:57.96 of 1'800 m"],
    ['sv-SE', '1:57,96 of 1\u00a0800 m'],
    ['es-ES', '1:57,96 of 1.800 m'],
    ['ar-EG', '1:57.96 of 1,800 m'],
  ] as const)('are written as in %s', ([language, text]) => {
    expect(inLanguage(language, '1:57.96 of 1,800 m')).toBe(text);
  });

  test.for([
    '192.168.1.20:4050',
    'Farwall 1.2.3',
    'lanes 1, 2, 3',
    'at :45, 1:30 and 18:05',
    'IM2.5 and v1.5',
    '4 × 50 free.',
    'a,1,234,567.8',
  ])('“%s” stays as it is', (text) => {
    expect(inLanguage('de-DE', text)).toBe(text);
  });

  test.for([
    ['−0.4, +1.25 and ~58.3.', '−0,4, +1,25 and ~58,3.'],
    ['1,234,567.8', '1.234.567,8'],
    ['(200 free 1:58.40 SCM)', '(200 free 1:58,40 SCM)'],
    ['29.5/30.0', '29,5/30,0'],
  ] as const)('“%s” becomes “%s”', ([text, german]) => {
    expect(inLanguage('de-DE', text)).toBe(german);
  });
});
