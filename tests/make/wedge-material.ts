import { complexModulus, type RelaxationModel } from "../../src/fit/spectrum/relaxation-model.js";
import type { DynamicMeasurement } from "../../src/io/measurement.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";

export interface WedgeMaterial {
  glassTemperature_C: number;
  c1: number;
  c2_K: number;
  glassyModulus_Pa: number;
  rubberyModulus_Pa: number;
  /** Slope of log H against log τ in the transition zone. */
  slope: number;
}

/** Invented materials with handbook-like constants; transitions of gum-like sharpness. */
export const wedgeMaterials: Record<string, WedgeMaterial> = {
  "natural-rubber-like": {
    glassTemperature_C: -73,
    c1: 16.7,
    c2_K: 53.6,
    glassyModulus_Pa: 2e9,
    rubberyModulus_Pa: 2e6,
    slope: 0.75,
  },
  "styrene-butadiene-like": {
    glassTemperature_C: -45,
    c1: 17.44,
    c2_K: 51.6,
    glassyModulus_Pa: 2e9,
    rubberyModulus_Pa: 4e6,
    slope: 0.68,
  },
};

/**
 * A transition zone of constant slope (a wedge in log H against log τ, Ferry, 3rd ed., ch. 12) between a
 * glassy cut-off and a rubbery plateau, as eight Maxwell modes a decade: smooth to far below 0.01 K.
 */
export function wedgeModel(material: WedgeMaterial): RelaxationModel {
  const times_s: number[] = [];
  const moduli_Pa: number[] = [];
  const glassyCutOff_s = 10;
  for (let log = -3; log <= 14; log += 0.125) {
    const time_s = 10 ** log;
    times_s.push(time_s);
    moduli_Pa.push(
      (time_s / glassyCutOff_s) ** -material.slope * Math.exp(-((glassyCutOff_s / time_s) ** 0.7)),
    );
  }
  const sum = moduli_Pa.reduce((total, modulus) => total + modulus, 0);
  return {
    deformation: "tension",
    law: {
      kind: "wlf",
      referenceTemperature_C: material.glassTemperature_C,
      c1: material.c1,
      c2_K: material.c2_K,
      tangentBelow_C: material.glassTemperature_C - 15,
    },
    verticalShift: { kind: "off" },
    equilibriumModulus_Pa: material.rubberyModulus_Pa,
    times_s: Float64Array.from(times_s),
    moduli_Pa: Float64Array.from(moduli_Pa, (modulus) => (modulus / sum) * material.glassyModulus_Pa),
    lowestReducedFrequency_Hz: 0,
    highestReducedFrequency_Hz: Number.MAX_VALUE,
    lowestTemperature_C: -200,
    highestTemperature_C: 300,
  };
}

/** Place of the exact model's peak, by dense evaluation and a parabola through the three highest points. */
export function exactPeak_C(
  model: RelaxationModel,
  frequency_Hz: number,
  quantity: "tan delta" | "loss modulus",
): number {
  const step_K = 0.02;
  const value = (temperature_C: number) => {
    const modulus = complexModulus(model, temperature_C, frequency_Hz);
    return quantity === "tan delta"
      ? modulus.lossModulus_Pa / modulus.storageModulus_Pa
      : modulus.lossModulus_Pa;
  };
  let best_C = -130;
  for (let t = -130; t < 120; t += step_K) if (value(t) > value(best_C)) best_C = t;
  const [a, b, c] = [value(best_C - step_K), value(best_C), value(best_C + step_K)];
  return best_C + (step_K * (a - c)) / (2 * (a - 2 * b + c));
}

export interface SweepMaking {
  from_C?: number;
  to_C?: number;
  step_K?: number;
  temperatures_C?: number[];
  frequencies_Hz?: number[];
  noise?: number;
  seed?: number;
  heatingRate_K_min?: number | null;
}

/** A temperature sweep as an instrument would give it of this material, with relative noise on both moduli. */
export function makeSweep(
  models: RelaxationModel | RelaxationModel[],
  making: SweepMaking = {},
): DynamicMeasurement {
  const { from_C = -110, to_C = 60, step_K = 2, frequencies_Hz = [10], noise = 0.01, seed = 1 } = making;
  const random = seededRandom(seed);
  const temperatures: number[] = making.temperatures_C ?? [];
  if (!making.temperatures_C) for (let t = from_C; t <= to_C + 1e-9; t += step_K) temperatures.push(t);
  const temperature_C: number[] = [];
  const frequency_Hz: number[] = [];
  const storageModulus_Pa: number[] = [];
  const lossModulus_Pa: number[] = [];
  for (const t of temperatures) {
    for (const f of frequencies_Hz) {
      let storageSum_Pa = 0;
      let lossSum_Pa = 0;
      for (const model of Array.isArray(models) ? models : [models]) {
        const modulus = complexModulus(model, t, f);
        storageSum_Pa += modulus.storageModulus_Pa;
        lossSum_Pa += modulus.lossModulus_Pa;
      }
      temperature_C.push(t);
      frequency_Hz.push(f);
      storageModulus_Pa.push(storageSum_Pa * (1 + noise * random.normal()));
      lossModulus_Pa.push(lossSum_Pa * (1 + noise * random.normal()));
    }
  }
  return {
    kind: "temperature sweep",
    sample: "made for a test",
    deformation: "tension",
    direction: "heating",
    temperature_C: Float64Array.from(temperature_C),
    frequency_Hz: Float64Array.from(frequency_Hz),
    storageModulus_Pa: Float64Array.from(storageModulus_Pa),
    lossModulus_Pa: Float64Array.from(lossModulus_Pa),
    strainAmplitude: null,
    time_s: null,
    heatingRate_K_min: making.heatingRate_K_min ?? null,
    provenance: { file: "sweep.csv", sheet: null, section: null, firstLine: 1, lastLine: 1, columns: [] },
  };
}
