import type { Material } from "../../src/fit/material.js";
import type { RelaxationModel } from "../../src/fit/spectrum/relaxation-model.js";
import { seededRandom } from "../../src/numeric/statistics/random.js";

/** Invented rubbers for the tests: a transition of broken powers, a plateau, and slow losses of a filler. */
export interface Rubber {
  name?: string;
  glassTemperature_C?: number;
  /** Strength of the losses on the plateau, as a factor. */
  loss?: number;
  /** Factor on all moduli. */
  scale?: number;
  deformation?: RelaxationModel["deformation"];
  lowestReducedFrequency_Hz?: number;
  highestReducedFrequency_Hz?: number;
  lowestTemperature_C?: number;
  highestTemperature_C?: number;
}

const timeAtGlass_s = 20;

export function exampleModel(rubber: Rubber = {}): RelaxationModel {
  const { glassTemperature_C = -55, loss = 1, scale = 1 } = rubber;
  const times: number[] = [];
  const moduli: number[] = [];
  for (let decade = -13; decade <= 10; decade += 0.5) {
    const x = 10 ** decade;
    const transition = 2.0e9 / (x ** -0.22 + x ** 0.72);
    const slow = 1.2e6 * Math.exp(-0.5 * ((decade - 6) / 2.6) ** 2);
    times.push(timeAtGlass_s * x);
    moduli.push(scale * (0.29 * transition + loss * slow));
  }
  return {
    deformation: rubber.deformation ?? "tension",
    law: {
      kind: "wlf",
      referenceTemperature_C: glassTemperature_C,
      c1: 16.5,
      c2_K: 52,
      tangentBelow_C: glassTemperature_C,
    },
    verticalShift: { kind: "off" },
    equilibriumModulus_Pa: 4e6 * scale,
    times_s: Float64Array.from(times),
    moduli_Pa: Float64Array.from(moduli),
    lowestReducedFrequency_Hz: rubber.lowestReducedFrequency_Hz ?? 1e-12,
    highestReducedFrequency_Hz: rubber.highestReducedFrequency_Hz ?? 1e6,
    lowestTemperature_C: rubber.lowestTemperature_C ?? -90,
    highestTemperature_C: rubber.highestTemperature_C ?? 80,
  };
}

/** Equally likely alternatives: 2 % on each modulus, 0.25 decade (one standard deviation) on all times. */
export function exampleDraws(model: RelaxationModel, count: number, seed = 1): RelaxationModel[] {
  const random = seededRandom(seed);
  return Array.from({ length: count }, () => {
    const shift = 10 ** (0.25 * random.normal());
    return {
      ...model,
      equilibriumModulus_Pa: model.equilibriumModulus_Pa * Math.exp(0.02 * random.normal()),
      times_s: model.times_s.map((time_s) => time_s * shift),
      moduli_Pa: model.moduli_Pa.map((modulus_Pa) => modulus_Pa * Math.exp(0.02 * random.normal())),
    };
  });
}

export function exampleMaterial(rubber: Rubber = {}, draws = 0): Material {
  const model = exampleModel(rubber);
  return {
    compound: rubber.name ?? "Hazel 55",
    glassTransitions: [],
    superposition: null,
    model,
    draws: exampleDraws(model, draws),
    measuredStates: [],
    network: null,
    payneEffects: [],
    notices: [],
  };
}
