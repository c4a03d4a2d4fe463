import { type IToken, Lexer, type TokenType } from 'chevrotain';
import { TOKENS, type TokenName } from '../../../shared-types/tokens.ts';

const types = new Map<string, TokenType>(
  TOKENS.map(({ name, pattern }): [string, TokenType] => [
    name,
    {
      name,
      PATTERN: new RegExp(pattern, 'i'),
      ...(name === 'Space' ? { GROUP: Lexer.SKIPPED } : {}),
    },
  ]),
);

/** The lexer's and parser's token type for an entry of the token table. */
export function tokenType(name: TokenName): TokenType {
  const type = types.get(name);
  if (!type) throw new Error(`no token is called ${name}`);
  return type;
}

export const TOKEN_TYPES: readonly TokenType[] = TOKENS.map(({ name }) => tokenType(name));

// Lines are lexed one by one, so an offset is all the place a token needs.
const lexer = new Lexer([...TOKEN_TYPES], { positionTracking: 'onlyOffset' });

/** The tokens of one line, spaces left out. Every text can be read: what has no meaning becomes `Word` or `Other`. */
export const tokensOf = (line: string): IToken[] => lexer.tokenize(line).tokens;

export const isA = (token: IToken | undefined, ...names: readonly TokenName[]): boolean =>
  token !== undefined && names.some((name) => token.tokenType.name === name);

/** 1-based column of a token in its line. */
export const columnOf = (token: IToken): number => token.startOffset + 1;

/** Offset just behind a token. */
export const endOf = (token: IToken): number => token.startOffset + token.image.length;
