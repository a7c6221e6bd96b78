import type { RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import { log10ShiftFactor, temperatureAtShift } from "../../fit/spectrum/shift-law.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { fixed, temperatureText } from "../../words/quantity-text.js";

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
  return `a temperature sweep at ${sweepFrequency_Hz} Hz from ${fixed(from_C)} to ${temperatureText(to_C, 0)} at 1 to 2 K/min, or frequency sweeps of ${isothermFrequencies} every 5 K over that range`;
}

const roundDown = (temperature_C: number) => 5 * Math.floor(temperature_C / 5);
const roundUp = (temperature_C: number) => 5 * Math.ceil(temperature_C / 5);
const finite = (value: number, otherwise: number) => (Number.isFinite(value) ? value : otherwise);
