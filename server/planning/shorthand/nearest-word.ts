const MOST_EDITS = 2;

/**
 * Edits between two words: letters put in, left out, changed, or two neighbours swapped (optimal string alignment).
 * Short words only: time grows with the product of the lengths.
 */
function edits(a: string, b: string): number {
  let [before, previous]: [number[], number[]] = [[], Array.from({ length: b.length + 1 }, (_, j) => j)];
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const changed = (previous[j - 1] ?? 0) + (a[i - 1] === b[j - 1] ? 0 : 1);
      const swapped =
        i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]
          ? (before[j - 2] ?? 0) + 1
          : Number.POSITIVE_INFINITY;
      row.push(Math.min(changed, swapped, (previous[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1));
    }
    [before, previous] = [previous, row];
  }
  return previous[b.length] ?? 0;
}

/**
 * The known word that `word` is most likely a slip of, at most `most` edits away (one in a word of three letters,
 * none below that); of equals the longer, then the earlier. Case does not matter.
 */
export function nearestWord(word: string, known: readonly string[], most = MOST_EDITS): string | null {
  const wanted = word.toLowerCase();
  const limit = Math.min(most, wanted.length - 2);
  let best: { word: string; edits: number } | null = null;
  for (const candidate of known) {
    if (Math.abs(candidate.length - wanted.length) > limit) continue;
    const distance = edits(wanted, candidate.toLowerCase());
    if (distance > limit) continue;
    const better = !best || distance < best.edits || (distance === best.edits && candidate.length > best.word.length);
    if (better) best = { word: candidate, edits: distance };
  }
  return best?.word ?? null;
}
