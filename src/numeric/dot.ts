/**
 * Σ a b over `length` numbers from two places. Four partial sums, so that one addition need not wait for the one before: this is the
 * inner loop of every factor.
 */
export function dot(
  a: Float64Array,
  aStart: number,
  b: Float64Array,
  bStart: number,
  length: number,
): number {
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let i = 0;
  for (; i + 3 < length; i += 4) {
    s0 += a[aStart + i] * b[bStart + i];
    s1 += a[aStart + i + 1] * b[bStart + i + 1];
    s2 += a[aStart + i + 2] * b[bStart + i + 2];
    s3 += a[aStart + i + 3] * b[bStart + i + 3];
  }
  for (; i < length; i++) s0 += a[aStart + i] * b[bStart + i];
  return s0 + s1 + (s2 + s3);
}
