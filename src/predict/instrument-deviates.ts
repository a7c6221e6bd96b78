import { exp } from "../elementary/exponential.js";
import { ln } from "../elementary/logarithm.js";
import { normal95 } from "../fit/confidence.js";
import { seededRandom, seedFromText } from "../fit/random.js";
import type { PredictionSettings } from "./prediction-settings.js";

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
  const random = seededRandom(seedFromText("instrument"));
  const scores = Array.from({ length: Math.ceil(count / 2) }, () => [random.normal(), random.normal()]);
  const size = (k: number) => Math.sqrt(scores.reduce((sum, z) => sum + z[k] * z[k], 0) / scores.length) || 1;
  const sizes = [size(0), size(1)];
  return Array.from({ length: count }, (_, i) => {
    const side = i % 2 === 0 ? 1 : -1;
    const [forTemperature, forModulus] = scores[i >> 1].map((z, k) => (side * z) / sizes[k] / normal95);
    return {
      temperature_K: temperatureUncertainty_K * forTemperature,
      modulusFactor: exp(ln(1 + modulusUncertainty) * forModulus),
    };
  });
}
