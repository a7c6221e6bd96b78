import { quantile } from "../fit/quantile.js";

/** 2.5 % and 97.5 % points of draws, opened to hold the value itself; the value alone where there are none. */
export function intervalAround(
  value: number,
  draws: ArrayLike<number> | null,
): { low: number; high: number } {
  const sorted = draws === null ? new Float64Array() : finiteSorted(draws);
  if (sorted.length === 0) return { low: value, high: value };
  return {
    low: Math.min(value, quantile(sorted, 0.025)),
    high: Math.max(value, quantile(sorted, 0.975)),
  };
}

/** An interval stands on its draws; of these at least so many must have given a number. */
const fewestShare = 0.8;

/** Whether draws that gave no number leave the others too few to stand for all. */
export function areTooFew(draws: ArrayLike<number>): boolean {
  return draws.length > 0 && finiteSorted(draws).length < fewestShare * draws.length;
}

function finiteSorted(draws: ArrayLike<number>): Float64Array {
  return Float64Array.from(draws).filter(Number.isFinite).sort();
}
