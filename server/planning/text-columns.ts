import { lettersOf } from '../../shared-types/letters.ts';

/** Text laid out in the columns of a terminal or of a page printed in a fixed-width type. */

/** What fits across a printed page. */
export const PAGE_COLUMNS = 100;

/** Letters that take two columns: East Asian ones and pictures. */
const WIDE =
  /^(?:[\p{Script=Han}\p{Script=Hiragana}\p{Script=Katakana}\p{Script=Hangul}\u3000-\u303f\uff01-\uff60\uffe0-\uffe6]|\p{Emoji_Presentation}|.*\ufe0f)/u;
/** Latin letters, punctuation and arrows, each one column wide: nearly every text. */
const PLAIN = /^[\u0020-\u007e\u00a0-\u02ff\u2010-\u2027\u2190-\u21ff]*$/;

const letterColumns = (letter: string): number => (WIDE.test(letter) ? 2 : 1);

/** How many columns a text takes. */
export function columnsOf(text: string): number {
  if (PLAIN.test(text)) return text.length;
  return lettersOf(text).reduce((columns, letter) => columns + letterColumns(letter), 0);
}

/** Filled up with spaces to `columns`, at the end or, with `end`, at the start. */
export function padded(text: string, columns: number, at: 'start' | 'end' = 'end'): string {
  const space = ' '.repeat(Math.max(0, columns - columnsOf(text)));
  return at === 'end' ? text + space : space + text;
}

/** Keeps a word to `columns`, its end replaced by … where it has more. */
export function shortened(text: string, columns: number): string {
  if (columnsOf(text) <= columns) return text;
  let kept = '';
  let left = columns - 1;
  for (const letter of lettersOf(text)) {
    left -= letterColumns(letter);
    if (left < 0) break;
    kept += letter;
  }
  return `${kept}…`;
}

/** So many UTF-16 code units of a text at most, cut between letters as people see them (UAX #29, grapheme clusters). */
export function cutAt(text: string, longest: number): string {
  if (text.length <= longest) return text;
  let kept = '';
  for (const letter of lettersOf(text)) {
    if (kept.length + letter.length > longest) break;
    kept += letter;
  }
  return kept;
}

/** A space at which a line is never broken. */
export const NO_BREAK = '\u00a0';

/** What somebody wrote, on one line and without anything a printer could take for an instruction. */
export const onOneLine = (text: string): string =>
  text.replace(/[\s\p{Cc}\u200e\u200f\u202a-\u202e\u2066-\u2069]+/gu, ' ').trim();

/**
 * Fills lines of at most `columns` with pieces, one space apart. A piece that fits a line is never broken; a longer one
 * is, at its spaces, and goes on `hang` columns further in; a single word that is too long even then is shortened.
 */
export function flow(pieces: readonly string[], columns: number, hang = 0): string[] {
  const lines: string[] = [];
  for (const piece of pieces) {
    const longer = lines.length > 0 ? `${lines.at(-1)} ${piece}` : piece;
    if (lines.length > 0 && columnsOf(longer) <= columns) lines.splice(-1, 1, longer);
    else lines.push(...broken(piece, columns, hang));
  }
  return lines.map((line) => line.replaceAll(NO_BREAK, ' '));
}

function broken(piece: string, columns: number, hang: number): string[] {
  if (columnsOf(piece) <= columns) return [piece];
  const [first = '', ...words] = piece.split(' ').map((word) => shortened(word, columns - hang));
  const lines = [first];
  for (const word of words) {
    const longer = `${lines.at(-1)} ${word}`;
    if (columnsOf(longer) <= columns) lines.splice(-1, 1, longer);
    else lines.push(' '.repeat(hang) + word);
  }
  return lines;
}

/** The pieces with a comma after each but the last. */
export const listed = (pieces: readonly string[]): string[] =>
  pieces.map((piece, place) => (place < pieces.length - 1 ? `${piece},` : piece));

/** Cells side by side, two spaces apart; each is a column of lines, padded to its width. */
export function sideBySide(cells: readonly (readonly string[])[], widths: readonly number[]): string[] {
  const height = Math.max(...cells.map((lines) => lines.length));
  return Array.from({ length: height }, (_, row) =>
    cells
      .map((lines, place) => padded(lines[row] ?? '', widths[place] ?? 0))
      .join('  ')
      .trimEnd(),
  );
}
