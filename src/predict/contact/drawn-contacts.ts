import type { Material } from "../../fit/material.js";
import type { RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import { exp, exp10 } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { normal95 } from "../../numeric/statistics/confidence.js";
import { instrumentScores } from "../../numeric/statistics/deviates.js";
import { seededRandom, seedFromNumbers, seedFromText } from "../../numeric/statistics/random.js";
import type { PredictionSettings } from "../prediction-settings.js";
import type { ReboundCalibration } from "../rebound/calibrate-rebound.js";
import type { Contacts } from "./contact-state.js";

/** One of a material's equally likely models, with the contacts as they meet it. */
export interface DrawnContacts {
  model: RelaxationModel;
  contacts: Contacts;
  /** The specimen stood this much warmer than its file says: at T the compound does what its model does at T − warmer_K. */
  warmer_K: number;
  /** Relative misfit of the model of a material that is not simple times a standard normal deviate, for what is predicted from it. */
  misfit: number;
  /** The calibration's factor on the loss in this draw; 1 where there is none. */
  lossFactor: number;
}

/**
 * The contacts on each drawn model, with what the instrument may be off by and the calibration's own uncertainty, a
 * log-normal factor with a seed of its own: uses that share a calibration share its deviates, and their ratio is free
 * of them. Where the file does not say how the specimen was deformed, every second draw takes its modulus for one in
 * shear. A stiffer rubber is pressed less: hysteresis friction knows the modulus by its ratio to the pressure only.
 */
export function drawnContacts(
  material: Material,
  contacts: Contacts,
  settings: PredictionSettings,
  calibration: ReboundCalibration | null,
): DrawnContacts[] {
  // By what was measured: the last bit of a fitted factor would deal the whole hand anew.
  const measured = calibration?.readings.flatMap(({ temperature_C, measuredFraction }) => [
    temperature_C,
    measuredFraction,
  ]);
  const random = seededRandom(seedFromNumbers(measured ?? []));
  const deviates = instrumentDeviates(material.draws.length, settings);
  const losses = seededRandom(seedFromText("calibrated loss"));
  const misfits = seededRandom(seedFromText("misfit"));
  const misfitOfOneLaw = misfitBesideOneLaw(material);
  return material.draws.map((model, i) => {
    const deviation = random.normal() * (calibration?.logStandardError ?? 0);
    const { temperature_K, modulusFactor } = deviates[i];
    const mode = model.deformation === "unstated" && i % 2 === 1 ? settings.tensilePerShear : 1;
    const { sliding, impact, stiffnessFactor } = contacts;
    const stiffer = mode * modulusFactor;
    return {
      model,
      warmer_K: temperature_K,
      lossFactor:
        (calibration?.lossFactor ?? 1) * exp(losses.normal() * (calibration?.lossLogStandardError ?? 0)),
      misfit: (model.misfit ?? misfitOfOneLaw) * misfits.normal(),
      contacts: {
        impact,
        stiffnessFactor: stiffnessFactor * exp(deviation) * stiffer,
        sliding: sliding && { ...sliding, pressure_Pa: sliding.pressure_Pa / stiffer },
      },
    };
  });
}

/** What one law leaves over, relative, where the isotherms do not fall on one curve; 0 where they do. */
export function misfitBesideOneLaw({ superposition }: Pick<Material, "superposition">): number {
  if (superposition?.thermorheologicallySimple !== false || superposition.rmsLog10 === null) return 0;
  return exp10(superposition.rmsLog10) - 1;
}

/** What the instrument may be off by in one draw: the specimen stood this much warmer than the file says, and so much stiffer. */
export interface InstrumentDeviate {
  temperature_K: number;
  modulusFactor: number;
}

/**
 * Errors of thermometer and specimen geometry, which no scatter of one run shows: normal in temperature, log-normal
 * in modulus, of the study's stated half widths. The deviates are the same for every compound and use, so that what
 * an instrument does to all alike cancels where two compounds are compared.
 * @returns `count` deviates in pairs that mirror each other, so that their mean is none
 */
export function instrumentDeviates(
  count: number,
  { temperatureUncertainty_K, modulusUncertainty }: PredictionSettings,
): InstrumentDeviate[] {
  const [forTemperature, forModulus] = instrumentScores(count);
  return Array.from({ length: count }, (_, i) => ({
    temperature_K: (temperatureUncertainty_K * forTemperature[i]) / normal95,
    modulusFactor: exp((ln(1 + modulusUncertainty) * forModulus[i]) / normal95),
  }));
}
