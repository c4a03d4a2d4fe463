import type { IToken } from 'chevrotain';
import type { Ms } from '../../../shared-types/brand.ts';
import { LIMITS, type PerGroup } from '../../../shared-types/practice.ts';
import { formatClock, parseClock, parseSwimTime } from '../../../shared-types/time.ts';
import { isA } from './lexer.ts';
import { type Problem, quote, type Report } from './report.ts';

const notATime = (token: IToken, cure: string, fix?: string): Problem => ({
  text: `${quote(token.image)} is not a time; ${cure}`,
  fix,
  replace: fix === undefined ? undefined : { insert: fix },
});

/** `1;30`, `1'30"`, `1.30`: minutes and seconds with the wrong sign between them. */
function wrongSign(token: IToken): Problem {
  const [, minutes = '', seconds = ''] = /^(\d+)\D(\d+)/.exec(token.image) ?? [];
  const meant = `${minutes}:${seconds}`;
  return parseClock(meant) === null
    ? notATime(token, 'write minutes and seconds with a colon, like 1:30')
    : notATime(token, `write ${meant}`, meant);
}

/** `90`, `20`, `130`: minutes or seconds? */
function bareNumber(token: IToken): Problem {
  const digits = token.image;
  if (digits.includes('.')) return wrongSign(token);
  const seconds = Number(digits);
  if (digits.length > 4) return notATime(token, 'write it like 1:30, :45 or 45s');
  if (seconds < 10) return notATime(token, `write ${seconds}:00 for minutes or :0${seconds} for seconds`);
  const clock = formatClock(seconds * 1000);
  const glued = `${digits.slice(0, -2)}:${digits.slice(-2)}`;
  // 130 is more often 1:30 than 2:10, so neither is offered as the one correction.
  if (seconds >= 100 && parseClock(glued) !== null)
    return notATime(token, `write ${glued}, or ${seconds}s for ${clock}`);
  return notATime(token, `write ${clock} or ${seconds}s`, clock);
}

function unreadableClock(token: IToken): Problem {
  const parts = token.image.split(':');
  const [first = '', last = ''] = [parts[0], parts[1]];
  if (parts.length === 3) {
    const minutes = Number(first) * 60 + Number(last);
    const meant = `${minutes}:${parts[2]}`;
    if (parseClock(meant) !== null) return notATime(token, `write the hours as minutes: ${meant}`, meant);
  }
  if (parts.length > 2) return notATime(token, 'write it like 1:30, :45 or 45s');
  if (/\.\d{3}/.test(last)) return notATime(token, 'write at most two digits after the point');
  if (/^\d(?:\.|$)/.test(last)) return notATime(token, 'write the seconds with two digits, like 1:05');
  const seconds = Number(first) * 60 + Number(last);
  if (!/^\d\d$/.test(last) || seconds >= 60_000) return notATime(token, 'write it like 1:30, :45 or 45s');
  const meant = formatClock(seconds * 1000);
  return parseClock(meant) === null
    ? notATime(token, 'seconds go up to 59')
    : notATime(token, `seconds go up to 59; write ${meant}`, meant);
}

/** @returns null when the text is no time in any form; then it has been reported */
function timeOrReport(token: IToken, value: Ms | null, report: Report): Ms | null {
  if (value !== null) return value;
  if (isA(token, 'SlippedTime')) report(token, wrongSign(token));
  else if (isA(token, 'Time')) report(token, unreadableClock(token));
  else report(token, notATime(token, 'write at most four digits, and two after the point'));
  return null;
}

/**
 * A send-off, rest or gap: `1:30`, `:45`, `45s`. Bare numbers are refused, for `90` and `1.30` can be read two ways.
 * @param zero whether a time of 0 makes sense here
 */
export function readTime(token: IToken, report: Report, zero: 'zero allowed' | 'longer than 0'): Ms | null {
  if (isA(token, 'Number')) {
    report(token, bareNumber(token));
    return null;
  }
  const image = token.image.toLowerCase();
  const value = timeOrReport(token, isA(token, 'Seconds') ? parseSwimTime(image) : parseClock(image), report);
  if (value === 0 && zero === 'longer than 0') {
    report(token, { text: `${quote(token.image)} is no time at all; write a time longer than 0` });
    return null;
  }
  return value;
}

/** Faster than anybody covers the shortest stretch that is timed; `1.30` is then a slip for 1:30. */
const SHORTEST_SWIM_MS = 5000;

/** A time to hold: what {@link readTime} reads, and plain seconds `31.5`. */
export function readSwimTime(token: IToken, report: Report): Ms | null {
  const value = timeOrReport(token, parseSwimTime(token.image.toLowerCase()), report);
  if (value === null || value >= SHORTEST_SWIM_MS) return value;
  const slip = isA(token, 'Number') && /^\d+\.\d\d$/.test(token.image) ? wrongSign(token) : null;
  report(
    token,
    slip?.fix ? slip : { text: `${quote(token.image)} is too short a time to hold; write it like 31.5 or 1:05` },
  );
  return null;
}

/** Applies `read` to each entry of a slash list, A first. @returns null when any entry is wrong or there are too many */
export function readPerGroup<T>(
  tokens: readonly IToken[],
  read: (token: IToken) => T | null,
  report: Report,
): PerGroup<T> | null {
  const surplus = tokens[LIMITS.lanes];
  if (surplus) {
    report(surplus, { code: 'too-much', text: `${tokens.length} pace groups; at most ${LIMITS.lanes}, one a lane` });
    return null;
  }
  const values: T[] = [];
  for (const token of tokens) {
    const value = read(token);
    if (value !== null) values.push(value);
  }
  const [first, ...others] = values;
  return first === undefined || values.length < tokens.length ? null : [first, ...others];
}
