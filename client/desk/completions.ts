import { STYLES } from '../../shared-types/practice.ts';
import { TOKENS, type TokenName } from '../../shared-types/tokens.ts';
import type { SendOffOption } from '../../shared-types/wire/desk.ts';
import { headingOf } from './shorthand-tokens.ts';

/** A word that could be written, and what it means where that has to be said. */
export interface Offered {
  readonly label: string;
  readonly detail?: string;
}

export interface Completions {
  /** Where in the line the word begins that it would take the place of. */
  readonly from: number;
  readonly options: readonly Offered[];
}

/** Where the cursor stands. */
export interface Cursor {
  /** The line up to the cursor. */
  readonly before: string;
  /** The line above it; null on the first. */
  readonly above: string | null;
  /** What the line could have after its @. */
  readonly sendOffs: readonly Pick<SendOffOption, 'sendOffs' | 'restMs'>[];
}

/** The usual spelling of each word of a token; of strokes the four and IM. */
const wordsOf = (name: TokenName, most = Number.POSITIVE_INFINITY): readonly string[] => {
  const token = TOKENS.find((one) => one.name === name);
  return token && 'words' in token ? (token.words?.slice(0, most) ?? []) : [];
};

const STROKES = [...wordsOf('Stroke', 5), ...wordsOf('Choice'), ...wordsOf('Own')];
const ACTIVITIES = wordsOf('Activity').filter((word) => word !== 'swim');
const EFFORTS = [...wordsOf('Feel'), 'best average', 'descend'];
const PACES = ['100 pace', '200 pace', '400 pace', 'threshold'];
const EQUIPMENT = [...wordsOf('Equipment'), ...wordsOf('Pulley')];

const plain = (words: readonly string[]): Offered[] => words.map((label) => ({ label }));

/** Places at which only some words make sense, each with the word that is begun there; the first that fits counts. */
const PLACES: readonly { readonly at: RegExp; readonly words: readonly string[] }[] = [
  { at: /\bwith\s+(?:[^+@]*\+\s*)?(\p{L}*)$/iu, words: EQUIPMENT },
  { at: /\bfrom\s+(\p{L}*)$/iu, words: ['a dive', 'the blocks'] },
  { at: /\bat\s+(\p{L}*)$/iu, words: PACES },
  { at: /\bat\s+\d+\s+(\p{L}*)$/iu, words: ['pace'] },
  { at: /\bon\s+(\p{L}*)$/iu, words: ['go', 'go by heat'] },
];

/** A send-off that is being written, up to the cursor. */
const SEND_OFF = /@\s*([\d:/]*)$/;

/**
 * Whether a send-off is being written there: then it has to be asked for what it could be.
 * @param before the line up to the cursor
 */
export const isSendOff = (before: string): boolean => SEND_OFF.test(before) && !NOTE.test(before);

/**
 * The practice as it could be swum without the send-off that is being written: with it, half-written, it has no sheet.
 * @param cursor how many characters stand before it
 */
export function withoutSendOff(text: string, cursor: number): string {
  const before = text.slice(0, cursor).replace(SEND_OFF, 'on go');
  const after = text.slice(cursor).replace(/^[\d:/]*/, '');
  return `${before}${after}`;
}

const NOTE = /--|\u2014/;
const SET = /^\s*(?:\d+(?:\/\d+)*\s*[x\u00d7*]\s*)?(?:\d+|\d*:\d\d)\s+/i;
const WORD = /\p{L}*$/u;

/**
 * What could be written next, where the shorthand allows it; null where it says nothing.
 * @param isAsked the coach has asked for it, so that also nothing begun is gone on with
 */
export function completionsAt({ before, above, sendOffs }: Cursor, isAsked: boolean): Completions | null {
  if (NOTE.test(before)) return null;
  const found = sectionStyles(before, above) ?? afterAt(before, sendOffs) ?? placed(before) ?? anywhere(before);
  if (!found || found.options.length === 0) return null;
  const begun = before.slice(found.from);
  return isAsked || begun !== '' || /@\s*$/.test(before) ? found : null;
}

/** After a section's name and its colon: what it is for. */
function sectionStyles(before: string, above: string | null): Completions | null {
  const match = /^(\p{L}[^:]*):\s*([\p{L} -]*)$/u.exec(before);
  const isGroups = /^(?:[A-Z](?:\s*,\s*[A-Z])*|lanes?\b.*|groups?\b.*)$/.test(match?.[1] ?? '');
  if (!match || isGroups || headingOf(`${match[1]}`, above) !== 'section') return null;
  return { from: before.length - (match[2] ?? '').length, options: plain(STYLES) };
}

function afterAt(before: string, sendOffs: Cursor['sendOffs']): Completions | null {
  const match = SEND_OFF.exec(before);
  if (!match) return null;
  const options = sendOffs.map(({ sendOffs: label, restMs }) => ({
    label,
    detail: `at least ${restMs / 1000} s of rest`,
  }));
  return { from: before.length - (match[1] ?? '').length, options };
}

function placed(before: string): Completions | null {
  for (const { at, words } of PLACES) {
    const match = at.exec(before);
    if (match) return { from: before.length - (match[1] ?? '').length, options: plain(words) };
  }
  return null;
}

/** In a set whatever it does not have yet; at the start of a line what stands alone. */
function anywhere(before: string): Completions | null {
  const from = before.length - (WORD.exec(before)?.[0] ?? '').length;
  const written = before.slice(0, from);
  if (written.trim() === '') return { from, options: plain(['wait', 'together']) };
  if (!SET.test(written) || written.includes('@')) return null;
  const has = (words: readonly string[]): boolean =>
    words.some((word) => new RegExp(`\\b${word}\\b`, 'i').test(written));
  return {
    from,
    options: plain([
      ...(has(wordsOf('Stroke')) || has(['choice', 'own']) ? [] : STROKES),
      ...(has(ACTIVITIES) ? [] : ACTIVITIES),
      ...(has([...wordsOf('Feel'), 'average', 'descend', 'pace', 'threshold']) ? [] : [...EFFORTS, 'at']),
      ...(has(['dive', 'blocks']) ? [] : ['from a dive']),
      ...(has(['with']) ? [] : ['with']),
      ...(has(['on', 'rest']) ? [] : ['on go', 'rest']),
    ]),
  };
}
