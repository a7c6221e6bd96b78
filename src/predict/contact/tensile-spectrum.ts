import { log10VerticalFactor, type RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import { log10ShiftFactor } from "../../fit/spectrum/shift-law.js";
import { exp10 } from "../../numeric/elementary/exponential.js";
import type { PredictionSettings } from "../prediction-settings.js";

/** A generalised Maxwell body in tension at one temperature: Ee + Σ Ei, relaxing with times τi. */
export interface TensileSpectrum {
  equilibriumModulus_Pa: number;
  /** n relaxation times at the temperature itself, any order. */
  times_s: Float64Array;
  /** n strengths of the same modes. */
  moduli_Pa: Float64Array;
}

/**
 * The model moved to a temperature, as a tensile modulus. Shear data become E = 2 (1 + ν) G, which holds in
 * the rubbery range; every other mode is taken for E as it stands.
 * @example tensileSpectrumAt(exampleModel(), 23, { tensilePerShear: 3 }).equilibriumModulus_Pa / exampleModel().equilibriumModulus_Pa // 3
 */
export function tensileSpectrumAt(
  model: RelaxationModel,
  temperature_C: number,
  settings: Pick<PredictionSettings, "tensilePerShear">,
): TensileSpectrum {
  const shift = exp10(log10ShiftFactor(model.law, temperature_C));
  const vertical = exp10(-log10VerticalFactor(model.verticalShift, model.law, temperature_C));
  const scale = vertical * (model.deformation === "shear" ? settings.tensilePerShear : 1);
  const own: TensileSpectrum = {
    equilibriumModulus_Pa: model.equilibriumModulus_Pa * scale,
    times_s: model.times_s.map((time_s) => time_s * shift),
    moduli_Pa: model.moduli_Pa.map((modulus_Pa) => modulus_Pa * scale),
  };
  const { furtherPhase } = model;
  if (furtherPhase === undefined) return own;
  const furtherShift = exp10(log10ShiftFactor(furtherPhase.law, temperature_C));
  return {
    ...own,
    times_s: joined(
      own.times_s,
      furtherPhase.times_s.map((time_s) => time_s * furtherShift),
    ),
    moduli_Pa: joined(
      own.moduli_Pa,
      furtherPhase.moduli_Pa.map((modulus_Pa) => modulus_Pa * scale),
    ),
  };
}

function joined(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(a.length + b.length);
  out.set(a);
  out.set(b, a.length);
  return out;
}
