/** Letters that are written from right to left (Unicode, DerivedBidiClass: the blocks whose default is R or AL). */
const RIGHT_TO_LEFT = /[\u0590-\u08FF\uFB1D-\uFDFF\uFE70-\uFEFC\u{10800}-\u{10FFF}\u{1E800}-\u{1EFFF}]/u;
/** Signs that turn what comes after them, until others end that (UAX #9, 2). */
const TURNING = /[\u200F\u061C\u202A-\u202E\u2066-\u2069]/u;
const ISOLATES = /[\u2066-\u2069]/g;
/** FIRST STRONG ISOLATE and POP DIRECTIONAL ISOLATE: what stands between has a direction of its own. */
const [BEGIN, END] = ['\u2068', '\u2069'];

/**
 * A name as it stands within a sentence of ours: written from right to left, it would take figures and signs beside it
 * along, and one that turns what comes after it would turn our words. Others stay as they are.
 */
export const isolated = (name: string): string =>
  RIGHT_TO_LEFT.test(name) || TURNING.test(name) ? `${BEGIN}${name.replace(ISOLATES, '')}${END}` : name;

const WITHIN_ISOLATES = /\u2068[^\u2069]*\u2069?/g;
const LETTER = /\p{L}/u;

/** Which way a text runs: as its first letter does (UAX #9, P2 and P3), those in isolates apart. */
export function directionOf(text: string): 'ltr' | 'rtl' {
  const first = LETTER.exec(text.replace(WITHIN_ISOLATES, ''))?.[0] ?? '';
  return RIGHT_TO_LEFT.test(first) ? 'rtl' : 'ltr';
}
