import { exp10 } from "../../../numeric/elementary/exponential.js";
import { seedFromNumbers } from "../../../numeric/statistics/random.js";
import { type ModulusPoints, relativeWeights } from "../../spectrum/maxwell-kernel.js";
import { log10VerticalFactor, type RelaxationModel } from "../../spectrum/relaxation-model.js";
import { log10ShiftFactor, type ShiftLaw } from "../../spectrum/shift-law.js";
import type { IsothermSet } from "../isotherms/isotherms.js";
import { type LawShape, lawShift, runOffset_K } from "../law/law-fit.js";

/** Points of a set brought to the reference isotherm's temperature. */
export interface ReducedPoints {
  frequency_Hz: Float64Array;
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
}

/**
 * Every point moved by the law at its own temperature, and between runs to the mean of the runs.
 * @param parameters as in `LawFit`
 * @param extra added to log10 aT of each isotherm
 * @param log10bT vertical factor of each isotherm, in decades
 * @returns frequencies in Hz and moduli in Pa at the law's reference, one entry a row of the set
 */
export function reducePoints(
  set: IsothermSet,
  shape: LawShape,
  parameters: ArrayLike<number>,
  log10bT: ArrayLike<number>,
  extra: ArrayLike<number> | null = null,
): ReducedPoints {
  const n = set.frequency_Hz.length;
  const points: ReducedPoints = {
    frequency_Hz: new Float64Array(n),
    storageModulus_Pa: new Float64Array(n),
    lossModulus_Pa: new Float64Array(n),
  };
  for (let k = 0; k < set.isotherms.length; k++) {
    const { first, end, run } = set.isotherms[k];
    const scale = exp10(log10bT[k]);
    const warmer_K = runOffset_K(shape, parameters, run);
    const further = extra === null ? 0 : extra[k];
    for (let i = first; i < end; i++) {
      const log10aT = lawShift(shape, parameters, set.temperature_C[i] - warmer_K) + further;
      points.frequency_Hz[i] = set.frequency_Hz[i] * exp10(log10aT);
      points.storageModulus_Pa[i] = set.storageModulus_Pa[i] * scale;
      points.lossModulus_Pa[i] = set.lossModulus_Pa[i] * scale;
    }
  }
  return points;
}

/** The same as points of a spectrum fit, relative, the loss modulus trusted `lossTrust` times as much. */
export function weightPoints(points: ReducedPoints, lossTrust: number): ModulusPoints {
  return {
    angularFrequency_rad_s: points.frequency_Hz.map((f) => 2 * Math.PI * f),
    storageModulus_Pa: points.storageModulus_Pa,
    lossModulus_Pa: points.lossModulus_Pa,
    storageWeight: relativeWeights(points.storageModulus_Pa),
    lossWeight: relativeWeights(points.lossModulus_Pa).map((w) => w * lossTrust),
  };
}

/** Seeds the draws by the points themselves: the same data give the same answer, whatever the compound is called. */
export const seedOfPoints = (points: ReducedPoints & { temperature_C: Float64Array }): number =>
  seedFromNumbers(points.temperature_C, points.frequency_Hz, points.storageModulus_Pa, points.lossModulus_Pa);

/**
 * Lowest and highest of a list of numbers.
 * @returns Infinity and −Infinity for an empty list
 */
export function range(values: ArrayLike<number>): { low: number; high: number } {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    low = Math.min(low, values[i]);
    high = Math.max(high, values[i]);
  }
  return { low, high };
}

/** A model at the law's reference temperature, referred to another one; `law` is the same law so referred. */
export function referModel(model: RelaxationModel, law: ShiftLaw): RelaxationModel {
  const to_C = law.referenceTemperature_C;
  if (to_C === model.law.referenceTemperature_C) return model;
  const aT = exp10(log10ShiftFactor(model.law, to_C));
  const vertical = model.verticalShift;
  let scale = 1;
  let moved = vertical;
  if (vertical.kind === "density-temperature") {
    scale = exp10(-log10VerticalFactor(vertical, model.law, to_C));
  } else if (vertical.kind === "fitted") {
    const home = log10VerticalFactor(vertical, model.law, to_C);
    scale = exp10(-home);
    moved = { ...vertical, log10bT: vertical.log10bT.map((b) => b - home) };
  }
  return {
    ...model,
    law,
    verticalShift: moved,
    equilibriumModulus_Pa: model.equilibriumModulus_Pa * scale,
    times_s: model.times_s.map((t) => t * aT),
    moduli_Pa: model.moduli_Pa.map((m) => m * scale),
    lowestReducedFrequency_Hz: model.lowestReducedFrequency_Hz / aT,
    highestReducedFrequency_Hz: model.highestReducedFrequency_Hz / aT,
    ...(model.superposedUpTo_Hz === undefined ? {} : { superposedUpTo_Hz: model.superposedUpTo_Hz / aT }),
  };
}
