import { exp10 } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { cube, square } from "../../numeric/elementary/power.js";
import { fiellerInterval, studentT95 } from "../../numeric/statistics/confidence.js";
import type { GlassTransition, Superposition } from "../material.js";
import { maxwellModulus, type RelaxationModel } from "../spectrum/relaxation-model.js";
import {
  apparentActivationEnergy_J_mol,
  changeReference,
  fragility,
  gasConstant_J_molK,
  type ShiftLaw,
  vogelB_K,
  vogelTemperature_C,
  type WlfLaw,
  zeroCelsius_K,
} from "../spectrum/shift-law.js";
import { conventionalGlassTemperature_C, type LossPeak } from "./law/conventional-glass-temperature.js";
import { type LawFit, lawShift, runShift, smallestBend } from "./law/law-fit.js";
import type { SuperpositionFit } from "./shift/superposition-fit.js";

/** The law of a fit as a formula at the reference isotherm; no tangent border yet. */
export function lawOf(fit: Pick<LawFit, "shape" | "parameters">): ShiftLaw {
  const { shape, parameters } = fit;
  if (shape.kind === "arrhenius") {
    return {
      kind: "arrhenius",
      referenceTemperature_C: shape.reference_C,
      activationEnergy_J_mol: parameters[0] * 1000 * Math.LN10 * gasConstant_J_molK,
    };
  }
  return {
    kind: "wlf",
    referenceTemperature_C: shape.reference_C,
    c1: parameters[0] / parameters[1],
    c2_K: 1 / parameters[1],
    tangentBelow_C: shape.border_C,
  };
}

/** True where the data give the curve no bend, so that C1 and C2 have no finite value. */
export function isStraight(fit: LawFit): boolean {
  return fit.shape.kind === "wlf" && fit.parameters[1] <= 1.01 * smallestBend;
}

/** C1 and C2 at a reference temperature with their 95 % intervals; an end without bound is null. */
export function describeWlf(fit: LawFit | null, reference_C: number): Superposition["wlf"] {
  if (fit === null || isStraight(fit)) return null;
  const law = lawOf(fit) as WlfLaw;
  const shift_K = reference_C - fit.shape.reference_C;
  if (!(law.c2_K + shift_K > 0)) return null;
  const { c1, c2_K } = changeReference(law, reference_C);
  const size = fit.parameters.length;
  const t = studentT95(fit.degreesOfFreedom);
  const [s, kappa] = fit.parameters;
  const { covariance } = fit;
  const half = t * Math.sqrt(covariance[size + 1]);
  // Slope and bend at the new reference, to first order, give C1 as their ratio.
  const stretch = 1 + kappa * shift_K;
  const slope = s / square(stretch);
  const bend = kappa / stretch;
  const dSlope = [1 / square(stretch), (-2 * s * shift_K) / cube(stretch)];
  const dBend = 1 / square(stretch);
  const varianceSlope =
    square(dSlope[0]) * covariance[0] +
    2 * dSlope[0] * dSlope[1] * covariance[1] +
    square(dSlope[1]) * covariance[size + 1];
  const shared = dBend * (dSlope[0] * covariance[1] + dSlope[1] * covariance[size + 1]);
  const interval = fiellerInterval(
    slope,
    bend,
    varianceSlope,
    shared,
    square(dBend) * covariance[size + 1],
    t,
  );
  return {
    c1,
    c2_K,
    c1Low: finite(interval.low),
    c1High: finite(interval.high),
    c2Low_K: finite(1 / (kappa + half) + shift_K),
    c2High_K: kappa > half ? finite(1 / (kappa - half) + shift_K) : null,
  };
}

const finite = (value: number | null) => (value !== null && Number.isFinite(value) ? value : null);

/** The activation energy of an Arrhenius fit in J/mol with its 95 % interval; null where the law was not fitted. */
export function describeArrhenius(fit: LawFit | null): Superposition["arrhenius"] {
  if (fit === null) return null;
  const unit = 1000 * Math.LN10 * gasConstant_J_molK;
  const half = studentT95(fit.degreesOfFreedom) * Math.sqrt(fit.covariance[0]) * unit;
  const value = fit.parameters[0] * unit;
  return { activationEnergy_J_mol: value, low_J_mol: finite(value - half), high_J_mol: finite(value + half) };
}

/**
 * Values that follow from a WLF law: T∞ and B where the curve bends enough to put T∞ above absolute zero, fragility and
 * activation energy where Tg is known.
 */
export function deriveFromWlf(
  law: ShiftLaw,
  wlf: Superposition["wlf"],
  glassTemperature_C: number | null,
): Superposition["derived"] {
  if (law.kind !== "wlf") return null;
  const plain: WlfLaw = { ...law, tangentBelow_C: null };
  const vogel_C = vogelTemperature_C(plain);
  const usable = glassTemperature_C !== null && glassTemperature_C > vogel_C;
  const bends = vogel_C > -zeroCelsius_K;
  const end = (c2_K: number | null | undefined) =>
    c2_K == null || !bends ? null : Math.max(-zeroCelsius_K, plain.referenceTemperature_C - c2_K);
  return {
    vogelTemperature_C: bends ? vogel_C : null,
    vogelTemperatureLow_C: end(wlf?.c2High_K),
    vogelTemperatureHigh_C: end(wlf?.c2Low_K),
    vogelB_K: bends ? vogelB_K(plain) : null,
    fragility: usable ? fragility(plain, glassTemperature_C) : null,
    activationEnergyAtTg_J_mol: usable ? apparentActivationEnergy_J_mol(plain, glassTemperature_C) : null,
    glassTemperature_C: usable ? glassTemperature_C : null,
  };
}

/**
 * Each isotherm's own shift with its 95 % interval, on the law's reference. The shifts are aligned with the
 * law in the mean, because a single isotherm, the reference too, has its own error. The scatter about the law is in
 * the intervals: where the isotherms scatter by more than their errors, their temperatures are not what they say.
 */
export function describeShifts(
  fit: SuperpositionFit,
  referenceShift: number,
  log10bT: (isotherm: number) => number,
): Superposition["shifts"] {
  const { shifts, chosen, set } = fit;
  const count = shifts.temperature_C.length;
  const { shape, parameters } = chosen;
  const byLaw = (k: number) => runShift(shape, parameters, shifts.temperature_C[k], shifts.run[k]);
  const home = byLaw(shifts.reference);
  const away = shifts.log10aT.map((shift, k) => shift - byLaw(k) + home);
  const variance = Float64Array.from({ length: count }, (_, k) => shifts.covariance[k * count + k]);
  // The mean is taken over the isotherms whose shift is known to a tenth of a decade.
  const known = Array.from({ length: count }, (_, k) => k).filter((k) => variance[k] < 0.01);
  const pool = known.length > 0 ? known : Array.from({ length: count }, (_, k) => k);
  const mean = pool.reduce((sum, k) => sum + away[k], 0) / pool.length;
  let overall = 0;
  for (const a of pool)
    for (const b of pool) overall += shifts.covariance[a * count + b] / square(pool.length);
  return set.isotherms
    .map((isotherm, k) => {
      let shared = 0;
      for (const b of pool) shared += shifts.covariance[k * count + b] / pool.length;
      const half =
        1.96 * Math.sqrt(Math.max(0, variance[k] - 2 * shared + overall) + square(chosen.scatter_decades));
      const law = lawShift(shape, parameters, isotherm.temperature_C);
      const log10aT = law + away[k] - mean - referenceShift;
      return {
        temperature_C: isotherm.temperature_C,
        log10aT,
        log10aTLow: log10aT - half,
        log10aTHigh: log10aT + half,
        log10bT: log10bT(k),
      };
    })
    .sort((a, b) => a.temperature_C - b.temperature_C);
}

/** The loss peak that the constants are carried to Tg from: measured on a sweep, else that of the master curve. */
export function lossPeakOf(
  glassTransitions: GlassTransition[],
  deformation: GlassTransition["deformation"],
  spectrum: Pick<RelaxationModel, "equilibriumModulus_Pa" | "times_s" | "moduli_Pa">,
  window_Hz: { low: number; high: number },
  reference_C: number,
): LossPeak | null {
  const measured = measuredLossPeak(glassTransitions, deformation);
  if (measured !== null) return measured;
  const low = log10(window_Hz.low);
  const high = log10(window_Hz.high);
  const steps = Math.max(20, Math.ceil((high - low) * 20));
  let best = 0;
  let largest = 0;
  for (let i = 0; i <= steps; i++) {
    const { lossModulus_Pa } = maxwellModulus(
      spectrum,
      2 * Math.PI * exp10(low + ((high - low) * i) / steps),
    );
    if (lossModulus_Pa > largest) {
      largest = lossModulus_Pa;
      best = i;
    }
  }
  // At the edge of the window the peak lies beyond it.
  if (best < steps * 0.02 || best > steps * 0.98) return null;
  return { temperature_C: reference_C, frequency_Hz: exp10(low + ((high - low) * best) / steps) };
}

/** The bracketed M″ peak measured at the lowest frequency in this deformation mode. */
export function measuredLossPeak(
  glassTransitions: GlassTransition[],
  deformation: GlassTransition["deformation"],
): LossPeak | null {
  let best: LossPeak | null = null;
  for (const { lossModulusPeak: peak, frequency_Hz, deformation: mode } of glassTransitions) {
    if (mode !== deformation || peak === null || !peak.bracketed || peak.temperature_C === null) continue;
    if (best === null || frequency_Hz < best.frequency_Hz)
      best = { temperature_C: peak.temperature_C, frequency_Hz };
  }
  return best;
}

/** Tg of a WLF law from a loss peak; null for Arrhenius, without a peak, or where the law does not reach it. */
export function glassTemperatureOf(law: ShiftLaw, peak: LossPeak | null): number | null {
  if (law.kind !== "wlf" || peak === null) return null;
  if (!(peak.temperature_C > vogelTemperature_C(law))) return null;
  const value = conventionalGlassTemperature_C(law, peak);
  return Number.isFinite(value) && value > vogelTemperature_C(law) ? value : null;
}
