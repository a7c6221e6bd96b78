import type { RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import {
  apparentActivationEnergy_J_mol,
  gasConstant_J_molK,
  log10ShiftFactor,
  type ShiftLaw,
  wlf,
  zeroCelsius_K,
} from "../../fit/spectrum/shift-law.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { signed } from "../../words/number-words.js";

/** How a band of frequencies at a temperature stands to what was measured. */
export interface Reach {
  /** Share of the band, in decades, outside the measured reduced frequencies: 0 inside, 1 outside. */
  outsideShare: number;
  /** On which side the most of it lies. */
  side: "inside" | "too cold or fast" | "too warm or slow";
  /** How far the temperature lies outside the measured temperatures; 0 inside. */
  temperatureExcess_K: number;
}

/** Frequencies in Hz at the temperature; a single frequency is a band of no width. */
export function measuredReach(
  model: RelaxationModel,
  temperature_C: number,
  lowest_Hz: number,
  highest_Hz: number,
): Reach {
  const own = reachOfPhase(model, model, temperature_C, lowest_Hz, highest_Hz);
  if (model.furtherPhase === undefined) return own;
  // A blend is known where both of its phases are.
  const further = reachOfPhase(model.furtherPhase, model, temperature_C, lowest_Hz, highest_Hz);
  return further.outsideShare > own.outsideShare ? further : own;
}

function reachOfPhase(
  phase: Pick<RelaxationModel, "law" | "lowestReducedFrequency_Hz" | "highestReducedFrequency_Hz">,
  model: RelaxationModel,
  temperature_C: number,
  lowest_Hz: number,
  highest_Hz: number,
): Reach {
  const shift = log10ShiftFactor(phase.law, temperature_C);
  const from = log10(lowest_Hz) + shift;
  const to = log10(highest_Hz) + shift;
  const low = log10(phase.lowestReducedFrequency_Hz);
  const high = log10(phase.highestReducedFrequency_Hz);
  const width = Math.max(to - from, 1e-9);
  const above = Math.min(1, Math.max(0, to - high) / width);
  const below = Math.min(1, Math.max(0, low - from) / width);
  const side =
    above === 0 && below === 0 ? "inside" : above >= below ? "too cold or fast" : "too warm or slow";
  return {
    outsideShare: Math.min(1, above + below),
    side,
    temperatureExcess_K: Math.max(
      0,
      model.lowestTemperature_C - temperature_C,
      temperature_C - model.highestTemperature_C,
    ),
  };
}

/** Sweeps are advised at this frequency, and isotherms over this range: what most instruments do. */
const sweepFrequency_Hz = 1;
const isothermFrequencies = "0.1 to 100 Hz";
/** Beyond the state itself, so that it is bracketed. */
const sparing_K = 10;

/**
 * The sweep that would reach a state, in words: the temperature at which a 1 Hz sweep shows what the use shows
 * at its own frequency, with some spare, and the same as isotherms.
 */
export function sweepToReach(
  model: RelaxationModel,
  temperature_C: number,
  frequency_Hz: number,
  side: "too cold or fast" | "too warm or slow",
): string {
  const log10aT = log10ShiftFactor(model.law, temperature_C) + log10(frequency_Hz) - log10(sweepFrequency_Hz);
  const equivalent_C = temperatureAtShift(model.law, log10aT) ?? temperature_C;
  if (side === "too cold or fast") {
    const from_C = roundDown(Math.min(equivalent_C, temperature_C) - sparing_K);
    const to_C = roundUp(
      Math.max(finite(model.lowestTemperature_C, temperature_C), temperature_C) + sparing_K,
    );
    return sweepWords(from_C, to_C);
  }
  const to_C = roundUp(Math.max(equivalent_C, temperature_C) + sparing_K);
  const from_C = roundDown(
    Math.min(finite(model.highestTemperature_C, temperature_C), temperature_C) - sparing_K,
  );
  return sweepWords(from_C, to_C);
}

/** The sweep that would settle it, as a test to run, from and to temperatures in °C. */
export function sweepWords(from_C: number, to_C: number): string {
  return `a temperature sweep at ${sweepFrequency_Hz} Hz from ${signed(from_C)} to ${signed(to_C)} °C at 1 to 2 K/min, or frequency sweeps of ${isothermFrequencies} every 5 K over that range`;
}

const roundDown = (temperature_C: number) => 5 * Math.floor(temperature_C / 5);
const roundUp = (temperature_C: number) => 5 * Math.ceil(temperature_C / 5);
const finite = (value: number, otherwise: number) => (Number.isFinite(value) ? value : otherwise);

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
