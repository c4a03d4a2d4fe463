const LONGEST_TITLE = 80;

/** What a practice is called: its `#` line, or else the first words of it. */
export function titleOf(text: string): string {
  const first = text.split(/\r?\n/).find((line) => line.trim() !== '') ?? '';
  const title = first.replace(/^\s*#+/, '').trim();
  return title === '' ? 'Untitled practice' : title.slice(0, LONGEST_TITLE);
}
