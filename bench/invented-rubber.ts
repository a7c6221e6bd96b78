import { complexModulus, type RelaxationModel } from "../src/fit/spectrum/relaxation-model.js";
import type { Random } from "../src/numeric/statistics/random.js";

/** Frequencies of the invented frequency sweeps: 21, 0.1 to 100 Hz. */
export const sweepFrequencies_Hz = Array.from({ length: 21 }, (_, i) => 10 ** (-1 + (3 * i) / 20));

/** An invented rubber in tension: a transition of broken powers, the losses of a glass, a plateau and a filler's slow losses. */
export function inventedRubber(random: Random): RelaxationModel {
  const glass_C = -65 + 35 * random.uniform();
  const strength = 0.8 + 0.4 * random.uniform();
  const slowLoss = 0.6 + 0.8 * random.uniform();
  const times: number[] = [];
  const moduli: number[] = [];
  for (let decade = -20; decade <= 10; decade += 0.5) {
    const x = 10 ** decade;
    const transition = 2.0e9 / (x ** -0.22 + x ** 0.72) + 1.2e7 / (1 + x);
    const slow = 1.2e6 * Math.exp(-0.5 * ((decade - 6) / 2.6) ** 2);
    times.push(20 * x);
    moduli.push(strength * (0.29 * transition + slowLoss * slow));
  }
  return {
    deformation: "tension",
    law: {
      kind: "wlf",
      referenceTemperature_C: glass_C,
      c1: 14 + 4 * random.uniform(),
      c2_K: 47 + 10 * random.uniform(),
      tangentBelow_C: glass_C,
    },
    verticalShift: { kind: "off" },
    equilibriumModulus_Pa: 4e6 * strength,
    times_s: Float64Array.from(times),
    moduli_Pa: Float64Array.from(moduli),
    lowestReducedFrequency_Hz: 1e-12,
    highestReducedFrequency_Hz: 1e6,
    lowestTemperature_C: -100,
    highestTemperature_C: 80,
  };
}

/** Equally likely alternatives: 2 % on each modulus, 0.25 decade (one standard deviation) on all times. */
export function inventedDraws(model: RelaxationModel, count: number, random: Random): RelaxationModel[] {
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

/** Measured columns, as plain arrays so that they can be written as JSON for both sides. */
export interface InventedMeasurement {
  temperature_C: number[];
  frequency_Hz: number[];
  storageModulus_Pa: number[];
  lossModulus_Pa: number[];
}

/** A ramp from some 40 K below Tg to 70 K above it at 10 Hz, noise on both moduli, uneven temperatures. */
export function inventedSweep(
  model: RelaxationModel,
  points: number,
  noise: number,
  random: Random,
  below_K = 40,
): InventedMeasurement {
  const glass_C = model.law.referenceTemperature_C;
  const step_K = (below_K + 70) / (points - 1);
  const temperatures = Array.from(
    { length: points },
    (_, i) => glass_C - below_K + step_K * (i + 0.4 * (random.uniform() - 0.5)),
  );
  return measured(model, temperatures, [10], noise, random);
}

/** Twelve isotherms 5 K apart from Tg up, 21 frequencies each or as many as are asked for. */
export function inventedIsotherms(
  model: RelaxationModel,
  noise: number,
  random: Random,
  frequencies = sweepFrequencies_Hz.length,
): InventedMeasurement {
  const glass_C = Math.round(model.law.referenceTemperature_C);
  const temperatures = Array.from({ length: 12 }, (_, k) => glass_C + 3 + 5 * k);
  const step = (sweepFrequencies_Hz.length - 1) / (frequencies - 1);
  const frequencies_Hz = Array.from({ length: frequencies }, (_, i) => 10 ** (-1 + (3 * i * step) / 20));
  return measured(model, temperatures, frequencies_Hz, noise, random);
}

function measured(
  model: RelaxationModel,
  temperatures_C: number[],
  frequencies_Hz: number[],
  noise: number,
  random: Random,
): InventedMeasurement {
  const rows: InventedMeasurement = {
    temperature_C: [],
    frequency_Hz: [],
    storageModulus_Pa: [],
    lossModulus_Pa: [],
  };
  for (const temperature_C of temperatures_C) {
    for (const frequency_Hz of frequencies_Hz) {
      const { storageModulus_Pa, lossModulus_Pa } = complexModulus(model, temperature_C, frequency_Hz);
      rows.temperature_C.push(temperature_C);
      rows.frequency_Hz.push(frequency_Hz);
      rows.storageModulus_Pa.push(storageModulus_Pa * (1 + noise * random.normal()));
      rows.lossModulus_Pa.push(lossModulus_Pa * (1 + noise * random.normal()));
    }
  }
  return rows;
}
