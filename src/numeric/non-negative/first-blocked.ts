/**
 * On the way from x to the unconstrained solution of the indices in use: the share of it that x ≥ 0 lets be gone, and the
 * index that stands in the way there.
 * @param solution x, and `trial`, the unconstrained solution, each by index
 * @returns null where nothing stands in the way
 */
export function firstBlocked(
  inUse: ArrayLike<number>,
  solution: Float64Array,
  trial: Float64Array,
): { fraction: number; blocking: number } | null {
  let fraction = 1;
  let blocking = -1;
  for (let a = 0; a < inUse.length; a++) {
    const j = inUse[a];
    if (trial[j] > 0) continue;
    const reach = solution[j] / (solution[j] - trial[j]);
    if (reach < fraction || blocking < 0) {
      fraction = Math.min(reach, 1);
      blocking = j;
    }
  }
  return blocking < 0 ? null : { fraction, blocking };
}
