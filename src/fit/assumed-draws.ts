import { ln } from "../elementary/logarithm.js";
import { reduceSweep, type SweepPoints, withNoise } from "./assumed-sweep.js";
import { localParabolaRms } from "./kramers-kronig.js";
import type { Random } from "./random.js";
import { type ReducedPoints, referModel, weightPoints } from "./reduced-points.js";
import type { RelaxationModel } from "./relaxation-model.js";
import { changeReference, vogelTemperature_C, type WlfLaw } from "./shift-law.js";
import { type Spectrum, solveSpectrum } from "./spectrum.js";

/**
 * Equally likely models of a sweep at one frequency: one for each law, from the sweep with noise of its own size
 * added once more (the misfit of assumed constants is no noise, so residuals are not resampled).
 * @param laws as likely as each other, each at its own Tg
 * @param strength of the penalty on the spectrum
 */
export function drawAssumed(
  sweep: SweepPoints,
  laws: WlfLaw[],
  reference_C: number,
  strength: number,
  random: Random,
  build: (law: WlfLaw, spectrum: Spectrum, points: ReducedPoints) => RelaxationModel,
): RelaxationModel[] {
  const noise = {
    storage: roughness(sweep, sweep.storageModulus_Pa),
    loss: roughness(sweep, sweep.lossModulus_Pa),
  };
  return laws.map((law) => {
    const points = reduceSweep(withNoise(sweep, noise, random), law);
    const spectrum = solveSpectrum(weightPoints(points, 1), { modesPerDecade: 5, strength });
    const model = build(law, spectrum, points);
    // Where the common reference lies in this draw's glass, its own Tg is the reference.
    const usable = reference_C >= law.referenceTemperature_C && reference_C > vogelTemperature_C(law) + 1;
    return usable ? referModel(model, changeReference(law, reference_C)) : model;
  });
}

/** Relative noise of a modulus from its smoothness against temperature, 1 % (common practice) where that cannot be told. */
function roughness(sweep: SweepPoints, modulus_Pa: Float64Array): number {
  const kept = Array.from(modulus_Pa.keys()).filter((i) => modulus_Pa[i] > 0);
  const noise = localParabolaRms(
    kept.map((i) => sweep.temperature_C[i]),
    kept.map((i) => ln(modulus_Pa[i])),
  );
  return Number.isFinite(noise) ? Math.min(noise, 0.1) : 0.01;
}
