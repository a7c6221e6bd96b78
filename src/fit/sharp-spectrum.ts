import { square } from "../elementary/power.js";
import { logSpacedTimes, type ModulusPoints, maxwellKernel, weightedModuli } from "./maxwell-kernel.js";
import { nnls } from "./nnls.js";
import type { Spectrum, SpectrumOptions } from "./spectrum.js";

/**
 * Without a penalty: non-negative least squares on ten times a decade, the grid then halved about the modes in
 * use until it stands a hundredth of a decade apart there. The number of modes counts as parameters spent.
 */
export function solveSharp(
  points: ModulusPoints,
  options: SpectrumOptions,
): { spectrum: Spectrum; score: number } {
  const omega = points.angularFrequency_rad_s;
  const low = omega.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const high = omega.reduce((a, b) => Math.max(a, b), 0);
  let times_s = logSpacedTimes(low, high, 10, options.margin ?? 1);
  const rhs = weightedModuli(points);
  const rows = rhs.length;
  const count = rhs.filter((value) => value !== 0).length;
  for (let round = 0; ; round++) {
    const columns = times_s.length + ((options.equilibrium ?? true) ? 1 : 0);
    const values = new Float64Array(rows * (times_s.length + 1));
    maxwellKernel(omega, points.storageWeight, points.lossWeight, times_s, values);
    const { solution, residuals, residualSumOfSquares, passive } = nnls({ rows, columns, values }, rhs);
    if (round === 4) {
      const kept = Array.from(times_s.keys()).filter((j) => solution[j] > 0);
      const left = Math.max(1, count - passive.length);
      return {
        spectrum: {
          times_s: Float64Array.from(kept, (j) => times_s[j]),
          moduli_Pa: Float64Array.from(kept, (j) => solution[j]),
          equilibriumModulus_Pa: columns > times_s.length ? solution[times_s.length] : 0,
          strength: 0,
          modesPerDecade: 10,
          effectiveParameters: passive.length,
          residuals: residuals.map((r) => -r),
          rms: Math.sqrt(residualSumOfSquares / count),
        },
        score: (count * residualSumOfSquares) / square(left),
      };
    }
    const refined = new Set<number>(times_s);
    for (const j of passive.filter((k) => k < times_s.length)) {
      if (j > 0) refined.add(Math.sqrt(times_s[j] * times_s[j - 1]));
      if (j + 1 < times_s.length) refined.add(Math.sqrt(times_s[j] * times_s[j + 1]));
    }
    times_s = Float64Array.from(refined).sort();
  }
}
