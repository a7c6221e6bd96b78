import type { z } from "zod";
import { isPoint, transitionAtFrequency } from "../../fit/glass/glass-at-frequency.js";
import type { Material } from "../../fit/material.js";
import { type RelaxationModel, relaxationModulus } from "../../fit/spectrum/relaxation-model.js";
import { intervalAround } from "../../numeric/statistics/value-interval.js";
import { cautions } from "../../words/cautions.js";
import { notice } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { temperatureText } from "../../words/quantity-text.js";
import { instrumentDeviates } from "../contact/drawn-contacts.js";
import type { stiffeningSchema } from "../outlook-schema.js";
import type { PredictionSettings } from "../prediction-settings.js";
import { measuredReach, sweepToReach } from "./measured-reach.js";

const stiffeningRatios = [2, 5, 10, 100] as const;

export type StiffeningTemperature = Stiffening["temperatures"][number];

export type Stiffening = z.infer<typeof stiffeningSchema>;

/**
 * Stiffening in the cold: the temperatures at which the relaxation modulus at 10 s is 2, 5, 10 and 100 times
 * that at 23 °C, the ratios of the Gehman test (ISO 1432). Computed from dynamic data; not that test.
 * @example stiffening(exampleMaterial(), defaultPredictionSettings).stiffening.temperatures.map(({ ratio }) => ratio) // [2, 5, 10, 100]
 */
export function stiffening(
  material: Material,
  settings: PredictionSettings,
): { stiffening: Stiffening | null; notices: Notice[] } {
  const { model } = material;
  if (model === null) return { stiffening: null, notices: [] };
  const { stiffeningTime_s: time_s, stiffeningReference_C: reference_C } = settings;
  const reference = relaxationReach(model, reference_C, time_s);
  if (!reference.inside && reference.side === "too cold or fast") {
    const message = `Stiffening is not determined: the ${time_s} s modulus at ${temperatureText(reference_C, 0)} lies outside what was measured. To settle it, run ${sweepToReach(model, reference_C, equivalentFrequency_Hz(time_s), "too cold or fast")}.`;
    return { stiffening: null, notices: [notice("predict.stiffening-outside-range", message)] };
  }
  const notices: Notice[] = [];
  const draws = material.draws;
  const deviates = instrumentDeviates(draws.length, settings);
  const own = temperaturesAtRatios(model, stiffeningRatios, settings);
  const known = stiffeningRatios.flatMap((ratio, k) => {
    const temperature_C = own[k];
    return temperature_C !== null && relaxationReach(model, temperature_C, time_s).inside
      ? [{ ratio, temperature_C }]
      : [];
  });
  const knownRatios = known.map(({ ratio }) => ratio);
  const ofDraws = draws.map((draw) => temperaturesAtRatios(draw, knownRatios, settings));
  // What lies on the warm side of all that was measured leans on the rest of the rubbery range as the reference does.
  const isTooWarm = (temperature_C: number | null) =>
    temperature_C !== null && relaxationReach(model, temperature_C, time_s).side === "too warm or slow";
  const withoutReference = stiffeningRatios.filter((_, k) => isTooWarm(own[k])).map((ratio) => `T${ratio}`);
  const temperatures = stiffeningRatios.map((ratio): StiffeningTemperature => {
    const k = knownRatios.indexOf(ratio);
    if (k < 0) return { ratio, reached: null };
    const { temperature_C } = known[k];
    const drawn = ofDraws.map((found, i) => (found[k] ?? Number.NaN) + deviates[i].temperature_K);
    const { low, high } = intervalAround(temperature_C, drawn);
    // Where the material flows in some draws, any modulus is a hundred times that at the reference.
    if (!reference.inside && high > reference_C - step_K) {
      withoutReference.push(`T${ratio}`);
      return { ratio, reached: null };
    }
    return { ratio, reached: { temperature_C, low_C: low, high_C: Math.min(high, reference_C) } };
  });
  const missing = temperatures
    .filter(({ reached }) => reached === null)
    .map(({ ratio }) => `T${ratio}`)
    .filter((name) => !withoutReference.includes(name));
  // Times a modulus that is not known, none of the others is either.
  if (!reference.inside && withoutReference.length > 0) withoutReference.push(...missing.splice(0));
  if (withoutReference.length > 0) {
    const message = `${withoutReference.join(", ")} ${withoutReference.length === 1 ? "is" : "are"} not determined: what was measured does not tell the ${time_s} s modulus up to ${temperatureText(reference_C, 0)}, to which ${withoutReference.length === 1 ? "it refers" : "they refer"}. To settle it, run ${sweepToReach(model, reference_C, equivalentFrequency_Hz(time_s), "too warm or slow")}.`;
    notices.push(notice("predict.stiffening-outside-range", message));
  }
  const glassRatio = stiffnessOfGlass(model, settings);
  const never = glassRatio === null ? [] : missing.filter((name) => Number(name.slice(1)) > glassRatio);
  if (never.length > 0) {
    missing.splice(0, missing.length, ...missing.filter((name) => !never.includes(name)));
    const message = `${never.join(", ")} ${never.length === 1 ? "is" : "are"} not reached: the glass, measured down to ${temperatureText(model.lowestTemperature_C, 0)}, is ${Number(glassRatio!.toPrecision(2))} times as stiff as the compound at ${temperatureText(reference_C, 0)}.`;
    notices.push(notice("predict.stiffening-outside-range", message));
  }
  if (missing.length > 0) {
    const from_C = Number.isFinite(model.lowestTemperature_C) ? model.lowestTemperature_C : reference_C;
    const message = `${missing.join(", ")} ${missing.length === 1 ? "is" : "are"} not determined: the compound does not stiffen that far inside what was measured. To settle it, run ${sweepToReach(model, from_C - 20, equivalentFrequency_Hz(time_s), "too cold or fast")}.`;
    notices.push(notice("predict.stiffening-outside-range", message));
  }
  return {
    stiffening: { time_s, referenceTemperature_C: reference_C, temperatures, caution: cautions.stiffening },
    notices,
  };
}

/** So far below its M″ peak a glass stiffens no more by what counts here. */
const intoGlass_K = 20;

/** How many times as stiff the glass is as the reference, where it was measured well below its peak; else null. */
function stiffnessOfGlass(
  model: RelaxationModel,
  { stiffeningTime_s: time_s, stiffeningReference_C: reference_C }: PredictionSettings,
): number | null {
  const coldest_C = model.lowestTemperature_C;
  const { lossModulus } = transitionAtFrequency(model, equivalentFrequency_Hz(time_s));
  if (!isPoint(lossModulus) || coldest_C > lossModulus.low_C - intoGlass_K) return null;
  return relaxationModulus(model, coldest_C, time_s) / relaxationModulus(model, reference_C, time_s);
}

/** A relaxation after t shows what an oscillation of ω = 1/t does (common practice). */
const equivalentFrequency_Hz = (time_s: number) => 1 / (2 * Math.PI * time_s);

function relaxationReach(model: RelaxationModel, temperature_C: number, time_s: number) {
  const frequency_Hz = equivalentFrequency_Hz(time_s);
  const reach = measuredReach(model, temperature_C, frequency_Hz, frequency_Hz);
  return { inside: reach.outsideShare === 0, side: reach.side };
}

const coldest_C = -150;
const step_K = 2;

/** First temperatures on the way down from the reference at which ascending ratios are reached; null for one that is not. */
function temperaturesAtRatios(
  model: RelaxationModel,
  ratios: readonly number[],
  settings: PredictionSettings,
): (number | null)[] {
  const { stiffeningTime_s: time_s, stiffeningReference_C: reference_C } = settings;
  const modulusAt_Pa = (temperature_C: number) => relaxationModulus(model, temperature_C, time_s);
  const reference_Pa = modulusAt_Pa(reference_C);
  let cold_C = reference_C - step_K;
  let coldModulus_Pa = modulusAt_Pa(cold_C);
  return ratios.map((ratio) => {
    const target_Pa = ratio * reference_Pa;
    while (coldModulus_Pa < target_Pa && cold_C >= coldest_C) {
      cold_C -= step_K;
      coldModulus_Pa = modulusAt_Pa(cold_C);
    }
    if (coldModulus_Pa < target_Pa) return null;
    let low_C = cold_C;
    let high_C = cold_C + step_K;
    while (high_C - low_C > 1e-3) {
      const middle_C = (low_C + high_C) / 2;
      if (modulusAt_Pa(middle_C) < target_Pa) high_C = middle_C;
      else low_C = middle_C;
    }
    return (low_C + high_C) / 2;
  });
}
