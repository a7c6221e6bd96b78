import { dot } from "../../numeric/dot.js";
import { ln, log10 } from "../../numeric/elementary/logarithm.js";
import { square } from "../../numeric/elementary/power.js";
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
 * Root mean square of what parabolas through seven neighbouring points each leave over, corrected for the freedom that
 * a parabola takes: the noise of a smooth curve.
 * @param x n abscissae, ascending; `y` n ordinates
 * @returns in the unit of y; NaN for fewer than five points
 */
export function localParabolaRms(x: ArrayLike<number>, y: ArrayLike<number>): number {
  const width = Math.min(7, y.length);
  if (width < 5) return Number.NaN;
  let sum = 0;
  let freedom = 0;
  // Orthonormal polynomials over a window, one after the other, then what they leave of its ordinates.
  const basis = new Float64Array(3 * width);
  const left = new Float64Array(width);
  for (let first = 0; first + width <= y.length; first++) {
    const centre = x[first + (width >> 1)];
    let size = 0;
    const withoutBasis = () => {
      for (let b = 0; b < size; b++) {
        const share = dot(basis, b * width, left, 0, width);
        for (let k = 0; k < width; k++) left[k] -= share * basis[b * width + k];
      }
    };
    for (let degree = 0; degree < 3; degree++) {
      for (let k = 0; k < width; k++) {
        const u = x[first + k] - centre;
        left[k] = degree === 0 ? 1 : degree === 1 ? u : u * u;
      }
      withoutBasis();
      const norm = Math.sqrt(dot(left, 0, left, 0, width));
      if (norm <= 1e-9) continue;
      for (let k = 0; k < width; k++) basis[size * width + k] = left[k] / norm;
      size++;
    }
    for (let k = 0; k < width; k++) left[k] = y[first + k];
    withoutBasis();
    sum += dot(left, 0, left, 0, width);
    freedom += width - size;
  }
  return Math.sqrt(sum / freedom);
}
