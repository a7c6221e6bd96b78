import { glassAtFrequency } from "../../fit/glass/glass-at-frequency.js";
import type { RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import { type Contacts, contactState } from "../contact/contact-state.js";
import { coarser, type PredictionSettings } from "../prediction-settings.js";

export interface LowestTemperatures {
  /** Lowest temperature at which the compound is rubbery in the contact, °C; null: not determined. */
  rubbery_C: number | null;
  /** Lowest temperature at which it is not glassy. */
  aboveGlassy_C: number | null;
}

/** Where the search starts; a contact's usual order, and the same for every use, so that the result is too. */
const startFrequency_Hz = 300;
const mostIterations = 30;
const tolerance_K = 0.02;

/**
 * Where the borders meet the temperature itself: T = border(f(T)), for the contact frequency moves with the
 * temperature too. Colder is stiffer, so quicker, and raises the border by less than the step that caused it:
 * the iteration closes in.
 */
export function lowestTemperatures(
  model: RelaxationModel,
  contacts: Contacts,
  settings: PredictionSettings,
): LowestTemperatures {
  // 1 % of frequency is 0.02 K.
  const coarse = coarser(settings);
  const meet = (which: "tanDeltaPeak_C" | "lossModulusPeak_C", above_K: number): number | null => {
    const start = glassAtFrequency(model, startFrequency_Hz);
    if ("absent" in start) return null;
    let temperature_C = start.tanDeltaPeak_C + above_K;
    let damping = 1;
    let lastStep_K = Number.POSITIVE_INFINITY;
    for (let i = 0; i < mostIterations; i++) {
      const { governing } = contactState(model, temperature_C, contacts, coarse);
      if (governing === null) return null;
      const glass = glassAtFrequency(model, governing.frequency_Hz);
      const peak_C = "absent" in glass ? null : glass[which];
      if (peak_C === null) return null;
      const step_K = peak_C + above_K - temperature_C;
      if (Math.abs(step_K) < tolerance_K) return withinLaw(temperature_C + step_K, model, settings);
      // Where sliding and impact change places the frequency jumps; shorter steps get past it.
      if (i > 2 && Math.abs(step_K) > 0.7 * Math.abs(lastStep_K)) damping *= 0.7;
      lastStep_K = step_K;
      temperature_C += damping * step_K;
    }
    return null;
  };
  return {
    rubbery_C: meet("tanDeltaPeak_C", settings.leatheryBorder_K),
    aboveGlassy_C: meet("lossModulusPeak_C", settings.glassyBorder_K),
  };
}

function withinLaw(
  temperature_C: number,
  model: RelaxationModel,
  settings: PredictionSettings,
): number | null {
  const inside =
    temperature_C >= model.lowestTemperature_C - settings.lawReach_K &&
    temperature_C <= model.highestTemperature_C + settings.lawReach_K;
  return inside ? temperature_C : null;
}
