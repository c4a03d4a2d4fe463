import { lettersOf } from '../../shared-types/letters.ts';

/** So many marks on a letter are drawn: Hebrew and Vietnamese, Thai and Burmese need no more. */
export const MOST_MARKS = 4;
const MARK = /[\p{Mn}\p{Me}]/gu;
const MANY_MARKS = new RegExp(`(?:[\\p{Mn}\\p{Me}][^]*?){${MOST_MARKS + 1}}`, 'u');
/** Controls, and the signs that turn what follows whatever it is (UAX #9, 2.1 and 2.2). */
const UNDRAWN = /[\p{Cc}\u202A-\u202E]/gu;
const HALVES = /\p{Cs}/gu;

function withFewMarks(letter: string): string {
  let marks = 0;
  return letter.replace(MARK, (mark) => {
    marks += 1;
    return marks <= MOST_MARKS ? mark : '';
  });
}

/** What is drawn of a text: no towers of marks, which would stand in the lanes above and below, and nothing unseen. */
export function drawnOf(text: string): string {
  const seen = text.replace(UNDRAWN, '').replace(HALVES, '\uFFFD');
  return MANY_MARKS.test(seen) ? lettersOf(seen).map(withFewMarks).join('') : seen;
}
