import leven from "leven";

/** The candidate fewest edits away from `word`, whatever its capitals; null where none is near enough to be meant. */
export function nearestOf(word: string, candidates: readonly string[]): string | null {
  const edits = candidates.map((candidate) => leven(word.toLowerCase(), candidate.toLowerCase()));
  const fewest = Math.min(...edits);
  return fewest <= Math.max(2, Math.floor(word.length / 2)) ? candidates[edits.indexOf(fewest)] : null;
}

/** The end of a message on a name that is not among the candidates: `; did you mean "Birch 60"?`, or a full stop. */
export function didYouMean(word: string, candidates: readonly string[]): string {
  const nearest = nearestOf(word, candidates);
  return nearest === null ? "." : `; did you mean "${nearest}"?`;
}
