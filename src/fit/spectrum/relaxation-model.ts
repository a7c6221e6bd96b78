import type { Deformation } from "../../io/measurement.js";
import { exp, exp10 } from "../../numeric/elementary/exponential.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import type { ComplexModulus } from "./complex-modulus.js";
import { densityTemperatureFactor } from "./density-temperature.js";
import { mixedModulus, type PhaseMixing } from "./phase-mixing.js";
import { log10ShiftFactor, type ShiftLaw } from "./shift-law.js";

/**
 * The vertical factor bT. "density-temperature" is bT = ρ0 T0 / (ρ T) with the density's own thermal
 * expansion; "fitted" interpolates log10 bT between the isotherms.
 */
export type VerticalShift =
  | { kind: "off" }
  | { kind: "density-temperature"; expansion_per_K: number }
  | { kind: "fitted"; temperature_C: number[]; log10bT: number[] };

/** A second phase of a blend: a spectrum of its own that moves by a law of its own. */
export interface FurtherPhase {
  /** At the reference temperature of the model's own law. */
  law: ShiftLaw;
  times_s: Float64Array;
  moduli_Pa: Float64Array;
  lowestReducedFrequency_Hz: number;
  highestReducedFrequency_Hz: number;
}

/**
 * One compound's linear viscoelasticity: a generalised Maxwell spectrum at the reference temperature of the
 * law, and the law that moves it. `lowest…` and `highest…` bound what was measured: reduced frequency in Hz
 * at the reference temperature, and temperature in °C.
 */
export interface RelaxationModel {
  deformation: Deformation;
  law: ShiftLaw;
  verticalShift: VerticalShift;
  equilibriumModulus_Pa: number;
  times_s: Float64Array;
  moduli_Pa: Float64Array;
  lowestReducedFrequency_Hz: number;
  highestReducedFrequency_Hz: number;
  lowestTemperature_C: number;
  highestTemperature_C: number;
  /**
   * Where the superposed data end; what lies above, up to `highestReducedFrequency_Hz`, was measured in the glass and
   * stands there by the law's tangent: extrapolated. Missing: nothing lies above.
   */
  superposedUpTo_Hz?: number;
  /** Of a blend, the phase beside the one that governs; its modes add to the model's own at every temperature. */
  furtherPhase?: FurtherPhase;
  /**
   * Of a blend, what its moduli at a temperature and frequency follow more closely than two phases side by side: a power
   * law of mixing. It has no spectrum; what is integrated over one (impact, friction, relaxation) takes the two phases.
   */
  mixing?: PhaseMixing;
  /** Measured at this temperature alone, °C: the law only tells warmer from colder, and nothing is moved by it. */
  onlyAt_C?: number;
  /** Root mean square relative misfit of a blend's model, which its predictions carry in their intervals. */
  misfit?: number;
}

/**
 * Me + Σ Mi ω²τi²/(1+ω²τi²) and Σ Mi ωτi/(1+ω²τi²), at the reference temperature (Ferry, 3rd ed., ch. 3).
 * @example maxwellModulus({ equilibriumModulus_Pa: 1e6, times_s: Float64Array.of(1), moduli_Pa: Float64Array.of(2e6) }, 1) // { storageModulus_Pa: 2000000, lossModulus_Pa: 1000000 }
 */
export function maxwellModulus(
  model: Pick<RelaxationModel, "equilibriumModulus_Pa" | "times_s" | "moduli_Pa" | "furtherPhase">,
  angularFrequency_rad_s: number,
): ComplexModulus {
  const own = modesAt(model, angularFrequency_rad_s);
  const further =
    model.furtherPhase === undefined ? none : modesAt(model.furtherPhase, angularFrequency_rad_s);
  return {
    storageModulus_Pa: model.equilibriumModulus_Pa + own.storageModulus_Pa + further.storageModulus_Pa,
    lossModulus_Pa: own.lossModulus_Pa + further.lossModulus_Pa,
  };
}

const none: ComplexModulus = { storageModulus_Pa: 0, lossModulus_Pa: 0 };

function modesAt(
  model: Pick<RelaxationModel, "times_s" | "moduli_Pa">,
  angularFrequency_rad_s: number,
): ComplexModulus {
  let storageModulus_Pa = 0;
  let lossModulus_Pa = 0;
  for (let i = 0; i < model.times_s.length; i++) {
    const x = angularFrequency_rad_s * model.times_s[i];
    const share = model.moduli_Pa[i] / (1 + x * x);
    storageModulus_Pa += share * x * x;
    lossModulus_Pa += share * x;
  }
  return { storageModulus_Pa, lossModulus_Pa };
}

/**
 * log10 of the vertical factor bT; moduli at T are those at T0 divided by bT.
 * @example log10VerticalFactor({ kind: "density-temperature", expansion_per_K: 0 }, exampleModel().law, exampleModel().law.referenceTemperature_C) // 0
 */
export function log10VerticalFactor(vertical: VerticalShift, law: ShiftLaw, temperature_C: number): number {
  if (vertical.kind === "off") return 0;
  if (vertical.kind === "density-temperature") return log10(verticalFactor(vertical, law, temperature_C));
  return interpolateClamped(vertical.temperature_C, vertical.log10bT, temperature_C);
}

/**
 * The vertical factor bT itself: moduli at a temperature are those at the reference temperature divided by it.
 * @example verticalFactor({ kind: "off" }, exampleModel().law, 23) // 1
 */
export function verticalFactor(vertical: VerticalShift, law: ShiftLaw, temperature_C: number): number {
  if (vertical.kind === "off") return 1;
  if (vertical.kind === "fitted") return exp10(log10VerticalFactor(vertical, law, temperature_C));
  return densityTemperatureFactor(temperature_C, law.referenceTemperature_C, vertical.expansion_per_K);
}

function interpolateClamped(x: number[], y: number[], at: number): number {
  if (x.length === 0) return 0;
  if (at <= x[0]) return y[0];
  for (let i = 1; i < x.length; i++) {
    if (at <= x[i]) return y[i - 1] + ((y[i] - y[i - 1]) * (at - x[i - 1])) / (x[i] - x[i - 1]);
  }
  return y[y.length - 1];
}

/**
 * Frequency times aT, the frequency at which the reference temperature shows the same state.
 * @example reducedFrequency_Hz(exampleModel(), exampleModel().law.referenceTemperature_C, 10) // 10
 */
export function reducedFrequency_Hz(
  model: RelaxationModel,
  temperature_C: number,
  frequency_Hz: number,
): number {
  return frequency_Hz * exp10(log10ShiftFactor(model.law, temperature_C));
}

/**
 * Complex modulus at a temperature and frequency, by superposition; Pa in the model's own deformation mode.
 * @example complexModulus(exampleModel(), 23, 10) // { storageModulus_Pa: 2214484.2…, lossModulus_Pa: 356444.6… }
 */
export function complexModulus(
  model: RelaxationModel,
  temperature_C: number,
  frequency_Hz: number,
): ComplexModulus {
  if (model.mixing !== undefined) return mixedModulus(model.mixing, temperature_C, frequency_Hz);
  const angular = 2 * Math.PI * reducedFrequency_Hz(model, temperature_C, frequency_Hz);
  const own = modesAt(model, angular);
  const { furtherPhase } = model;
  const further =
    furtherPhase === undefined
      ? none
      : modesAt(
          furtherPhase,
          2 * Math.PI * frequency_Hz * exp10(log10ShiftFactor(furtherPhase.law, temperature_C)),
        );
  const factor = verticalFactor(model.verticalShift, model.law, temperature_C);
  return {
    storageModulus_Pa:
      (model.equilibriumModulus_Pa + own.storageModulus_Pa + further.storageModulus_Pa) / factor,
    lossModulus_Pa: (own.lossModulus_Pa + further.lossModulus_Pa) / factor,
  };
}

/**
 * M(t) = Me + Σ Mi exp(−t/(aT τi)) at a temperature; Pa.
 * @example relaxationModulus(exampleModel(), 23, 10) // 1395190.1…
 */
export function relaxationModulus(model: RelaxationModel, temperature_C: number, time_s: number): number {
  const after = (law: ShiftLaw) => time_s / exp10(log10ShiftFactor(law, temperature_C));
  const { law, furtherPhase } = model;
  const own_Pa = remainingModulus(model, after(law));
  const further_Pa = furtherPhase === undefined ? 0 : remainingModulus(furtherPhase, after(furtherPhase.law));
  return (
    (model.equilibriumModulus_Pa + own_Pa + further_Pa) /
    verticalFactor(model.verticalShift, law, temperature_C)
  );
}

/** After so many of its times e^−x leaves a mode less than the last digit of any modulus. */
const diedAway = 50;

/** Σ Mi exp(−t/τi) at the reference temperature; Pa. */
function remainingModulus(
  { times_s, moduli_Pa }: Pick<RelaxationModel, "times_s" | "moduli_Pa">,
  time_s: number,
): number {
  let modulus_Pa = 0;
  for (let i = 0; i < times_s.length; i++) {
    const x = time_s / times_s[i];
    if (x < diedAway) modulus_Pa += moduli_Pa[i] * exp(-x);
  }
  return modulus_Pa;
}

/**
 * Whether a state lies inside what was measured, after superposition.
 * @example isInMeasuredRange(exampleModel(), 23, 10) // true
 */
export function isInMeasuredRange(
  model: RelaxationModel,
  temperature_C: number,
  frequency_Hz: number,
): boolean {
  const { furtherPhase: further } = model;
  if (further !== undefined) {
    const further_Hz = frequency_Hz * exp10(log10ShiftFactor(further.law, temperature_C));
    if (further_Hz < further.lowestReducedFrequency_Hz || further_Hz > further.highestReducedFrequency_Hz)
      return false;
  }
  const reduced_Hz = reducedFrequency_Hz(model, temperature_C, frequency_Hz);
  return reduced_Hz >= model.lowestReducedFrequency_Hz && reduced_Hz <= model.highestReducedFrequency_Hz;
}
