import type { MeasuredState } from "../../fit/measured-states.js";
import { exp } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { noticeIn } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import {
  frequencyText,
  pascalText,
  significant,
  statedTemperature,
  temperatureText,
} from "../../words/quantity-text.js";

/** Beyond this a state says little of another temperature: a transition passes in some 10 K. */
const farthest_K = 5;
/** States so much further than the nearest in temperature still compete by their frequency. */
const asGood_K = 2.5;
/** A model that is off by more in what was measured is not to be trusted in what was not. */
const largestModulusFactor = 1.5;
const largestTanDeltaFactor = 1.4;

/** Of the measured states nearest to the use temperature the one nearest to the contact frequency; null: none within 5 K. */
export function nearestMeasurement(
  states: MeasuredState[],
  temperature_C: number,
  contactFrequency_Hz: number | null,
): MeasuredState | null {
  const away_K = (state: MeasuredState) => Math.abs(state.temperature_C - temperature_C);
  const nearest_K = Math.min(...states.map(away_K));
  if (!(nearest_K <= farthest_K)) return null;
  const away = (state: MeasuredState) => Math.abs(ln(state.frequency_Hz / (contactFrequency_Hz ?? 1)));
  return states
    .filter((state) => away_K(state) <= nearest_K + asGood_K)
    .reduce((a, b) => (away(b) < away(a) || (away(b) === away(a) && away_K(b) < away_K(a)) ? b : a));
}

/** Where the model misses the compound's own data near the use, its numbers there are doubtful. */
export function misfitNotice(state: MeasuredState, temperature_C: number): Notice | null {
  if (
    Math.abs(state.modulusMisfit_ln) <= ln(largestModulusFactor) &&
    Math.abs(state.tanDeltaMisfit_ln) <= ln(largestTanDeltaFactor)
  ) {
    return null;
  }
  const at = `${temperatureText(state.temperature_C, 0)} and ${frequencyText(state.frequency_Hz)}`;
  const measured = `M′ ${pascalText(state.storageModulus_Pa)} and tan δ ${significant(state.tanDelta, 2)}`;
  const modelled = `${pascalText(state.modelStorageModulus_Pa)} and ${significant(state.modelTanDelta, 2)}`;
  const times = (misfit_ln: number) => significant(exp(misfit_ln), 2);
  return noticeIn(
    "predict.model-misses-data",
    "The model misses the compound's own data near the use, so rebound, grip and verdict there are doubtful",
    [
      `near ${statedTemperature(temperature_C)}, at ${at}, ${measured} were measured, and the model has ${modelled} (around there the measured |M*| is ${times(state.modulusMisfit_ln)} times the model's and tan δ ${times(state.tanDeltaMisfit_ln)} times, medians)`,
    ],
  );
}
