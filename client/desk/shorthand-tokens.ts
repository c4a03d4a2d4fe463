import { TOKENS, type TokenKind } from '../../shared-types/tokens.ts';

/** A word or sign of a line; `from` and `to` count characters from its start. */
export interface Token {
  readonly from: number;
  readonly to: number;
  readonly kind: TokenKind;
}

/** One group a token of the table, in its order: the number of the group that matched is the token's place. */
const ANY_TOKEN = new RegExp(TOKENS.map(({ pattern }) => `(${pattern})`).join('|'), 'iy');

/** Cuts a line into the shorthand's tokens, from its start to its end without a gap. */
export function tokensIn(line: string): Token[] {
  const tokens: Token[] = [];
  let from = 0;
  while (from < line.length) {
    ANY_TOKEN.lastIndex = from;
    const match = ANY_TOKEN.exec(line);
    const text = match?.[0] ?? line.slice(from);
    const place = match ? match.findIndex((group, index) => index > 0 && group !== undefined) - 1 : -1;
    tokens.push({ from, to: from + text.length, kind: TOKENS[place]?.kind ?? 'text' });
    from += text.length;
  }
  return tokens;
}

/** A line that says what follows rather than what is swum: the title, or a section's name at the top or after a gap. */
export function headingOf(line: string, before: string | null): 'title' | 'section' | null {
  if (before === null && line.trimStart().startsWith('#')) return 'title';
  const afterGap = before === null || before.trim() === '' || before.trimStart().startsWith('#');
  const isItem = /^(wait|together|rest|lanes?\s)\b|@|:\s*$/i.test(line);
  return afterGap && /^\p{L}/u.test(line) && !isItem ? 'section' : null;
}
