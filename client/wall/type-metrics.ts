import { lettersOf } from '../../shared-types/letters.ts';

/**
 * Measures of the wall's typeface, Atkinson Hyperlegible Next at weight 600, in ems: as a browser measures them.
 * Lighter weights run narrower, so a text never needs more than this.
 */
export const CAP_HEIGHT = 0.672;
/** Below the base line, e.g. the tail of a g. */
export const DESCENT = 0.22;
/** The same, in capitals. */
export const TAIL = DESCENT / CAP_HEIGHT;

export const FACE = 'Atkinson Hyperlegible Next Variable';
/** Scripts that the face has not are set in the browser's own sans serif. */
export const FACES = `"${FACE}", sans-serif`;
export const WEIGHT = 600;
export const QUIET_WEIGHT = 500;

/** Each at its widest: the letters as a browser measures them, rounded up. */
const BY_WIDTH: readonly (readonly [number, string])[] = [
  [0.26, ",.:;j|'"],
  [0.32, ' !il·`'],
  [0.38, '()[]{}"-frt'],
  [0.44, 'I1/\\_'],
  [0.5, '*syz'],
  [0.54, 'cvkx7?×–'],
  [0.56, 'JLaeu~éü'],
  [0.58, '29<>F^hnoøñ'],
  [0.6, '3+ETbdgpq'],
  [0.62, '56$=PSZß'],
  [0.64, '48BRVY'],
  [0.68, '0ACKX'],
  [0.72, 'DGHNU'],
  [0.76, '#&OQwØ…'],
  [0.78, '@'],
  [0.88, 'MWm—æ'],
  [0.96, '%Æ'],
];
const WIDTHS: ReadonlyMap<string, number> = new Map(
  BY_WIDTH.flatMap(([width, characters]) => [...characters].map((character) => [character, width] as const)),
);
/** For characters not in the table: wider than most. */
const UNKNOWN_WIDTH = 0.8;
/** A square and a little, for the scripts that are set in squares, and for pictures. */
const SQUARE_WIDTH = 1.05;
const SQUARE = /[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\uFF00-\uFFEF\u3000-\u303F]/u;
const PICTURE = /\p{Extended_Pictographic}/u;
/** Marks that stand over or under the letter before them, and joiners. */
const WITHOUT_WIDTH = /[\p{Mn}\p{Me}\p{Cf}]/u;
const MARKS = /\p{Mn}/gu;

function widthOf(character: string): number {
  const known = WIDTHS.get(character);
  if (known !== undefined) return known;
  if (WITHOUT_WIDTH.test(character)) return 0;
  if (SQUARE.test(character)) return SQUARE_WIDTH;
  if (PICTURE.test(character)) return SQUARE_WIDTH * 1.3;
  const bare = WIDTHS.get(character.normalize('NFD').replace(MARKS, ''));
  // An accent may be wider than its i.
  return bare === undefined ? UNKNOWN_WIDTH : Math.max(bare, 0.4);
}

/** What is drawn into the picture before it: another one joined to that, or the colour of its skin. */
const IN_ONE_PICTURE = /\u200D\p{Extended_Pictographic}|\p{Emoji_Modifier}/gu;

/** Width of running words in ems, a little on the wide side. */
export const wordsWidth = (text: string): number =>
  [...text.replace(IN_ONE_PICTURE, '')].reduce((sum, character) => sum + widthOf(character), 0);

/** The characters that figures are made of. */
export const FIGURE_CHARACTERS = '0123456789:./ ';
const DIGIT_CELL = 0.63;
const FIGURE_CELLS: ReadonlyMap<string, number> = new Map([
  [':', 0.29],
  ['.', 0.27],
  ['/', 0.42],
  [' ', 0.34],
]);

/** Width of a figure's cell, ems: all digits take the same, so that a running clock does not wobble. */
export const cellWidth = (character: string): number => FIGURE_CELLS.get(character) ?? DIGIT_CELL;

/** Width of figures set in fixed cells, ems. */
export const figuresWidth = (text: string): number =>
  [...text].reduce((sum, character) => sum + cellWidth(character), 0);

/** The em of writing whose capitals are `cap` high. */
export const emOf = (cap: number): number => cap / CAP_HEIGHT;

/** What has just been made to fit may be too wide by this share of a rounding. */
const ROUNDING = 1e-9;

/** `text`, cut to at most `width` at capitals of `cap` (same unit) with what says so at its end. */
function cutTo(text: string, width: number, cap: number, end: string): string {
  const room = width * (1 + ROUNDING);
  if (wordsWidth(text) * emOf(cap) <= room) return text;
  const letters = lettersOf(text);
  const cut = (): string => `${letters.join('').trimEnd()}${end}`;
  while (letters.length > 0 && wordsWidth(cut()) * emOf(cap) > room) letters.pop();
  return letters.length > 0 ? cut() : '';
}

/** `text`, cut with an ellipsis to at most `width` at capitals of `cap` (same unit). */
export const clipped = (text: string, width: number, cap: number): string => cutTo(text, width, cap, '…');

/** A name, abbreviated with a full stop to at most `width`: that leaves more letters of it than an ellipsis. */
export const abbreviated = (name: string, width: number, cap: number): string => cutTo(name, width, cap, '.');
