import type { JudgedCompound } from "../../results/results.js";
import { severity, verdictsWorstFirst } from "./verdict.js";

/** Smallest distance of any use temperature from the glassy border, in K; +∞ without a verdict. */
function smallestMargin_K(compound: JudgedCompound): number {
  return Math.min(
    Number.POSITIVE_INFINITY,
    ...compound.outlooks.map((outlook) => outlook.cold?.marginToGlassy_K ?? Number.POSITIVE_INFINITY),
  );
}

/**
 * Indices of the compounds, worst first: more uses glassy, then more uses in each better state, then the
 * smaller margin to the glassy border, then the name. A use without a verdict counts as one that could be
 * glassy, so a compound of which nothing is known stands above the rubbery ones.
 */
export function worstFirst(compounds: JudgedCompound[]): number[] {
  const counts = compounds.map((compound) => {
    const count = new Array<number>(verdictsWorstFirst.length).fill(0);
    for (const outlook of compound.outlooks) count[severity(outlook.cold?.verdict ?? null)]++;
    return count;
  });
  const margins = compounds.map(smallestMargin_K);
  return compounds
    .map((_, index) => index)
    .sort((a, b) => {
      for (let rank = 0; rank < verdictsWorstFirst.length; rank++) {
        if (counts[a][rank] !== counts[b][rank]) return counts[b][rank] - counts[a][rank];
      }
      if (margins[a] !== margins[b]) return margins[a] < margins[b] ? -1 : 1;
      return compounds[a].name < compounds[b].name ? -1 : 1;
    });
}
