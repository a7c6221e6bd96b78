/** A maximum of a sampled curve. */
export interface ProminentMaximum {
  index: number;
  /** Height above the higher of the two valleys that part it from higher ground or the edge. */
  prominence: number;
}

/** Interior local maxima of `y` with at least `least` prominence, most prominent first. */
export function prominentMaxima(y: ArrayLike<number>, least: number): ProminentMaximum[] {
  const found: ProminentMaximum[] = [];
  for (let i = 1; i < y.length - 1; i++) {
    if (!(y[i] > y[i - 1] && y[i] >= y[i + 1])) continue;
    const prominence = y[i] - Math.max(valley(y, i, -1), valley(y, i, 1));
    if (prominence >= least) found.push({ index: i, prominence });
  }
  return found.sort((a, b) => b.prominence - a.prominence || a.index - b.index);
}

function valley(y: ArrayLike<number>, from: number, step: 1 | -1): number {
  let lowest = y[from];
  for (let i = from + step; i >= 0 && i < y.length; i += step) {
    if (y[i] > y[from]) break;
    if (y[i] < lowest) lowest = y[i];
  }
  return lowest;
}
