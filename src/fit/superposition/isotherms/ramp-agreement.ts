import { exp10 } from "../../../numeric/elementary/exponential.js";
import { ln } from "../../../numeric/elementary/logarithm.js";
import { square } from "../../../numeric/elementary/power.js";
import type { Notice } from "../../../words/notice.js";
import { percentText } from "../../../words/quantity-text.js";
import { maxwellModulus } from "../../spectrum/relaxation-model.js";
import { solveSpectrum } from "../../spectrum/spectrum.js";
import { lawShift } from "../law/law-fit.js";
import { reducePoints, weightPoints } from "../shift/reduced-points.js";
import type { SuperpositionFit } from "../shift/superposition-fit.js";
import { temperatureCount } from "../superposition-checks.js";
import { filterIsotherms, type IsothermSet } from "./isotherms.js";

/** A ramp agrees with the master curve of the frequency sweeps when it follows it within this, or three times their noise. */
const agreement = 0.08;

/**
 * Isotherms are preferred, ramps are taken along where they say the same: regrouped ramps beside frequency
 * sweeps at three temperatures or more are held against the sweeps' own master curve, free in modulus scale
 * and in a common shift (another specimen, another thermometer), and left out with a notice where they differ.
 */
export function withAgreeingRamps(
  set: IsothermSet,
  fitOf: (set: IsothermSet) => SuperpositionFit | null,
): { set: IsothermSet; notice: Notice | null } {
  const sweeps = filterIsotherms(set, ({ run }) => set.runs[run].kind === "frequency sweep");
  if (sweeps.isotherms.length === set.isotherms.length || temperatureCount(sweeps) < 3) {
    return { set, notice: null };
  }
  const fit = fitOf(sweeps);
  if (fit === null) return { set, notice: null };
  const limit = Math.max(agreement, 3 * Math.sqrt(fit.free.variance));
  const apart: string[] = [];
  const kept = set.runs.map((run, index) => {
    if (run.kind === "frequency sweep") return true;
    const misfit = misfitOf(
      filterIsotherms(set, (isotherm) => isotherm.run === index),
      fit,
    );
    if (misfit === null || misfit <= limit) return true;
    apart.push(`${run.paths.join(", ")} (${percentText(misfit, 0)})`);
    return false;
  });
  if (apart.length === 0) return { set, notice: null };
  return {
    set: filterIsotherms(set, ({ run }) => kept[run]),
    notice: {
      severity: "caution",
      code: "fit.ramp-left-out",
      message: `The temperature ramp in ${apart.join("; ")} does not follow the master curve of the frequency sweeps and was left out of it; the deviation in brackets is what remains after the best scale and shift.`,
    },
  };
}

/** Root mean square relative deviation of a ramp from a master curve at the best scale and shift; null without common ground. */
function misfitOf(ramp: IsothermSet, fit: SuperpositionFit): number | null {
  const { shape, parameters } = fit.chosen;
  const points = reducePoints(fit.set, shape, parameters, fit.log10bT);
  const spectrum = solveSpectrum(weightPoints(points, fit.lossTrust), { modesPerDecade: 5, strength: 1e-4 });
  const low = Math.min(...points.frequency_Hz);
  const high = Math.max(...points.frequency_Hz);
  let best: number | null = null;
  for (let shift = -1.5; shift <= 1.5; shift += 0.05) {
    const deviations: number[] = [];
    for (let i = 0; i < ramp.frequency_Hz.length; i++) {
      const f = ramp.frequency_Hz[i] * exp10(lawShift(shape, parameters, ramp.temperature_C[i]) + shift);
      if (f < low || f > high) continue;
      const { storageModulus_Pa, lossModulus_Pa } = maxwellModulus(spectrum, 2 * Math.PI * f);
      deviations.push(ln(ramp.storageModulus_Pa[i] / storageModulus_Pa));
      if (ramp.lossModulus_Pa[i] > 0) deviations.push(ln(ramp.lossModulus_Pa[i] / lossModulus_Pa));
    }
    if (deviations.length < 10) continue;
    const mean = deviations.reduce((a, b) => a + b, 0) / deviations.length;
    const rms = Math.sqrt(deviations.reduce((sum, d) => sum + square(d - mean), 0) / deviations.length);
    if (best === null || rms < best) best = rms;
  }
  return best;
}
