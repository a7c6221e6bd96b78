import {
  apparentActivationEnergy_J_mol,
  gasConstant_J_molK,
  type ShiftLaw,
  wlf,
  zeroCelsius_K,
} from "../fit/shift-law.js";

/**
 * The temperature at which a shift law gives this log10 aT, in °C: the laws of `log10ShiftFactor` solved for
 * T. Null where none does (a WLF factor never falls to 10^−C1).
 * @example temperatureAtShift({ kind: "wlf", referenceTemperature_C: 0, c1: 17.44, c2_K: 51.6, tangentBelow_C: null }, -2.8314) // 10.0…
 */
export function temperatureAtShift(law: ShiftLaw, log10aT: number): number | null {
  const reference_C = law.referenceTemperature_C;
  if (law.kind === "arrhenius") return arrheniusInverse(law.activationEnergy_J_mol, log10aT, reference_C);
  const border_C = law.tangentBelow_C;
  if (border_C !== null) {
    const atBorder = wlf(law.c1, law.c2_K, border_C - reference_C);
    if (log10aT > atBorder) {
      return arrheniusInverse(apparentActivationEnergy_J_mol(law, border_C), log10aT - atBorder, border_C);
    }
  }
  if (log10aT <= -law.c1) return null;
  return reference_C - (law.c2_K * log10aT) / (law.c1 + log10aT);
}

function arrheniusInverse(energy_J_mol: number, log10aT: number, reference_C: number): number | null {
  const perKelvin =
    1 / (reference_C + zeroCelsius_K) + (log10aT * Math.LN10 * gasConstant_J_molK) / energy_J_mol;
  return perKelvin > 0 ? 1 / perKelvin - zeroCelsius_K : null;
}
