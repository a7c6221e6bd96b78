import type { RelaxationModel } from "../../src/fit/spectrum/relaxation-model.js";
import type { Spectrum } from "../../src/fit/spectrum/spectrum.js";

/** A model at one temperature, so that the program's own relaxation modulus can be asked. */
export function modelOf(
  spectrum: Pick<Spectrum, "times_s" | "moduli_Pa" | "equilibriumModulus_Pa">,
): RelaxationModel {
  return {
    deformation: "shear",
    law: { kind: "arrhenius", referenceTemperature_C: 23, activationEnergy_J_mol: 1 },
    verticalShift: { kind: "off" },
    equilibriumModulus_Pa: spectrum.equilibriumModulus_Pa,
    times_s: spectrum.times_s,
    moduli_Pa: spectrum.moduli_Pa,
    lowestReducedFrequency_Hz: 0,
    highestReducedFrequency_Hz: 1e9,
    lowestTemperature_C: 23,
    highestTemperature_C: 23,
  };
}
