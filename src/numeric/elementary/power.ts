import { expOfSum } from "./exponential.js";
import { lnInTwoParts } from "./logarithm.js";

const parts = new Float64Array(2);

/** x². */
export function square(x: number): number {
  return x * x;
}

/** x³. */
export function cube(x: number): number {
  return x * x * x;
}

/**
 * base^exponent, the same bits on every engine; within one unit in the last place. The special cases are those of
 * IEEE 754 pow, but NaN where a negative base meets an exponent that is not whole.
 */
export function power(base: number, exponent: number): number {
  if (exponent === 0) return 1;
  if (base === 1) return Number.isNaN(exponent) ? Number.NaN : 1;
  const size = Math.abs(base);
  if (base < 0 && Number.isInteger(exponent)) {
    return exponent % 2 === 0 ? power(size, exponent) : -power(size, exponent);
  }
  if (!(base > 0) || base === Number.POSITIVE_INFINITY || !Number.isFinite(exponent)) {
    return ofLimits(base, exponent);
  }
  lnInTwoParts(base, parts);
  const log = parts[0] + parts[1];
  const logTail = parts[0] - log + parts[1];
  const product = exponent * log;
  if (Math.abs(product) > 746) return product > 0 ? Number.POSITIVE_INFINITY : 0;
  const exponentTop = Math.fround(exponent);
  const exponentRest = exponent - exponentTop;
  const logTop = Math.fround(log);
  const logRest = log - logTop;
  const productTail =
    exponentTop * logTop -
    product +
    exponentTop * logRest +
    exponentRest * logTop +
    exponentRest * logRest +
    exponent * logTail;
  return expOfSum(product, productTail);
}

/** √(x² + y²), in plain double arithmetic: for sizes whose squares neither overflow nor vanish. */
export function hypotenuse(x: number, y: number): number {
  return Math.sqrt(x * x + y * y);
}

function ofLimits(base: number, exponent: number): number {
  if (Number.isNaN(base) || Number.isNaN(exponent) || (base < 0 && Number.isFinite(base * exponent))) {
    return Number.NaN;
  }
  const size = Math.abs(base);
  if (size === 1) return 1;
  return size > 1 === exponent > 0 ? Number.POSITIVE_INFINITY : 0;
}
