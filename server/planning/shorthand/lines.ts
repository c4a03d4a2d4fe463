import { LIMITS } from '../../../shared-types/practice.ts';
import type { Messages } from './report.ts';

/** Bytes of a text in UTF-8. */
function utf8Length(text: string): number {
  let bytes = 0;
  for (let i = 0; i < text.length; i += 1) {
    const unit = text.charCodeAt(i);
    // Half of a surrogate pair counts 2: together they are the 4 bytes of one character.
    if (unit < 0x80) bytes += 1;
    else if (unit < 0x800 || (unit >= 0xd800 && unit < 0xe000)) bytes += 2;
    else bytes += 3;
  }
  return bytes;
}

/** The lines of a text, whichever way they end; an empty last one is not counted. */
export function linesOf(text: string): string[] {
  const lines = text.split(/\r\n?|\n/);
  if (lines.at(-1) === '') lines.pop();
  return lines;
}

/**
 * Splits a text into lines, unless it is too big to be read.
 * @returns null when it is; then it has been reported
 */
export function linesWithinLimits(text: string, messages: Messages): string[] | null {
  const refuse = (line: number, column: number, problem: string): null => {
    messages.onLine(line)(column, { code: 'too-much', text: problem });
    return null;
  };
  if (text.length > LIMITS.bytes || utf8Length(text) > LIMITS.bytes) {
    return refuse(1, 1, `the practice is longer than ${LIMITS.bytes / 1024} KB; split it into two`);
  }
  const lines = linesOf(text);
  if (lines.length > LIMITS.lines) {
    return refuse(
      LIMITS.lines + 1,
      1,
      `${lines.length} lines; at most ${LIMITS.lines}, so split the practice into two`,
    );
  }
  const long = lines.flatMap((line, i) => (line.length > LIMITS.lineLength ? [i + 1] : []));
  for (const line of long) {
    refuse(line, LIMITS.lineLength + 1, `this line is longer than ${LIMITS.lineLength} characters; split it`);
  }
  return long.length > 0 ? null : lines;
}

/** Columns between tab stops when measuring how far a line is indented. */
const TAB = 4;

/** How far a line is indented, in columns: a tab reaches to the next multiple of four, any other space counts one. */
export function indentOf(line: string): number {
  let columns = 0;
  for (const char of line) {
    // Some editors put this mark before the first character of a file.
    if (char === '\ufeff') continue;
    if (char === '\t') columns += TAB - (columns % TAB);
    else if (/\s/.test(char)) columns += 1;
    else break;
  }
  return columns;
}
