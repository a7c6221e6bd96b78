import type { RelaxationModel } from "../../src/fit/spectrum/relaxation-model.js";

/**
 * A rubber whose loss factor is nearly the same over the decades of an impact, as on the plateau of a filled one; slower modes
 * would take more than its equilibrium modulus away.
 */
export function levelRubber(storageModulus_Pa: number, tanDelta: number): RelaxationModel {
  const times_s = Float64Array.from({ length: 17 }, (_, i) => 10 ** (-9 + i / 2));
  const x = times_s.map((time_s) => 2 * Math.PI * 100 * time_s);
  const loss = x.reduce((sum, one) => sum + one / (1 + one * one), 0);
  const storage = x.reduce((sum, one) => sum + (one * one) / (1 + one * one), 0);
  const mode_Pa = (tanDelta * storageModulus_Pa) / loss;
  return {
    deformation: "tension",
    law: { kind: "wlf", referenceTemperature_C: 23, c1: 5, c2_K: 150, tangentBelow_C: null },
    verticalShift: { kind: "off" },
    equilibriumModulus_Pa: storageModulus_Pa - mode_Pa * storage,
    times_s,
    moduli_Pa: times_s.map(() => mode_Pa),
    lowestReducedFrequency_Hz: 1e-2,
    highestReducedFrequency_Hz: 1e8,
    lowestTemperature_C: -50,
    highestTemperature_C: 100,
  };
}
