/** Letters with all that is set on them, where the browser cannot tell: no pair of halves is taken apart. */
const ROUGHLY = /\P{M}?(?:\p{M}|\p{Emoji_Modifier}|\u200D\P{M}?)+|\P{M}/gsu;

const segmenter = 'Segmenter' in Intl ? new Intl.Segmenter('en', { granularity: 'grapheme' }) : null;

export const lettersRoughly = (text: string): string[] => text.match(ROUGHLY) ?? [];

/** A text letter by letter, with what is set on each: extended grapheme clusters (UAX #29). */
export const lettersOf = (text: string): string[] =>
  segmenter ? Array.from(segmenter.segment(text), ({ segment }) => segment) : lettersRoughly(text);
