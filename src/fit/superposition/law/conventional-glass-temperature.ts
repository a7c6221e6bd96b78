import { log10 } from "../../../numeric/elementary/logarithm.js";
import { log10ShiftFactor, type ShiftLaw, type WlfLaw } from "../../spectrum/shift-law.js";
import { referenceCurves } from "./reference-curves.js";

/**
 * Frequency whose loss peak stands for a relaxation time of 100 s, 1/(2π · 100 s) = 1.59 mHz. The published
 * constants at Tg go with the static (dilatometric) Tg, at which the segmental relaxation takes about 100 s
 * (common practice; Angell, Science 267, 1924, 1995), and not with a peak measured at 1 or 10 Hz, which lies
 * some 10 to 20 K above it.
 */
export const conventionalFrequency_Hz = 1 / (2 * Math.PI * 100);

export interface LossPeak {
  /** Temperature of the M″ peak. */
  temperature_C: number;
  frequency_Hz: number;
}

/** Temperature at which a law puts the loss peak at 1.59 mHz, from where the peak stands at another frequency. */
export function conventionalGlassTemperature_C(law: WlfLaw, peak: LossPeak): number {
  const log10aT =
    log10ShiftFactor({ ...law, tangentBelow_C: null }, peak.temperature_C) +
    log10(peak.frequency_Hz / conventionalFrequency_Hz);
  // Inverse of log10 aT = −C1 Δ/(C2 + Δ).
  return law.referenceTemperature_C - (log10aT * law.c2_K) / (law.c1 + log10aT);
}

/**
 * Decades from the relaxation at the static Tg to a loss peak measured at a frequency, log10(f/1.59 mHz).
 * @example decadesToGlass(1) // 2.798…
 */
export function decadesToGlass(frequency_Hz: number): number {
  return log10(frequency_Hz / conventionalFrequency_Hz);
}

/**
 * How far a loss peak at a frequency stands above the static Tg, in K: y C2/(C1 − y), y = log10(f/1.59 mHz). With
 * the universal constants 9.9 K at 1 Hz and 14.4 K at 10 Hz, as the trade's "10 to 20 K" has it for the tan δ
 * peak, a few kelvin above that of M″ (common practice).
 * @example peakAboveGlassTemperature_K(1) // 9.86
 */
export function peakAboveGlassTemperature_K(frequency_Hz: number): number {
  const { c1, c2_K } = referenceCurves.universal;
  const decades = decadesToGlass(frequency_Hz);
  return (decades * c2_K) / (c1 - decades);
}

/** Below this temperature a law of ours follows its tangent: see `tangentBelow_C`. Null for Arrhenius. */
export function tangentBorder_C(
  law: ShiftLaw,
  glassTemperature_C: number | null,
  coldest_C: number,
): number | null {
  if (law.kind === "arrhenius") return null;
  const vogel_C = law.referenceTemperature_C - law.c2_K;
  // Without a Tg, 50 K above T∞: C2 at Tg is 35 to 65 K for the published elastomers of common kinds.
  const glass_C = Math.max(glassTemperature_C ?? vogel_C + 50, vogel_C + 20);
  return Math.min(glass_C, coldest_C);
}
