import { asName } from '../shared-types/plain-name.ts';
import { cutAt } from './planning/text-columns.ts';

const LONGEST_TITLE = 80;

/** What a practice is called: its `#` line, or else the first words of it. */
export function titleOf(text: string): string {
  const first = text.split(/\r?\n/).find((line) => line.trim() !== '') ?? '';
  const title = asName(first.replace(/^\s*#+/, ''));
  return title === '' ? 'Untitled practice' : cutAt(title, LONGEST_TITLE);
}
