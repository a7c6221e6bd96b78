import { glassAtFrequency } from "../../fit/glass/glass-at-frequency.js";
import { isInMeasuredRange, type RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import { log10ShiftFactor } from "../../fit/spectrum/shift-law.js";
import { exp10 } from "../../numeric/elementary/exponential.js";
import { ln, log10 } from "../../numeric/elementary/logarithm.js";
import { power } from "../../numeric/elementary/power.js";
import type { ValueInterval } from "../../numeric/statistics/value-interval.js";
import { fixed, frequencyText, statedTemperature, temperatureText } from "../../words/quantity-text.js";
import { hysteresisFriction, type SlidingState } from "../contact/friction.js";
import { tensileSpectrumAt } from "../contact/tensile-spectrum.js";
import type { PredictionSettings } from "../prediction-settings.js";

/** A border of the verdict: so many K above a peak at the contact frequency. */
export interface Border {
  name: "rubbery" | "above glassy";
  peak: "tanDeltaPeak_C" | "lossModulusPeak_C";
  above_K: number;
  /** Where it meets the temperature itself for the best model. */
  meets_C: number | null;
}

/** Why a part of what it would take is not known. */
export interface NotKnown {
  /** In full, of one border of one use. */
  reason: string;
  /** What holds alike for all uses, as a sentence without its end. */
  fact: string;
  /** What is this use's own of it; null where nothing is. */
  own: string | null;
}

const startFrequency_Hz = 300;
const mostIterations = 12;
/** 0.2 % of a frequency is some 0.003 K of a peak. */
const settled_decades = 1e-3;

/**
 * The frequency at which a border of the verdict stands at the temperature: that whose peak is `above_K` colder. From
 * any frequency f with its peak at T(f), f·aT(T(f))/aT(target) is that frequency but for the vertical factor, which
 * further rounds take in. Where there is none, why.
 */
export function frequencyAtBorder(
  model: RelaxationModel,
  temperature_C: number,
  border: Pick<Border, "name" | "peak" | "above_K">,
  settings: Pick<PredictionSettings, "lawReach_K">,
): number | NotKnown {
  const unknown = (fact: string, own: string, reason: string): NotKnown => ({
    reason: `${reason}, so the slower contact is not known`,
    fact: `How much slower the contact would have to be is not known where ${fact}`,
    own,
  });
  const peak = border.peak === "tanDeltaPeak_C" ? "tan δ" : "M″";
  const target_C = temperature_C - border.above_K;
  const excess_K = Math.max(model.lowestTemperature_C - target_C, target_C - model.highestTemperature_C);
  if (excess_K > settings.lawReach_K) {
    const outside = `${temperatureText(target_C, 0)}, ${fixed(excess_K, 0)} K outside`;
    return unknown(
      "the peak would have to lie too far outside the measured temperatures to extrapolate the shift law",
      `${peak} at ${outside}`,
      `the peak would have to lie at ${outside} the measured temperatures, too far to extrapolate the shift law`,
    );
  }
  const atTarget = log10ShiftFactor(model.law, target_C);
  let log10_Hz = log10(startFrequency_Hz);
  for (let i = 0; i < mostIterations; i++) {
    const glass = glassAtFrequency(model, exp10(log10_Hz));
    const peak_C = "absent" in glass ? null : glass[border.peak];
    if (peak_C === null) {
      const at = frequencyText(exp10(log10_Hz));
      return unknown(
        "the model of what was measured shows no peak",
        `${peak} at ${at}`,
        `the model of what was measured shows no ${peak} peak at ${at}`,
      );
    }
    const step = log10ShiftFactor(model.law, peak_C) - atTarget;
    log10_Hz += step;
    if (Math.abs(step) < settled_decades) break;
  }
  const frequency_Hz = exp10(log10_Hz);
  if (!isInMeasuredRange(model, temperature_C, frequency_Hz)) {
    const contact = frequencyText(frequency_Hz);
    return unknown(
      "that contact lies outside what was measured",
      contact,
      `a contact of ${contact} at ${statedTemperature(temperature_C)} lies outside what was measured`,
    );
  }
  return frequency_Hz;
}

/**
 * The sliding speed at which the contact frequency is the needed one: nearly in proportion, but q½ moves with the
 * speed. The interval follows that of the frequency factor with the exponent found on the way.
 * @returns null where the search does not settle
 */
export function slidingSpeedAt(
  model: RelaxationModel,
  temperature_C: number,
  sliding: SlidingState,
  needed_Hz: number,
  factor: ValueInterval,
  settings: PredictionSettings,
): ValueInterval | null {
  const spectrum = tensileSpectrumAt(model, temperature_C, settings);
  let speed_m_s = sliding.speed_m_s;
  let settled = false;
  for (let i = 0; i < 4 * mostIterations && !settled; i++) {
    const { contactFrequency_Hz } = hysteresisFriction(spectrum, { ...sliding, speed_m_s }, settings);
    if (contactFrequency_Hz === null) return null;
    const ratio = needed_Hz / contactFrequency_Hz;
    speed_m_s *= ratio;
    settled = Math.abs(ratio - 1) < 1e-3;
  }
  if (!settled) return null;
  const exponent = factor.value === 1 ? 1 : ln(speed_m_s / sliding.speed_m_s) / ln(factor.value);
  const scaled = (end: number | null) =>
    end === null ? null : speed_m_s * power(end / factor.value, exponent);
  return { value: speed_m_s, low: scaled(factor.low), high: scaled(factor.high) };
}
