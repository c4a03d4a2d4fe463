import type { IToken } from 'chevrotain';
import { LIMITS, type Who } from '../../../shared-types/practice.ts';
import { endOf, isA } from './lexer.ts';
import { quote, type Report } from './report.ts';

/** A line that says whom the lines below it are for; `broken` has been reported. */
export type Head = Who | 'broken';

const isLetter = (token: IToken | undefined): token is IToken => token !== undefined && /^[a-z]$/i.test(token.image);
const joins = (token: IToken | undefined): boolean => isA(token, 'Comma', 'And', 'Plus') || token?.image === '&';

/** `A`, `B, C`, `group B and C`. @returns the letters, or null when the tokens are anything else */
function lettersOf(tokens: readonly IToken[]): string[] | null {
  const list = isA(tokens[0], 'Group') ? tokens.slice(1) : tokens;
  const fits = list.every((token, i) => (i % 2 === 0 ? isLetter(token) : joins(token)));
  if (!fits || list.length % 2 === 0) return null;
  return [...new Set(list.filter((_, i) => i % 2 === 0).map((token) => token.image.toUpperCase()))];
}

function readGroups(tokens: readonly IToken[], colon: IToken | undefined, source: string, report: Report): Head | null {
  const [first] = tokens;
  const last = tokens.at(-1);
  const letters = lettersOf(tokens);
  if (!first || !last) return null;
  if (letters && colon) return { kind: 'groups', groups: letters };
  const written = source.slice(first.startOffset, endOf(last));
  if (letters) {
    report(first, {
      text: `lines for a group come below its letter and a colon; write ${written}:`,
      fix: `${written}:`,
    });
    return 'broken';
  }
  const inner = tokens.findIndex((token) => isA(token, 'Colon'));
  const next = tokens[inner + 1];
  if (inner > 0 && next && lettersOf(tokens.slice(0, inner))) {
    report(next, {
      text: `write what ${quote(source.slice(first.startOffset, next.startOffset))} is for on the lines below it, indented`,
    });
    return 'broken';
  }
  if (isA(first, 'Group') && isA(tokens[1], 'Number')) {
    report(first, { text: 'groups go by letters, A the fastest; write A: or lane 1:' });
    return 'broken';
  }
  return null;
}

function laneOf(token: IToken, report: Report): number | null {
  const lane = Number(token.image);
  if (Number.isInteger(lane) && lane >= 1 && lane <= LIMITS.lanes) return lane;
  const code = lane > LIMITS.lanes ? 'too-much' : 'unreadable';
  report(token, { code, text: `${quote(token.image)} is not a lane; lanes go from 1 to ${LIMITS.lanes}` });
  return null;
}

function readLanes(tokens: readonly IToken[], colon: IToken | undefined, report: Report): Head | null {
  const [lane, first, dash, last, ...more] = tokens;
  if (!isA(lane, 'Lane') || !first || !isA(first, 'Number')) return null;
  const wrong = dash && !isA(dash, 'Dash', 'To') ? dash : dash && !isA(last, 'Number') ? (last ?? dash) : more[0];
  if (wrong) {
    report(wrong, { text: `${quote(wrong.image)} cannot be read here; write lanes like "lanes 1-2:" or "lane 3:"` });
    return 'broken';
  }
  if (!colon) {
    report(last ?? first, { text: 'lines for some lanes come below a head with a colon; write it like "lanes 1-2:"' });
    return 'broken';
  }
  const [from, to] = [laneOf(first, report), last ? laneOf(last, report) : null];
  if (from === null || (last && to === null)) return 'broken';
  if (to === null || from <= to) return { kind: 'lanes', from, to: to ?? from };
  const fix = `lanes ${to}-${from}:`;
  report(first, { text: `the lanes are the wrong way round; write ${fix}`, fix });
  return 'broken';
}

/**
 * Reads `A:`, `B, C:`, `lanes 1-2:`, `lane 3:`.
 * @param tokens the line without its closing colon and note
 * @returns null when the line is no head and not meant as one
 */
export const readHead = (
  tokens: readonly IToken[],
  colon: IToken | undefined,
  source: string,
  report: Report,
): Head | null => readGroups(tokens, colon, source, report) ?? readLanes(tokens, colon, report);
