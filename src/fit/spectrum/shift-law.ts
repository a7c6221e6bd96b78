import { square } from "../../numeric/elementary/power.js";

/** Universal gas constant in J/(mol K), CODATA 2018, exact. */
export const gasConstant_J_molK = 8.314462618;
export const zeroCelsius_K = 273.15;

/**
 * Williams–Landel–Ferry: log10 aT = −C1 (T − T0) / (C2 + T − T0)
 * (Williams, Landel and Ferry, J. Am. Chem. Soc. 77, 3701, 1955).
 * Below `tangentBelow_C` the law goes on as the Arrhenius line that touches it there, because the formula
 * runs away towards T0 − C2 while a glass keeps a finite activation energy. Null: no such border.
 */
export interface WlfLaw {
  kind: "wlf";
  referenceTemperature_C: number;
  c1: number;
  c2_K: number;
  tangentBelow_C: number | null;
}

/** Arrhenius: log10 aT = Ea / (ln 10 · R) · (1/T − 1/T0), T in K. */
export interface ArrheniusLaw {
  kind: "arrhenius";
  referenceTemperature_C: number;
  activationEnergy_J_mol: number;
}

export type ShiftLaw = WlfLaw | ArrheniusLaw;

/**
 * log10 aT by the Williams–Landel–Ferry formula; `difference_K` is T − T0.
 * @example wlf(17.44, 51.6, 10) // -2.831…
 */
export function wlf(c1: number, c2_K: number, difference_K: number): number {
  return (-c1 * difference_K) / (c2_K + difference_K);
}

/**
 * log10 aT by the Arrhenius formula, temperatures in K.
 * @example arrhenius(80_000, 263.15, 273.15) // 0.5813…
 */
export function arrhenius(
  activationEnergy_J_mol: number,
  temperature_K: number,
  reference_K: number,
): number {
  return (activationEnergy_J_mol / (Math.LN10 * gasConstant_J_molK)) * (1 / temperature_K - 1 / reference_K);
}

/**
 * Apparent activation energy of a WLF material, Ea(T) = ln 10 · R · C1 · C2 · T² / (C2 + T − T0)², in J/mol
 * (derived from the law; Ferry, Viscoelastic Properties of Polymers, 3rd ed., ch. 11).
 * @example apparentActivationEnergy_J_mol({ kind: "wlf", referenceTemperature_C: 25, c1: 3.44, c2_K: 196.6, tangentBelow_C: null }, 25) // 29777.9…
 */
export function apparentActivationEnergy_J_mol(law: WlfLaw, temperature_C: number): number {
  const temperature_K = temperature_C + zeroCelsius_K;
  const distance_K = law.c2_K + temperature_C - law.referenceTemperature_C;
  return (Math.LN10 * gasConstant_J_molK * law.c1 * law.c2_K * square(temperature_K)) / square(distance_K);
}

/**
 * log10 of the horizontal shift factor aT at a temperature.
 * @example log10ShiftFactor({ kind: "wlf", referenceTemperature_C: 0, c1: 17.44, c2_K: 51.6, tangentBelow_C: null }, 10) // -2.831…
 */
export function log10ShiftFactor(law: ShiftLaw, temperature_C: number): number {
  if (law.kind === "arrhenius") {
    return arrhenius(
      law.activationEnergy_J_mol,
      temperature_C + zeroCelsius_K,
      law.referenceTemperature_C + zeroCelsius_K,
    );
  }
  const border_C = law.tangentBelow_C;
  if (border_C !== null && temperature_C < border_C) {
    return (
      wlf(law.c1, law.c2_K, border_C - law.referenceTemperature_C) +
      arrhenius(
        apparentActivationEnergy_J_mol(law, border_C),
        temperature_C + zeroCelsius_K,
        border_C + zeroCelsius_K,
      )
    );
  }
  return wlf(law.c1, law.c2_K, temperature_C - law.referenceTemperature_C);
}

/**
 * The same law referred to another temperature: C2′ = C2 + T0′ − T0, C1′ = C1 C2 / C2′, so that C1·C2 and
 * T∞ = T0 − C2 stay (Ferry, Viscoelastic Properties of Polymers, 3rd ed., ch. 11). An Arrhenius law keeps its
 * activation energy. Throws a RangeError where the new reference is not above T∞.
 * @example changeReference({ kind: "wlf", referenceTemperature_C: 25, c1: 3.44, c2_K: 196.6, tangentBelow_C: null }, -112.15) // { kind: "wlf", referenceTemperature_C: -112.15, c1: 11.37…, c2_K: 59.45, tangentBelow_C: null }
 */
export function changeReference<Law extends ShiftLaw>(law: Law, referenceTemperature_C: number): Law {
  if (law.kind === "arrhenius") return { ...law, referenceTemperature_C };
  const c2_K = law.c2_K + referenceTemperature_C - law.referenceTemperature_C;
  if (!(c2_K > 0)) {
    throw new RangeError(
      `The reference temperature ${referenceTemperature_C} °C is not above T∞ = ${vogelTemperature_C(law)} °C, where the law has no value.`,
    );
  }
  return { ...law, referenceTemperature_C, c1: (law.c1 * law.c2_K) / c2_K, c2_K };
}

/**
 * T∞ = T0 − C2, the Vogel temperature, in °C: the same for every reference.
 * @example vogelTemperature_C({ kind: "wlf", referenceTemperature_C: 25, c1: 3.44, c2_K: 196.6, tangentBelow_C: null }) // -171.6
 */
export function vogelTemperature_C(law: WlfLaw): number {
  return law.referenceTemperature_C - law.c2_K;
}

/**
 * B = ln 10 · C1 · C2 in K, the constant of the Vogel–Fulcher–Tammann form ln τ = A + B/(T − T∞) of the same
 * curve.
 * @example vogelB_K({ kind: "wlf", referenceTemperature_C: 25, c1: 3.44, c2_K: 196.6, tangentBelow_C: null }) // 1557.2…
 */
export function vogelB_K(law: WlfLaw): number {
  return Math.LN10 * law.c1 * law.c2_K;
}

/**
 * Fragility m = d log10 τ / d(Tg/T) at Tg = C1 Tg / C2 with the constants at Tg, Tg in K
 * (Angell, Science 267, 1924, 1995).
 * @example fragility({ kind: "wlf", referenceTemperature_C: 25, c1: 3.44, c2_K: 196.6, tangentBelow_C: null }, -112.15) // 30.8…
 */
export function fragility(law: WlfLaw, glassTemperature_C: number): number {
  const atGlass = changeReference(law, glassTemperature_C);
  return (atGlass.c1 * (glassTemperature_C + zeroCelsius_K)) / atGlass.c2_K;
}

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
