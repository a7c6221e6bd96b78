import type { Deformation, DynamicMeasurement } from "../../io/measurement.js";
import { exp } from "../../numeric/elementary/exponential.js";
import { square } from "../../numeric/elementary/power.js";
import { matchedDeviates } from "../../numeric/statistics/deviates.js";
import { seededRandom } from "../../numeric/statistics/random.js";
import { isothermsOf } from "../superposition/isotherms/isotherms.js";
import { range, seedOfPoints, weightPoints } from "../superposition/shift/reduced-points.js";
import type { RelaxationModel } from "./relaxation-model.js";
import { gasConstant_J_molK, zeroCelsius_K } from "./shift-law.js";
import { drawnSpectrum, type Spectrum, solveSpectrum, undersmoothed } from "./spectrum.js";

/** A spectrum at the one temperature where it was measured: nothing says how temperature moves it. */
export interface SpectrumAt {
  temperature_C: number;
  model: RelaxationModel;
  /** Equally likely alternatives to `model`. */
  draws: RelaxationModel[];
}

const fewestPoints = 8;
/** Of elastomers near their transition, decades a kelvin (as for the phases of a blend): only tells warmer from colder. */
const usualSlope_per_K = 0.25;

/**
 * The spectrum of each isotherm for itself, where no superposition joins them: a master curve measured at one temperature
 * predicts at that temperature.
 * @param count of draws
 */
export function spectraAt(
  measurements: DynamicMeasurement[],
  deformation: Deformation,
  count: number,
  seed: number,
): SpectrumAt[] {
  const set = isothermsOf(measurements, deformation);
  return set.isotherms.flatMap(({ first, end, temperature_C }) => {
    if (end - first < fewestPoints) return [];
    const part = (values: Float64Array) => values.slice(first, end);
    const points = {
      temperature_C: part(set.temperature_C),
      frequency_Hz: part(set.frequency_Hz),
      storageModulus_Pa: part(set.storageModulus_Pa),
      lossModulus_Pa: part(set.lossModulus_Pa),
    };
    const spectrum = solveSpectrum(weightPoints(points, 1));
    const n = end - first;
    const free = Math.max(
      1,
      2 * n - (Number.isFinite(spectrum.effectiveParameters) ? spectrum.effectiveParameters : 0),
    );
    const deviation = Math.sqrt(spectrum.residuals.reduce((sum, r) => sum + square(r), 0) / free);
    const build = ({ equilibriumModulus_Pa, times_s, moduli_Pa }: Spectrum): RelaxationModel => {
      const window = range(points.frequency_Hz);
      return {
        deformation,
        law: {
          kind: "arrhenius",
          referenceTemperature_C: temperature_C,
          activationEnergy_J_mol:
            usualSlope_per_K * Math.LN10 * gasConstant_J_molK * square(temperature_C + zeroCelsius_K),
        },
        verticalShift: { kind: "off" },
        equilibriumModulus_Pa,
        times_s,
        moduli_Pa,
        lowestReducedFrequency_Hz: window.low,
        highestReducedFrequency_Hz: window.high,
        lowestTemperature_C: temperature_C,
        highestTemperature_C: temperature_C,
        onlyAt_C: temperature_C,
      };
    };
    const deviates = matchedDeviates(count, 2 * n, seededRandom(seedOfPoints(points) ^ seed));
    const noisy = (moduli: Float64Array, from: number, draw: number) =>
      moduli.map((modulus, i) => modulus * exp(deviation * deviates[from + i][draw]));
    const draws = Array.from({ length: count }, (_, draw) =>
      build(
        solveSpectrum(
          weightPoints(
            {
              ...points,
              storageModulus_Pa: noisy(points.storageModulus_Pa, 0, draw),
              lossModulus_Pa: noisy(points.lossModulus_Pa, n, draw),
            },
            1,
          ),
          drawnSpectrum(spectrum, undersmoothed),
        ),
      ),
    );
    return [{ temperature_C, model: build(spectrum), draws }];
  });
}
