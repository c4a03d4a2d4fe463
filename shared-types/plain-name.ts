import { z } from 'zod';

/**
 * What never belongs into a name: control signs (a terminal obeys them), those that turn the reading direction (UAX #9,
 * explicit directional formatting), signs without width that make two names look like one (UTS #39, 4), tags, and halves of
 * a pair. Joiners are looked at by themselves.
 */
const NEVER =
  /[\p{Cc}\p{Cs}\p{Zl}\p{Zp}\u00ad\u061c\u180e\u200b\u200e\u200f\u202a-\u202e\u2060-\u206f\ufeff\u{e0000}-\u{e007f}]/gu;

/** Control signs between words part them, as a line break in a cell does. */
const PARTING = /[\t\n\v\f\r\u0085\u2028\u2029]+/g;

/** Joiners (U+200C, U+200D) mean something between letters of joined scripts and between pictures, nowhere else. */
const JOINED = String.raw`[\p{Script=Arabic}\p{Script=Syriac}\p{Script=Mongolian}\p{Script=Devanagari}\p{Script=Bengali}\p{Script=Gurmukhi}\p{Script=Gujarati}\p{Script=Oriya}\p{Script=Tamil}\p{Script=Telugu}\p{Script=Kannada}\p{Script=Malayalam}\p{Script=Sinhala}\p{Extended_Pictographic}\p{Emoji_Modifier}\ufe0f\p{M}]`;
const LOOSE_JOINERS = new RegExp(`(?<!${JOINED})[\\u200c\\u200d]|[\\u200c\\u200d](?!${JOINED})`, 'gu');

/** Marks on one letter. Vietnamese composed takes one, pointed Hebrew three; what has more is there to paint over others. */
const MOST_MARKS = 4;
const TOO_MANY_MARKS = new RegExp(`(\\p{M}{${MOST_MARKS}})\\p{M}+`, 'gu');

/** A name as it is kept: composed (UAX #15, NFC), single spaces, and nothing in it that is not seen or paints over others. */
export const asName = (text: string): string =>
  text
    .replace(PARTING, ' ')
    .replace(NEVER, '')
    .normalize('NFC')
    .replace(TOO_MANY_MARKS, '$1')
    .replace(LOOSE_JOINERS, '')
    .replace(/\s+/g, ' ')
    .trim();

/** A name of 1 to so many UTF-16 code units, cleaned before it is counted. */
export const nameSchema = (longest: number) => z.string().transform(asName).pipe(z.string().min(1).max(longest));
