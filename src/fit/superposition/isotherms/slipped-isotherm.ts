import { cholesky, solveCholesky } from "../../../numeric/cholesky.js";
import { dot } from "../../../numeric/dot.js";
import { exp10 } from "../../../numeric/elementary/exponential.js";
import { log10 } from "../../../numeric/elementary/logarithm.js";
import { square } from "../../../numeric/elementary/power.js";
import { median } from "../../../numeric/statistics/quantile.js";
import { maxwellModulus, type VerticalShift } from "../../spectrum/relaxation-model.js";
import { solveSpectrum } from "../../spectrum/spectrum.js";
import { lawShift, runOffset_K } from "../law/law-fit.js";
import { range, reducePoints, weightPoints } from "../shift/reduced-points.js";
import type { SuperpositionFit } from "../shift/superposition-fit.js";
import { knownVertical, scaled } from "../shift/vertical-factor.js";
import { filterIsotherms, type IsothermSet } from "./isotherms.js";

/** Share of the misfit that a vertical factor of one isotherm must promise to take away before it is looked at. */
const tellingShare = 0.25;

/**
 * The isotherm whose moduli, moved vertically alone, would take most of the misfit away: the score test of one
 * vertical factor with the shifts and the spectrum free. Null where none takes a quarter.
 */
export function suspectedSlip(fit: SuperpositionFit): number | null {
  const { reduced, free, reference } = fit;
  const count = reduced.isothermCount;
  const state = reduced.evaluate(free.log10aT, free.log10bT);
  const { gradient, matrix } = reduced.derivatives(
    state,
    Int32Array.from({ length: count }, (_, k) => k),
    count,
  );
  const shifted = Array.from({ length: count }, (_, k) => k).filter((k) => k !== reference);
  const size = shifted.length;
  const horizontal = new Float64Array(size * size);
  for (const [a, i] of shifted.entries()) {
    for (const [b, j] of shifted.entries()) {
      horizontal[a * size + b] = matrix[i * 2 * count + j] * (a === b ? 1 + 1e-9 : 1) + (a === b ? 1e-12 : 0);
    }
  }
  if (!cholesky(horizontal, size)) return null;
  let best: number | null = null;
  let largest = tellingShare * state.rss;
  for (let k = 0; k < count; k++) {
    const row = (count + k) * 2 * count;
    const mixed = Float64Array.from(shifted, (i) => matrix[row + i]);
    const answer = mixed.slice();
    solveCholesky(horizontal, size, answer);
    const curvature = matrix[row + count + k] - dot(mixed, 0, answer, 0, size);
    // Half the squares: what a step of −g/S saves of them is g²/S.
    const saved = curvature > 0 ? square(gradient[count + k]) / curvature : 0;
    if (saved > largest) {
      largest = saved;
      best = k;
    }
  }
  return best;
}

/**
 * By how many decades an isotherm stands above the master curve of the others, and how far its points scatter about
 * that; null where too few of them lie within it.
 */
export function verticalOffset(
  isotherm: IsothermSet,
  fit: SuperpositionFit,
  density: VerticalShift,
): { off_decades: number; scatter_decades: number } | null {
  const { shape, parameters } = fit.chosen;
  const points = reducePoints(fit.set, shape, parameters, fit.log10bT);
  const spectrum = solveSpectrum(weightPoints(points, fit.lossTrust), { modesPerDecade: 5, strength: 1e-4 });
  const { low, high } = range(points.frequency_Hz);
  const one = scaled(isotherm, knownVertical(isotherm, density, shape.reference_C));
  const run = Math.max(0, fit.set.runs.indexOf(one.runs[0]));
  const warmer_K = runOffset_K(shape, parameters, run);
  const scale = fit.log10bT[fit.set.isotherms.findIndex((other) => other.run === run)];
  const away: number[] = [];
  for (let i = 0; i < one.frequency_Hz.length; i++) {
    const f = one.frequency_Hz[i] * exp10(lawShift(shape, parameters, one.temperature_C[i] - warmer_K));
    if (f < low || f > high) continue;
    const { storageModulus_Pa, lossModulus_Pa } = maxwellModulus(spectrum, 2 * Math.PI * f);
    away.push(log10(one.storageModulus_Pa[i] / storageModulus_Pa) + scale);
    if (one.lossModulus_Pa[i] > 0) away.push(log10(one.lossModulus_Pa[i] / lossModulus_Pa) + scale);
  }
  if (away.length < 4) return null;
  const off_decades = median(away);
  const scatter_decades = Math.sqrt(away.reduce((sum, a) => sum + square(a - off_decades), 0) / away.length);
  return { off_decades, scatter_decades };
}

/** The set in two: the isotherms that hold one of the rows, and the others. */
export function partByRow(
  set: IsothermSet,
  isItsRow: (source: IsothermSet["source"][number]) => boolean,
): { without: IsothermSet; only: IsothermSet } {
  const has = ({ first, end }: { first: number; end: number }) => set.source.slice(first, end).some(isItsRow);
  return {
    without: filterIsotherms(set, (isotherm) => !has(isotherm)),
    only: filterIsotherms(set, has),
  };
}
