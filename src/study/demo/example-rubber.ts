import type { Material } from "../../fit/material.js";
import type { RelaxationModel } from "../../fit/spectrum/relaxation-model.js";
import type { DynamicMeasurement } from "../../io/measurement.js";
import { exp10 } from "../../numeric/elementary/exponential.js";
import { power } from "../../numeric/elementary/power.js";
import { compoundModel, transitionModel } from "./compound-model.js";
import { birch60 } from "./compounds.js";

/**
 * An invented rubber to try the library on: the demo compound "Birch 60" without scatter, in shear, carbon-black
 * filled, Tg (tan δ, 1 Hz) near −48 °C. Its model: network, transition and slow losses, measured from −100 to 80 °C.
 * @returns moduli in Pa, times in s at the reference temperature of the law
 * @example exampleModel().deformation // "shear"
 */
export function exampleModel(): RelaxationModel {
  return {
    ...transitionModel(birch60, birch60.phases[0]),
    lowestReducedFrequency_Hz: 1e-14,
    highestReducedFrequency_Hz: 1e8,
    lowestTemperature_C: -100,
    highestTemperature_C: 80,
  };
}

/**
 * The same as a material whose model is exact, so that it has no draws and its predictions no intervals.
 * @example exampleMaterial().compound // "Birch 60"
 */
export function exampleMaterial(): Material {
  return {
    compound: birch60.name,
    glassTransitions: [],
    superposition: null,
    model: exampleModel(),
    draws: [],
    measuredStates: [],
    network: null,
    payneEffects: [],
    notices: [],
  };
}

/**
 * A temperature sweep of that rubber without scatter: −100 to 80 °C in steps of 2 K.
 * @param frequencies_Hz one row a temperature and frequency; default 1 Hz
 * @example exampleSweep([1, 10]).temperature_C.length // 182
 */
export function exampleSweep(frequencies_Hz: number[] = [1]): DynamicMeasurement {
  const temperatures_C = Array.from({ length: 91 }, (_, i) => -100 + 2 * i);
  return measured("temperature sweep", temperatures_C, frequencies_Hz);
}

/**
 * Frequency sweeps of that rubber without scatter: 0.1 to 100 Hz, three a decade, at −60 to 20 °C in steps of 5 K.
 * @example exampleIsotherms().frequency_Hz.length // 170
 */
export function exampleIsotherms(): DynamicMeasurement {
  const temperatures_C = Array.from({ length: 17 }, (_, i) => -60 + 5 * i);
  const frequencies_Hz = Array.from({ length: 10 }, (_, i) => exp10(-1 + i / 3));
  return measured("frequency sweep", temperatures_C, frequencies_Hz);
}

/**
 * A strain sweep at 60 °C and 10 Hz: M′ falls by half about 1 % strain, M″ has a maximum there (the shape of Kraus,
 * J. Appl. Polym. Sci., Appl. Polym. Symp. 39, 75, 1984; from memory).
 * @example exampleStrainSweep().strainAmplitude?.length // 25
 */
export function exampleStrainSweep(): DynamicMeasurement {
  const strain = Float64Array.from({ length: 25 }, (_, i) => exp10(-4 + i / 8));
  const broken = strain.map((value) => 1 / (1 + power(value / 0.01, 1.2)));
  return {
    ...measured(
      "strain sweep",
      [60],
      Array.from(strain, () => 10),
    ),
    storageModulus_Pa: broken.map((intact) => 1.5e6 + 2.5e6 * intact),
    lossModulus_Pa: broken.map((intact) => 0.2e6 + 1.2e6 * intact * (1 - intact)),
    strainAmplitude: strain,
  };
}

function measured(
  kind: DynamicMeasurement["kind"],
  temperatures_C: number[],
  frequencies_Hz: number[],
): DynamicMeasurement {
  const truth = compoundModel(birch60);
  const rows = temperatures_C.flatMap((temperature_C) =>
    frequencies_Hz.map((frequency_Hz) => ({
      temperature_C,
      frequency_Hz,
      ...truth.complexModulus(temperature_C, frequency_Hz),
    })),
  );
  return {
    kind,
    sample: birch60.name,
    deformation: birch60.deformation,
    direction: kind === "temperature sweep" ? "heating" : null,
    temperature_C: Float64Array.from(rows, (row) => row.temperature_C),
    frequency_Hz: Float64Array.from(rows, (row) => row.frequency_Hz),
    storageModulus_Pa: Float64Array.from(rows, (row) => row.storageModulus_Pa),
    lossModulus_Pa: Float64Array.from(rows, (row) => row.lossModulus_Pa),
    strainAmplitude: null,
    time_s: null,
    heatingRate_K_min: null,
    provenance: {
      file: "invented example",
      sheet: null,
      section: null,
      firstLine: 1,
      lastLine: rows.length,
      columns: [],
    },
  };
}
