/** The candidate fewest edits away from `word`, or null where none is near enough to be meant. */
export function nearestOf(word: string, candidates: readonly string[]): string | null {
  let nearest: string | null = null;
  let least = Math.max(2, Math.floor(word.length / 2)) + 1;
  for (const candidate of candidates) {
    const edits = editDistance(word.toLowerCase(), candidate.toLowerCase());
    if (edits < least) {
      least = edits;
      nearest = candidate;
    }
  }
  return nearest;
}

/** The end of a message on a name that is not among the candidates: `; did you mean "Birch 60"?`, or a full stop. */
export function didYouMean(word: string, candidates: readonly string[]): string {
  const nearest = nearestOf(word, candidates);
  return nearest === null ? "." : `; did you mean "${nearest}"?`;
}

/** Levenshtein distance: insertions, deletions and replacements that turn a into b. */
function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      next.push(Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1)));
    }
    row = next;
  }
  return row[b.length];
}
