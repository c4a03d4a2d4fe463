import type { IToken } from 'chevrotain';
import { TOKENS } from '../../../shared-types/tokens.ts';
import { endOf, isA, tokensOf, tokenType } from './lexer.ts';
import { nearestWord } from './nearest-word.ts';
import { quote, type Report } from './report.ts';

/** The words of the shorthand that can be meant by a misspelt one; shorter ones are near to everything. */
const WORDS: readonly string[] = TOKENS.flatMap((token) => ('words' in token ? token.words : [])).filter(
  (word) => word.length > 2,
);

/** Words from elsewhere that coaches do write, with what to write instead. */
const CURES: ReadonlyMap<string, string> = new Map([
  ...['s', 'sec', 'secs', 'second', 'seconds'].map((w): [string, string] => [w, 'write seconds like :45 or 45s']),
  ...['min', 'mins', 'minute', 'minutes'].map((w): [string, string] => [w, 'write minutes like 1:00']),
  ...['m', 'yd', 'yds', 'meter', 'meters', 'metre', 'metres', 'yard', 'yards'].map((w): [string, string] => [
    w,
    'write the distance without a unit; the pool has it',
  ]),
]);

/** Beyond this many in a line the coach looks at the whole line anyway. */
const MOST_A_LINE = 5;

const repaired = (token: IToken, word: string): IToken => {
  const [known] = tokensOf(word);
  return known ? { ...known, startOffset: token.startOffset } : token;
};

/** Puts the meant word in the place of each misspelt one, and leaves out what cannot be meant. */
function withKnownWords(tokens: readonly IToken[], report: Report): IToken[] {
  let reported = 0;
  let strange = false;
  return tokens.flatMap((token) => {
    if (!isA(token, 'Word', 'Other')) return [token];
    const word = token.image;
    const cure = CURES.get(word.toLowerCase());
    const meant =
      cure || reported >= MOST_A_LINE || word.length > 15 ? null : nearestWord(word, WORDS, strange ? 1 : 2);
    if (meant) {
      report(token, {
        text: `${quote(word)} is not a known word; did you mean ${meant}?`,
        fix: meant,
        replace: { insert: meant },
      });
    } else if (cure) {
      if (reported < MOST_A_LINE) report(token, { text: `${quote(word)} is not a known word; ${cure}` });
    } else if (!strange) {
      // A sentence without its dashes: one message says it for all its words, and far guesses would mislead.
      report(token, {
        text: `${quote(word)} is not a known ${isA(token, 'Word') ? 'word' : 'sign'}; write a note after --`,
      });
      strange = true;
    }
    reported += 1;
    return meant ? [repaired(token, meant)] : [];
  });
}

/** Index of the `pace` that an `@` at `from - 1` leads to, as in `@ 90% of own 200 fly pace`; -1 when it leads to none. */
function paceAfter(tokens: readonly IToken[], from: number): number {
  let i = from;
  while (isA(tokens[i], 'Number', 'Percent', 'Of', 'Own', 'Stroke', 'RacePart', 'BackHalf')) i += 1;
  return i > from && isA(tokens[i], 'Pace') ? i : -1;
}

/** `@ 200 pace` and `@ max` are meant as `at`. */
function withAtForEfforts(tokens: readonly IToken[], source: string, report: Report): IToken[] {
  return tokens.map((token, i) => {
    if (!isA(token, 'At')) return token;
    const next = tokens[i + 1];
    const pace = tokens[paceAfter(tokens, i + 1)];
    if (!next || !(pace || isA(next, 'Feel', 'Best', 'Descend', 'Threshold'))) return token;
    const fix = pace ? `at ${source.slice(next.startOffset, endOf(pace)).replace(/\s+/g, ' ')}` : next.image;
    const end = pace ?? next;
    report(token, { text: `@ is for send-offs; write ${fix}`, fix, replace: { to: end, insert: fix } });
    return {
      ...token,
      image: 'at',
      tokenType: tokenType('Toward'),
      tokenTypeIdx: tokenType('Toward').tokenTypeIdx ?? 0,
    };
  });
}

/**
 * Reports the slips that are known by their look, and mends them so that the rest of the line can still be read.
 * @returns the mended tokens; `mended` is false when a word had to be guessed or left out, so that a line that
 * then cannot be read is not worth another message
 */
export function mendSlips(
  tokens: readonly IToken[],
  source: string,
  report: Report,
): { tokens: IToken[]; guessed: boolean } {
  const known = withKnownWords(tokens, report);
  return {
    tokens: withAtForEfforts(known, source, report),
    guessed: tokens.some((token) => isA(token, 'Word', 'Other')),
  };
}
