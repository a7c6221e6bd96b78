import { exp } from "../elementary/exponential.js";
import { ln } from "../elementary/logarithm.js";
import { assumedLaw, reduceSweep, type SweepPoints } from "./assumed-sweep.js";
import { localParabolaRms } from "./kramers-kronig.js";
import type { Random } from "./random.js";
import { type ReducedPoints, referModel, weightPoints } from "./reduced-points.js";
import type { NamedConstants } from "./reference-curves.js";
import type { RelaxationModel } from "./relaxation-model.js";
import { changeReference, type WlfLaw } from "./shift-law.js";
import { type Spectrum, solveSpectrum } from "./spectrum.js";

/** Standard deviation of the way from the peak to Tg: a quarter of the trade's 10 to 20 K (common practice). */
export const carriedDownDeviation_K = 2.5;

/**
 * Equally likely models of a sweep at one frequency: the constants of a published elastomer taken at random,
 * the Tg within its error, and the sweep with noise of its own size added once more (the misfit of assumed
 * constants is no noise, so residuals are not resampled).
 * @param glass_C Tg and its standard deviation
 */
export function drawAssumed(
  sweep: SweepPoints,
  rows: NamedConstants[],
  glass_C: { mean: number; deviation: number },
  reference_C: number,
  count: number,
  random: Random,
  build: (law: WlfLaw, spectrum: Spectrum, points: ReducedPoints) => RelaxationModel,
): RelaxationModel[] {
  const noise = {
    storage: roughness(sweep, sweep.storageModulus_Pa),
    loss: roughness(sweep, sweep.lossModulus_Pa),
  };
  // The strength of the penalty by cross-validation once for each row, at the mean Tg.
  const strengths = rows.map((row) => {
    const points = reduceSweep(sweep, assumedLaw(row, glass_C.mean));
    return solveSpectrum(weightPoints(points, 1), { modesPerDecade: 5 }).strength;
  });
  const draws: RelaxationModel[] = [];
  for (let attempt = 0; draws.length < count && attempt < 4 * count; attempt++) {
    const row = random.index(rows.length);
    const tg_C = glass_C.mean + glass_C.deviation * random.normal();
    const law = assumedLaw(rows[row], tg_C);
    if (reference_C <= tg_C - law.c2_K + 1) continue;
    const points = reduceSweep(
      {
        ...sweep,
        storageModulus_Pa: sweep.storageModulus_Pa.map((m) => m * exp(noise.storage * random.normal())),
        lossModulus_Pa: sweep.lossModulus_Pa.map((m) => m * exp(noise.loss * random.normal())),
      },
      law,
    );
    const spectrum = solveSpectrum(weightPoints(points, 1), { modesPerDecade: 5, strength: strengths[row] });
    const model = build(law, spectrum, points);
    // Where the common reference lies in this draw's glass, its own Tg is the reference.
    draws.push(reference_C >= tg_C ? referModel(model, changeReference(law, reference_C)) : model);
  }
  return draws;
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
