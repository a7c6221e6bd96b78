import { ln, log10 } from "../../numeric/elementary/logarithm.js";
import { power, square } from "../../numeric/elementary/power.js";
import { coded } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { percentText } from "../../words/quantity-text.js";
import type { ModulusPoints } from "./maxwell-kernel.js";

/** One temperature's points and what the best spectrum leaves over (relative; storage first, then loss). */
export interface FittedCurve {
  points: ModulusPoints;
  residuals: Float64Array;
}

/**
 * A notice where no relaxation spectrum reproduces both moduli although each alone is a smooth curve. The
 * residuals are set against the data's own roughness (what a local parabola in log frequency leaves over):
 * more than three times that, and more than 2 %, is a contradiction between M′ and M″, as from a wrong
 * column, an unsubtracted instrument compliance or inertia, or a mistaken factor.
 */
export function kramersKronigNotice(curves: FittedCurve[]): Notice | null {
  let misfit = 0;
  let roughness = 0;
  let count = 0;
  for (const { points, residuals } of curves) {
    const n = points.angularFrequency_rad_s.length;
    const order = Array.from({ length: n }, (_, i) => i).sort(
      (a, b) => points.angularFrequency_rad_s[a] - points.angularFrequency_rad_s[b],
    );
    const x = order.map((i) => log10(points.angularFrequency_rad_s[i]));
    for (const [values, weights, offset] of [
      [points.storageModulus_Pa, points.storageWeight, 0],
      [points.lossModulus_Pa, points.lossWeight, n],
    ] as const) {
      const kept = order.filter((i) => weights[i] > 0);
      if (kept.length < 5) continue;
      const left = localParabolaRms(
        order.flatMap((i, k) => (weights[i] > 0 ? [x[k]] : [])),
        kept.map((i) => ln(values[i])),
      );
      roughness += square(left) * kept.length;
      for (const i of kept) misfit += square(residuals[offset + i]);
      count += kept.length;
    }
  }
  if (count === 0) return null;
  const rms = Math.sqrt(misfit / count);
  const noise = Math.sqrt(roughness / count);
  if (rms <= 0.02 || rms <= 3 * noise) return null;
  return {
    ...coded("fit.kramers-kronig"),
    message:
      `No relaxation spectrum gives both moduli: the best one misses them by ${percentText(rms, 1)}, ` +
      `while the curves themselves are smooth to ${percentText(noise, 1)}. Storage and loss modulus contradict each other ` +
      "(Kramers–Kronig); look at the columns taken for them, the units and the instrument's compliance and inertia corrections.",
  };
}

/**
 * Root mean square of what a parabola through each point's five nearest neighbours (the point itself left
 * out of none) leaves over, corrected for the freedom the parabola takes: the noise of a smooth curve.
 * @param x n abscissae, ascending; `y` n ordinates
 * @returns in the unit of y; NaN for fewer than five points
 */
export function localParabolaRms(x: number[], y: number[]): number {
  const width = Math.min(7, y.length);
  if (width < 5) return Number.NaN;
  let sum = 0;
  let freedom = 0;
  for (let first = 0; first + width <= y.length; first++) {
    // Residual sum of squares of a parabola on this window, by orthogonal polynomials.
    const window = Array.from({ length: width }, (_, k) => first + k);
    const basis: number[][] = [];
    for (const degree of [0, 1, 2]) {
      const centre = x[first + (width >> 1)];
      const v = window.map((i) => power(x[i] - centre, degree));
      for (const b of basis) {
        const share = inner(b, v);
        for (let k = 0; k < width; k++) v[k] -= share * b[k];
      }
      const norm = Math.sqrt(inner(v, v));
      if (norm > 1e-9) basis.push(v.map((value) => value / norm));
    }
    const r = window.map((i) => y[i]);
    for (const b of basis) {
      const share = inner(b, r);
      for (let k = 0; k < width; k++) r[k] -= share * b[k];
    }
    sum += inner(r, r);
    freedom += width - basis.length;
  }
  return Math.sqrt(sum / freedom);
}

function inner(a: number[], b: number[]): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += a[k] * b[k];
  return sum;
}
