import type { IToken } from 'chevrotain';
import { STYLES, type Style } from '../../../shared-types/practice.ts';
import { isA } from './lexer.ts';
import { nearestWord } from './nearest-word.ts';
import { quote, type Report } from './report.ts';

/** `Race-pace` and `race pace` are the same style. */
const bare = (text: string): string => text.toLowerCase().replace(/[\s-]/g, '');

const styleOf = (text: string): Style | null => STYLES.find((style) => bare(style) === bare(text)) ?? null;

/**
 * Reads `Main set: race pace`, `Warm-up`, `Warm-up:`. A style that is not known is reported and left out.
 * @param tokens the line without its note
 * @param text the line as written, up to its note
 */
export function readSectionLine(
  tokens: readonly IToken[],
  text: string,
  report: Report,
): { name: string; style?: Style } {
  const colon = tokens.findLast((token) => isA(token, 'Colon'));
  if (!colon) return { name: text.trim() };
  const name = text.slice(0, colon.startOffset).trim();
  const word = text.slice(colon.startOffset + 1).trim();
  if (word === '') return { name };
  const style = styleOf(word);
  if (style) return { name, style };
  const meant = word.length > 20 ? null : nearestWord(word, STYLES);
  report(tokens[tokens.indexOf(colon) + 1] ?? colon, {
    code: 'unknown-style',
    text: `${quote(word)} is not a style; ${meant ? `did you mean ${meant}?` : `the styles are ${STYLES.join(', ')}`}`,
    ...(meant ? { fix: meant } : {}),
  });
  return { name };
}
