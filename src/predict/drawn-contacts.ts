import { exp } from "../elementary/exponential.js";
import type { Material } from "../fit/material.js";
import { seededRandom, seedFromText } from "../fit/random.js";
import type { RelaxationModel } from "../fit/relaxation-model.js";
import type { ReboundCalibration } from "./calibrate-rebound.js";
import type { Contacts } from "./contact-state.js";
import { instrumentDeviates } from "./instrument-deviates.js";
import type { PredictionSettings } from "./prediction-settings.js";

/** One of a material's equally likely models, with the contacts as they meet it. */
export interface DrawnContacts {
  model: RelaxationModel;
  contacts: Contacts;
  /** The specimen stood this much warmer than its file says: at T the compound does what its model does at T − warmer_K. */
  warmer_K: number;
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
  const random = seededRandom(seedFromText(`calibration of ${calibration?.compound ?? ""}`));
  const deviates = instrumentDeviates(material.draws.length, settings);
  return material.draws.map((model, i) => {
    const deviation = random.normal() * (calibration?.logStandardError ?? 0);
    const { temperature_K, modulusFactor } = deviates[i];
    const mode = model.deformation === "unstated" && i % 2 === 1 ? settings.tensilePerShear : 1;
    const { sliding, impact, stiffnessFactor } = contacts;
    const stiffer = mode * modulusFactor;
    return {
      model,
      warmer_K: temperature_K,
      contacts: {
        impact,
        stiffnessFactor: stiffnessFactor * exp(deviation) * stiffer,
        sliding: sliding && { ...sliding, pressure_Pa: sliding.pressure_Pa / stiffer },
      },
    };
  });
}
