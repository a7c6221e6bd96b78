/**
 * Linear interpolation between order statistics (R type 7); `sorted` ascending and not empty.
 * @param probability 0 to 1
 */
export function quantile(sorted: ArrayLike<number>, probability: number): number {
  const at = probability * (sorted.length - 1);
  const below = Math.floor(at);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below] + (at - below) * (sorted[above] - sorted[below]);
}

/** Middle of some values in any order, not empty. */
export function median(values: Iterable<number>): number {
  return quantile(Float64Array.from(values).sort(), 0.5);
}
