import { log10 } from "../../numeric/elementary/logarithm.js";
import type { MasterCurve } from "../material.js";
import type { ComplexModulus } from "./complex-modulus.js";
import { complexModulus, maxwellModulus, type RelaxationModel } from "./relaxation-model.js";

/** Points already reduced to the model's reference temperature, with log10(measured) − log10(model). */
export function masterCurve(
  points: Omit<MasterCurve, "storageResidualLog10" | "lossResidualLog10">,
  model: RelaxationModel,
): MasterCurve {
  const fitted = fittedModuli(model, points);
  return {
    ...points,
    storageResidualLog10: points.storageModulus_Pa.map((m, i) => log10(m / fitted[i].storageModulus_Pa)),
    lossResidualLog10: points.lossModulus_Pa.map((m, i) => log10(m / fitted[i].lossModulus_Pa)),
  };
}

/** The model at the points: on the master curve, or of a blend, which has none, at each point's own temperature. */
export function fittedModuli(
  model: RelaxationModel,
  points: Pick<MasterCurve, "temperature_C" | "frequency_Hz" | "reducedFrequency_Hz">,
): ComplexModulus[] {
  return points.reducedFrequency_Hz.map((f, i) =>
    model.furtherPhase === undefined
      ? maxwellModulus(model, 2 * Math.PI * f)
      : complexModulus(model, points.temperature_C[i], points.frequency_Hz[i]),
  );
}

/** Root mean square of the residuals of both moduli; missing values do not count. */
export function rootMeanSquareLog10(curve: MasterCurve): number {
  let sum = 0;
  let count = 0;
  for (const column of [curve.storageResidualLog10, curve.lossResidualLog10]) {
    for (const value of column) {
      if (!Number.isFinite(value)) continue;
      sum += value * value;
      count++;
    }
  }
  return Math.sqrt(sum / count);
}
