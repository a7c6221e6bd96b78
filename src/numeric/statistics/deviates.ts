import { cholesky } from "../cholesky.js";
import { dot } from "../dot.js";
import { normalQuantile } from "./normal-quantile.js";
import { type Random, seededRandom, seedFromText } from "./random.js";

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
 * @param others columns of `count` that stand beside them in the draws, to be uncorrelated with too
 * @param mirrored the first of so many stand in pairs of draws that mirror each other (where the count is even): what they
 * do by their curvature is then uncorrelated with what they do linearly, too (antithetic variates; the same, ch. 4.2)
 * @returns `size` columns of `count`
 */
export function matchedDeviates(
  count: number,
  size: number,
  random: Random,
  others: Float64Array[] = [],
  mirrored = 0,
): Float64Array[] {
  const fixed = [
    new Float64Array(count).fill(1),
    ...instrumentScores(count),
    ...others.map((other) => other.slice()),
  ];
  const orthogonal: Float64Array[] = [];
  for (const column of fixed) if (withoutParts(column, orthogonal)) orthogonal.push(column);
  const even = Float64Array.from({ length: count }, (_, i) => normalQuantile((i + 0.5) / count));
  const pairs = count % 2 === 0 ? mirrored : 0;
  return Array.from({ length: size }, (_, k) => {
    const plain =
      k < pairs ? inPairs(even, random) : Float64Array.from(shuffled(count, random), (i) => even[i]);
    const column = plain.slice();
    if (!withoutParts(column, orthogonal)) return plain;
    orthogonal.push(column);
    const scale = Math.sqrt(count);
    return column.map((value) => value * scale);
  });
}

/** Symmetric values of an even count in random order, each beside its mirror image. */
function inPairs(even: Float64Array, random: Random): Float64Array {
  const half = even.length / 2;
  const order = shuffled(half, random);
  const signs = order.map(() => (random.index(2) === 0 ? 1 : -1));
  return even.map((_, i) => (i % 2 === 0 ? 1 : -1) * signs[i >> 1] * even[half + order[i >> 1]]);
}

/** Takes out of a column what it has of unit columns, and brings it to length one; false where too little is left. */
function withoutParts(column: Float64Array, units: Float64Array[]): boolean {
  const length = (values: Float64Array) => Math.sqrt(dot(values, 0, values, 0, values.length));
  const whole = length(column);
  // Twice, against rounding.
  for (let round = 0; round < 2; round++) {
    for (const unit of units) takeOut(column, unit);
  }
  const left = length(column);
  if (!(left > leastLeft * whole)) return false;
  for (let i = 0; i < column.length; i++) column[i] /= left;
  return true;
}

/** Of a column's length; with less, its few free directions would no longer look like a normal sample. */
const leastLeft = 0.1;

/**
 * A sample brought to a given mean and covariance and made uncorrelated with other columns, by a linear map: a sum over
 * few draws is then the same as over the many that they stand for, as far as it is linear (moment matching).
 * @param columns one a quantity, n values each; fewer quantities than values left by `others`
 * @param mean of each quantity
 * @param covariance row by row, quantity by quantity
 * @param others columns of n
 * @returns the columns as they were where they span too little
 */
export function withMoments(
  columns: Float64Array[],
  mean: ArrayLike<number>,
  covariance: ArrayLike<number>,
  others: Float64Array[],
): Float64Array[] {
  const size = columns.length;
  const n = columns[0].length;
  const units: Float64Array[] = [];
  for (const other of [new Float64Array(n).fill(1), ...others.map((one) => one.slice())]) {
    if (withoutParts(other, units)) units.push(other);
  }
  const white: Float64Array[] = [];
  for (const column of columns) {
    const own = column.slice();
    if (!withoutParts(own, [...units, ...white])) return columns;
    white.push(own);
  }
  const root = Float64Array.from({ length: size * size }, (_, k) => covariance[k]);
  if (!cholesky(root, size)) return columns;
  // Each column takes part in its own place in the order, so that the map stays near to none.
  return columns.map((_, a) =>
    Float64Array.from({ length: n }, (__, i) => {
      let value = mean[a];
      for (let b = 0; b <= a; b++) value += root[a * size + b] * white[b][i] * Math.sqrt(n);
      return value;
    }),
  );
}

/**
 * An orthonormal basis of what columns span, the longest remaining one taken next (Gram–Schmidt with pivoting); what is
 * shorter than a millionth of the longest is left out.
 * @param before unit columns, orthogonal to each other, that the basis is to be orthogonal to as well
 */
export function orthonormalColumns(columns: Float64Array[], before: Float64Array[] = []): Float64Array[] {
  const square = (values: Float64Array) => dot(values, 0, values, 0, values.length);
  const longest = Math.max(...columns.map(square));
  let left = columns.map((own) => {
    const column = own.slice();
    // Twice, against rounding.
    for (let round = 0; round < 2; round++) for (const unit of before) takeOut(column, unit);
    return { column, square: square(column) };
  });
  const basis: Float64Array[] = [];
  while (left.length > 0) {
    const next = left.reduce((a, b) => (b.square > a.square ? b : a));
    if (!(next.square > 1e-12 * longest)) break;
    left = left.filter((one) => one !== next);
    const length = Math.sqrt(next.square);
    const unit = next.column.map((value) => value / length);
    basis.push(unit);
    for (const one of left) one.square = takeOut(one.column, unit);
  }
  return basis;
}

/** Takes out of a column what it has of a unit column; the square of what is left. */
function takeOut(column: Float64Array, unit: Float64Array): number {
  const part = dot(column, 0, unit, 0, column.length);
  let even = 0;
  let odd = 0;
  let i = 0;
  for (; i + 1 < column.length; i += 2) {
    const one = column[i] - part * unit[i];
    const two = column[i + 1] - part * unit[i + 1];
    column[i] = one;
    column[i + 1] = two;
    even += one * one;
    odd += two * two;
  }
  if (i < column.length) {
    column[i] -= part * unit[i];
    even += column[i] * column[i];
  }
  return even + odd;
}

/**
 * Standard normal deviates in groups of four of one size, the sizes evenly spaced over the distribution.
 * @param signs of the four in each group, chosen so that what stands in such groups beside them is uncorrelated
 * @param order place of each group's size among all
 * @returns `count` deviates
 */
export function groupedDeviates(
  count: number,
  signs: readonly number[],
  order: readonly number[],
): Float64Array {
  return Float64Array.from({ length: count }, (_, i) => {
    const share = (order[Math.floor(i / groupSize)] + 0.5) / order.length;
    return signs[i % groupSize] * normalQuantile(0.5 + share / 2);
  });
}

/** 0 to count − 1 in an order that puts neighbours far apart (ranks of the multiples of the golden ratio). */
export function evenOrder(count: number): number[] {
  const places = Array.from({ length: count }, (_, i) => (i * (Math.sqrt(5) - 1)) / 2).map((x) => x % 1);
  return places.map((place) => places.reduce((rank, other) => rank + (other < place ? 1 : 0), 0));
}

/** Draws in groups of so many stand together: the instrument's deviates mirror each other in pairs, + − + −. */
export const groupSize = 4;

/** 0 to count − 1 in random order (Fisher and Yates). */
export function shuffled(count: number, random: Random): number[] {
  const order = Array.from({ length: count }, (_, i) => i);
  for (let i = count - 1; i > 0; i--) {
    const other = random.index(i + 1);
    [order[i], order[other]] = [order[other], order[i]];
  }
  return order;
}

/**
 * Places in a unit cube that fill it evenly, any first part of them too (Richtmyer's multiples of square roots;
 * Niederreiter, Random Number Generation and Quasi-Monte Carlo Methods, 1992, ch. 3): as normal deviates the mean of 500
 * lies within 0.02 of none where that of random ones lies within 0.09.
 * @param dimensions four at most
 */
export function evenPlaces(dimensions: number): () => number[] {
  const place = steps.slice(0, dimensions).fill(0.5);
  return () => {
    for (let k = 0; k < dimensions; k++) place[k] = (place[k] + steps[k]) % 1;
    return place.slice();
  };
}

/** The standard normal deviate with a share of all below it; the share is held inside 0 to 1. */
export const normalAt = (share: number): number => normalQuantile(Math.min(Math.max(share, 1e-9), 1 - 1e-9));

/** Square roots of primes, less their whole parts: no fraction of small numbers is near them. */
const steps = [Math.SQRT2 - 1, Math.sqrt(3) - 1, Math.sqrt(5) - 2, Math.sqrt(7) - 2];
