import type { IToken } from 'chevrotain';
import { isA, tokensOf } from './lexer.ts';
import { indentOf } from './lines.ts';

/** A line taken apart: what it says, its closing colon, its note. */
export interface Line {
  readonly number: number;
  readonly source: string;
  readonly indent: number;
  /** 1-based column of the first character that is not space. */
  readonly column: number;
  /** Without the closing colon and the note. */
  readonly tokens: IToken[];
  readonly colon: IToken | undefined;
  /** The line's words up to its note, closing colon included, spaces around them gone. */
  readonly text: string;
  /** What stands after `--`; empty when there is nothing. */
  readonly note: string;
}

export function takeApart(source: string, number: number): Line {
  const tokens = tokensOf(source);
  const noteToken = isA(tokens.at(-1), 'Note') ? tokens.pop() : undefined;
  const colon = isA(tokens.at(-1), 'Colon') ? tokens.pop() : undefined;
  const text = source.slice(0, noteToken?.startOffset ?? source.length).trim();
  const note = (noteToken?.image ?? '').replace(/^(--|\u2014)/, '').trim();
  const column = source.length - source.trimStart().length + 1;
  return { number, source, indent: indentOf(source), column, tokens, colon, text, note };
}

/** A time or a number, as a set, a rest or rounds may start with. */
const isAmount = (token: IToken | undefined): boolean => isA(token, 'Number', 'Time', 'Seconds', 'SlippedTime');

/** Whether a line is meant as a set, rounds, a rest or a gate, and so must be readable as one. */
export function isMeantAsItem({ tokens }: Line): boolean {
  const [first, second] = tokens;
  if (isAmount(first)) return true;
  return isA(first, 'Rest', 'Wait', 'Together') && (second === undefined || isAmount(second));
}

/** The first `@`, `N x` or `x N` of a line: such a line is a set or a mistake, never a note. */
export const setMarkOf = ({ tokens }: Line): IToken | undefined =>
  tokens.find((token, i) => {
    const [before, after] = [tokens[i - 1], tokens[i + 1]];
    return isA(token, 'At') || (isA(token, 'Times') && (isAmount(before) || isAmount(after)));
  });

/** Whether the line starts with a letter, as the name of a section does. */
export const startsWithLetter = ({ text }: Line): boolean => /^\p{L}/u.test(text);
