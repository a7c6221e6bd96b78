/** A maximum of a sampled curve. */
export interface ProminentMaximum {
  index: number;
  /** Height above the higher of the two valleys that part it from higher ground or the edge. */
  prominence: number;
  /** Index of the higher of the two valleys and of the maximum, the smaller and the larger one. */
  from: number;
  to: number;
}

/**
 * Interior local maxima of `y` with at least `least` prominence, most prominent first.
 * @param y ordinates in order; `least` in their unit
 */
export function prominentMaxima(y: ArrayLike<number>, least: number): ProminentMaximum[] {
  const found: ProminentMaximum[] = [];
  for (let i = 1; i < y.length - 1; i++) {
    if (!(y[i] > y[i - 1] && y[i] >= y[i + 1])) continue;
    const before = valley(y, i, -1);
    const after = valley(y, i, 1);
    const higher = y[before] > y[after] ? before : after;
    const prominence = y[i] - y[higher];
    if (prominence < least) continue;
    found.push({ index: i, prominence, from: Math.min(higher, i), to: Math.max(higher, i) });
  }
  return found.sort((a, b) => b.prominence - a.prominence || a.index - b.index);
}

/** Where the curve is lowest before it climbs above its value at `from`. */
function valley(y: ArrayLike<number>, from: number, step: 1 | -1): number {
  let lowest = from;
  for (let i = from + step; i >= 0 && i < y.length; i += step) {
    if (y[i] > y[from]) break;
    if (y[i] < y[lowest]) lowest = i;
  }
  return lowest;
}
