import { seededRandom, seedFromText, type Random } from "./random.js";

/**
 * Standard normal deviates in mirrored pairs for what an instrument does to all alike: the same for every compound and
 * use, so that it cancels where two are compared.
 * @returns two columns of `count`, each of mean zero and (for an even count) mean square one
 */
export function instrumentScores(count: number): [Float64Array, Float64Array] {
  const random = seededRandom(seedFromText("instrument"));
  const half = Array.from({ length: Math.ceil(count / 2) }, () => [random.normal(), random.normal()]);
  const size = (k: number) => Math.sqrt(half.reduce((sum, z) => sum + z[k] * z[k], 0) / half.length) || 1;
  const column = (k: number) => {
    const scale = size(k);
    return Float64Array.from({ length: count }, (_, i) => ((i % 2 === 0 ? 1 : -1) * half[i >> 1][k]) / scale);
  };
  return [column(0), column(1)];
}

/**
 * Standard normal deviates for `count` draws of `size` sources of error, made to agree in their moments with what they
 * stand for: each source has mean zero and mean square one over the draws, and the first of them, as many as the draws
 * can tell apart, are uncorrelated with each other and with the instrument's. Whatever depends on them linearly then
 * has its exact variance over the draws, and another seed changes it by its curvature only (moment matching; Glasserman,
 * Monte Carlo Methods in Financial Engineering, 2003, ch. 4.5).
 * @returns `size` columns of `count`
 */
export function matchedDeviates(count: number, size: number, random: Random): Float64Array[] {
  const fixed = [new Float64Array(count).fill(1), ...instrumentScores(count)];
  const orthogonal: Float64Array[] = [];
  for (const column of fixed) if (withoutParts(column, orthogonal)) orthogonal.push(column);
  return Array.from({ length: size }, () => {
    const plain = Float64Array.from({ length: count }, () => random.normal());
    const column = plain.slice();
    if (!withoutParts(column, orthogonal)) return plain;
    orthogonal.push(column);
    const scale = Math.sqrt(count);
    return column.map((value) => value * scale);
  });
}

/** Takes out of a column what it has of unit columns, and brings it to length one; false where too little is left. */
function withoutParts(column: Float64Array, units: Float64Array[]): boolean {
  const length = (values: Float64Array) => Math.sqrt(values.reduce((sum, value) => sum + value * value, 0));
  const whole = length(column);
  // Twice, against rounding.
  for (let round = 0; round < 2; round++) {
    for (const unit of units) {
      let part = 0;
      for (let i = 0; i < column.length; i++) part += column[i] * unit[i];
      for (let i = 0; i < column.length; i++) column[i] -= part * unit[i];
    }
  }
  const left = length(column);
  if (!(left > leastLeft * whole)) return false;
  for (let i = 0; i < column.length; i++) column[i] /= left;
  return true;
}

/** Of a column's length; with less, its few free directions would no longer look like a normal sample. */
const leastLeft = 0.2;

/**
 * An orthonormal basis of what columns span, the longest remaining one taken next (Gram–Schmidt with pivoting); what is
 * shorter than a millionth of the longest is left out.
 */
export function orthonormalColumns(columns: Float64Array[]): Float64Array[] {
  const left = columns.map((column) => column.slice());
  const square = (values: Float64Array) => values.reduce((sum, value) => sum + value * value, 0);
  const basis: Float64Array[] = [];
  let longest = 0;
  while (left.length > 0) {
    let next = 0;
    const lengths = left.map(square);
    for (let j = 1; j < left.length; j++) if (lengths[j] > lengths[next]) next = j;
    longest = Math.max(longest, lengths[next]);
    if (!(lengths[next] > 1e-12 * longest)) break;
    const [column] = left.splice(next, 1);
    const length = Math.sqrt(lengths[next]);
    const unit = column.map((value) => value / length);
    basis.push(unit);
    for (const other of left) {
      let part = 0;
      for (let i = 0; i < unit.length; i++) part += other[i] * unit[i];
      for (let i = 0; i < unit.length; i++) other[i] -= part * unit[i];
    }
  }
  return basis;
}
