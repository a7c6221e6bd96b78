const golden = (Math.sqrt(5) - 1) / 2;

/**
 * Where a function is least: the best of evenly spaced places, the middle one where others are no better, then golden
 * section between its neighbours (Kiefer, Proc. Am. Math. Soc. 4, 502, 1953).
 * @param steps how many, an even number: steps + 1 places from `low` to `high`
 * @param tolerance width of the interval at which the section ends, whose middle is returned
 */
export function leastOver(
  value: (x: number) => number,
  low: number,
  high: number,
  steps: number,
  tolerance: number,
): number {
  const place = (i: number) => low + ((high - low) * i) / steps;
  let best = steps / 2;
  let least = value(place(best));
  for (let i = 0; i <= steps; i++) {
    const here = value(place(i));
    if (here < least) [best, least] = [i, here];
  }
  return leastBetween(value, place(Math.max(0, best - 1)), place(Math.min(steps, best + 1)), tolerance);
}

/** Golden section alone, of a function that falls and then rises from `low` to `high`. */
export function leastBetween(
  value: (x: number) => number,
  low: number,
  high: number,
  tolerance: number,
): number {
  let left = high - golden * (high - low);
  let right = low + golden * (high - low);
  let atLeft = value(left);
  let atRight = value(right);
  for (;;) {
    const isLower = atLeft < atRight;
    if (isLower) high = right;
    else low = left;
    if (high - low <= tolerance) return (low + high) / 2;
    if (isLower) {
      [right, atRight] = [left, atLeft];
      left = high - golden * (high - low);
      atLeft = value(left);
    } else {
      [left, atLeft] = [right, atRight];
      right = low + golden * (high - low);
      atRight = value(right);
    }
  }
}
