import { dot } from "../dot.js";
import { activeSetQuadratic } from "./active-set.js";
import { nonNegativeQuadratic, type QuadraticSolution } from "./nonnegative-quadratic.js";

/**
 * min ½xᵀHx − cᵀx with x ≥ 0 by `nonNegativeQuadratic`; where rounding keeps the signs from settling all at once, one
 * index at a time from there on (`activeSetQuadratic`).
 * @param matrix H = AᵀA and what is added to it, n × n row by row
 * @param linear c = Aᵀb, n numbers
 * @param target b, whose length tells what counts as a slope of zero
 * @param warmStart n marks, 1 for a number above zero in an earlier solution; null: all of them
 * @returns a solution that may be used
 */
export function settledQuadratic(
  matrix: Float64Array,
  linear: Float64Array,
  target: Float64Array,
  warmStart: Uint8Array | null,
): Omit<QuadraticSolution, "converged"> {
  const quick = nonNegativeQuadratic(matrix, linear, warmStart);
  if (quick.converged) return quick;
  const near = Array.from(quick.passive.keys()).filter((j) => quick.passive[j] === 1);
  const norm = Math.sqrt(dot(target, 0, target, 0, target.length));
  const { solution, passive: order, factor } = activeSetQuadratic(matrix, linear, norm, near);
  const passive = new Uint8Array(linear.length);
  for (const j of order) passive[j] = 1;
  return { solution, passive, order: Int32Array.from(order), factor };
}
