import { exp10 } from "../../../numeric/elementary/exponential.js";
import { log10VerticalFactor, type VerticalShift } from "../../spectrum/relaxation-model.js";
import type { ShiftLaw } from "../../spectrum/shift-law.js";
import type { IsothermSet } from "../isotherms/isotherms.js";
import type { SuperpositionSettings } from "../superposition-settings.js";
import type { SuperpositionFit } from "./superposition-fit.js";

/** The vertical factor that is known beforehand: by density and temperature, or none. */
export const densityShift = (
  settings: Pick<SuperpositionSettings, "verticalShift" | "expansion_per_K">,
): VerticalShift =>
  settings.verticalShift === "density-temperature"
    ? { kind: "density-temperature", expansion_per_K: settings.expansion_per_K }
    : { kind: "off" };

/**
 * log10 of the vertical factor that is known beforehand, at every isotherm.
 * @returns decades, one an isotherm
 */
export function knownVertical(set: IsothermSet, vertical: VerticalShift, reference_C: number): Float64Array {
  const anchor: ShiftLaw = {
    kind: "arrhenius",
    referenceTemperature_C: reference_C,
    activationEnergy_J_mol: 0,
  };
  return Float64Array.from(set.isotherms, ({ temperature_C }) =>
    log10VerticalFactor(vertical, anchor, temperature_C),
  );
}

/**
 * The set with its moduli multiplied by bT.
 * @param log10bT decades, one an isotherm
 */
export function scaled(set: IsothermSet, log10bT: Float64Array): IsothermSet {
  if (log10bT.every((b) => b === 0)) return set;
  const storageModulus_Pa = set.storageModulus_Pa.slice();
  const lossModulus_Pa = set.lossModulus_Pa.slice();
  for (const [k, { first, end }] of set.isotherms.entries()) {
    for (let i = first; i < end; i++) {
      storageModulus_Pa[i] *= exp10(log10bT[k]);
      lossModulus_Pa[i] *= exp10(log10bT[k]);
    }
  }
  return { ...set, storageModulus_Pa, lossModulus_Pa };
}

/** The fitted vertical shifts as a table against temperature. */
export function fittedVertical(fit: SuperpositionFit): VerticalShift {
  const order = fit.set.isotherms
    .map(({ temperature_C }, k) => ({ temperature_C, log10bT: fit.log10bT[k] }))
    .sort((a, b) => a.temperature_C - b.temperature_C);
  return {
    kind: "fitted",
    temperature_C: order.map((entry) => entry.temperature_C),
    log10bT: order.map((entry) => entry.log10bT),
  };
}
