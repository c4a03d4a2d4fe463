/** The first half of a character whose other half has been cut off. */
const HALF = /[\uD800-\uDBFF]$/;

/** What a practice is called: its `#` line, else its first words. */
export function titleOf(text: string): string {
  const first = text.split('\n').find((line) => line.trim() !== '');
  const title = (first ?? '').replace(/^\s*#+/, '').trim();
  return title === '' ? 'Untitled practice' : title.slice(0, 80).replace(HALF, '');
}
