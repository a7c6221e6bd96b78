import { exp } from "../elementary/exponential.js";
import { ln } from "../elementary/logarithm.js";
import { hypotenuse, square } from "../elementary/power.js";
import { normal95 } from "./confidence.js";
import { halfIntervalOfMean, meanOf } from "./mean.js";
import { quantile } from "./quantile.js";

/**
 * 2.5 % and 97.5 % points of draws, opened to hold the value itself; the value alone where there are none.
 * @param draws equally likely values; those that are no number are left out
 */
export function intervalAround(
  value: number,
  draws: ArrayLike<number> | null,
): { low: number; high: number } {
  const sorted = draws === null ? new Float64Array() : finiteSorted(draws);
  return sorted.length === 0 ? { low: value, high: value } : openedPoints(value, sorted);
}

/** 2.5 % and 97.5 % points of sorted values, opened to hold the value itself. */
function openedPoints(value: number, sorted: Float64Array): { low: number; high: number } {
  return {
    low: Math.min(value, quantile(sorted, 0.025)),
    high: Math.max(value, quantile(sorted, 0.975)),
  };
}

/** Draws farther from the value than three of their middle's standard deviations count as that far. */
const farthestDeviations = 3;

/**
 * A 95 % interval about a value from the mean square distance of the draws, to both sides alike: of 60 draws another seed
 * moves it by a tenth of its half width at most, and hardly at all where they are matched (`matchedDeviates`), while the
 * draws' own 2.5 and 97.5 % points move by a quarter. Whether more of 60 draws lie on one side is mostly chance. The value
 * alone where there are no draws.
 * @example spreadAround(0, [-1, 1]) // { low: -1.959…, high: 1.959… }
 */
export function spreadAround(value: number, draws: ArrayLike<number>): { low: number; high: number } {
  const sorted = finiteSorted(draws);
  if (sorted.length === 0 || !Number.isFinite(value)) return { low: value, high: value };
  const farthest = Math.abs(quantile(sorted, 0.5) - value) + farthestOf(sorted);
  let sum = 0;
  for (const one of sorted) sum += square(Math.min(Math.abs(one - value), farthest));
  const half = normal95 * Math.sqrt(sum / sorted.length);
  return { low: value - half, high: value + half };
}

/** How far from the middle of sorted draws one may count. */
const farthestOf = (sorted: Float64Array) =>
  (farthestDeviations / 2) * (quantile(sorted, 0.8413) - quantile(sorted, 0.1587));

/**
 * Between which 95 % of equally likely values lie by their mean and scatter, opened to hold the value itself: as little moved
 * by another seed as `spreadAround`, for draws that are all off to one side of the value.
 * @param draws at least one number; those that are none are left out
 * @example reachOf(0, [1, 3]) // { low: 0, high: 3.959… }
 */
export function reachOf(value: number, draws: ArrayLike<number>): { low: number; high: number } {
  const sorted = finiteSorted(draws);
  const middle = quantile(sorted, 0.5);
  const farthest = farthestOf(sorted);
  let sum = 0;
  let squares = 0;
  for (const one of sorted) {
    const held = Math.min(Math.max(one - middle, -farthest), farthest);
    sum += held;
    squares += square(held);
  }
  const mean = sum / sorted.length;
  const half = normal95 * Math.sqrt(Math.max(0, squares / sorted.length - square(mean)));
  return { low: Math.min(value, middle + mean - half), high: Math.max(value, middle + mean + half) };
}

/** An interval stands on its draws; of these at least so many must have given a number. */
const fewestShare = 0.8;

/**
 * Whether draws that gave no number leave the others too few to stand for all.
 * @param draws equally likely values; NaN for one that failed
 */
export function areTooFew(draws: ArrayLike<number>): boolean {
  return draws.length > 0 && finiteSorted(draws).length < fewestShare * draws.length;
}

function finiteSorted(draws: ArrayLike<number>): Float64Array {
  return Float64Array.from(draws).filter(Number.isFinite).sort();
}

/** A value with its 95 % interval, in the unit that the key holding it names; null ends where none could be found. */
export interface ValueInterval {
  value: number;
  low: number | null;
  high: number | null;
}

/**
 * 2.5 % and 97.5 % points of equally likely values, opened to hold the value itself. Null ends where fewer than
 * 20 draws have a value: the points would be those of one or two draws.
 * @param drawn equally likely values; those that are no number are left out
 */
export function drawnInterval(value: number, drawn: ArrayLike<number>): ValueInterval {
  const sorted = Float64Array.from(drawn)
    .filter((one) => !Number.isNaN(one))
    .sort();
  if (sorted.length < 20) return { value, low: null, high: null };
  const { low, high } = openedPoints(value, sorted);
  return { value, low: finite(low), high: finite(high) };
}

/** Each of the three numbers through a rising function of one value. */
export function mapInterval(interval: ValueInterval, rising: (value: number) => number): ValueInterval {
  return {
    value: rising(interval.value),
    low: interval.low === null ? null : rising(interval.low),
    high: interval.high === null ? null : rising(interval.high),
  };
}

/** Each of the three numbers through a falling function of one value: the ends change places. */
export function mapFalling(interval: ValueInterval, falling: (value: number) => number): ValueInterval {
  const { value, low, high } = mapInterval(interval, falling);
  return { value, low: high, high: low };
}

/** Geometric mean of n positive values with the interval of Student's t on their logs; none for one value. */
export function geometricMean(values: number[]): ValueInterval {
  const logs = values.map(ln);
  const value = exp(meanOf(logs).mean);
  if (values.length < 2) return { value, low: null, high: null };
  const half = halfIntervalOfMean(logs);
  return { value, low: value * exp(-half), high: value * exp(half) };
}

/** Ratio of two independent positive values: the half widths of their logs in quadrature, each side for itself. */
export function ratioInterval(over: ValueInterval, under: ValueInterval): ValueInterval {
  const value = over.value / under.value;
  if (over.low === null || over.high === null || under.low === null || under.high === null) {
    return { value, low: null, high: null };
  }
  const down = hypotenuse(ln(over.value / over.low), ln(under.high / under.value));
  const up = hypotenuse(ln(over.high / over.value), ln(under.value / under.low));
  return { value, low: value * exp(-down), high: value * exp(up) };
}

/** "1.23 (1.10 to 1.40)", or the value alone. */
export function intervalWords(
  { value, low, high }: ValueInterval,
  write: (value: number) => string,
  unit = "",
): string {
  const end = unit === "" ? "" : ` ${unit}`;
  if (low === null || high === null) return `${write(value)}${end} (no interval)`;
  return `${write(value)}${end} (${write(low)} to ${write(high)}${end})`;
}

// A draw that never gets there counts as infinitely far; such an end is no bound.
const finite = (value: number) => (Number.isFinite(value) ? value : null);
