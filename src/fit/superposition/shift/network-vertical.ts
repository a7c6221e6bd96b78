import { exp10 } from "../../../numeric/elementary/exponential.js";
import { maxwellModulus } from "../../spectrum/relaxation-model.js";
import { solveSpectrum } from "../../spectrum/spectrum.js";
import type { IsothermSet } from "../isotherms/isotherms.js";
import { range, reducePoints, weightPoints } from "./reduced-points.js";
import type { SuperpositionFit } from "./superposition-fit.js";

/** As many modes and as much smoothing as tell the network's share of a modulus. */
const shareSpectrum = { modesPerDecade: 2, strength: 1e-4 };
const stepsPerDecade = 5;

/**
 * The isotherms of a fit without vertical factor, moved as they would have to be if the factor were the network's alone:
 * entropic on the rubbery part of the moduli, nothing on the glassy part. The rubbery part is the equilibrium modulus and
 * the modes slower than the tan δ peak.
 * @param log10bT of each isotherm, in decades, zero at the reference
 * @returns null where the fit shows no tan δ peak, so no rubbery part of its own
 */
export function withNetworkFactor(off: SuperpositionFit, log10bT: Float64Array): IsothermSet | null {
  const { set, chosen } = off;
  const points = reducePoints(set, chosen.shape, chosen.parameters, off.log10bT);
  const spectrum = solveSpectrum(weightPoints(points, off.lossTrust), shareSpectrum);
  const { low, high } = range(points.frequency_Hz);
  let slowest_s: number | null = null;
  let highest = 0;
  for (let f = low * 2; f < high / 2; f *= exp10(1 / stepsPerDecade)) {
    const { storageModulus_Pa, lossModulus_Pa } = maxwellModulus(spectrum, 2 * Math.PI * f);
    if (lossModulus_Pa <= highest * storageModulus_Pa) continue;
    highest = lossModulus_Pa / storageModulus_Pa;
    slowest_s = 1 / (2 * Math.PI * f);
  }
  if (slowest_s === null) return null;
  const rubbery = Array.from(spectrum.times_s.keys()).filter((j) => spectrum.times_s[j] > slowest_s);
  const network = {
    equilibriumModulus_Pa: spectrum.equilibriumModulus_Pa,
    times_s: Float64Array.from(rubbery, (j) => spectrum.times_s[j]),
    moduli_Pa: Float64Array.from(rubbery, (j) => spectrum.moduli_Pa[j]),
  };
  const storageModulus_Pa = set.storageModulus_Pa.slice();
  const lossModulus_Pa = set.lossModulus_Pa.slice();
  for (const [k, { first, end }] of set.isotherms.entries()) {
    // What the network has at T0 it has divided by bT at T.
    const less = 1 - exp10(-log10bT[k]);
    for (let i = first; i < end; i++) {
      const w = 2 * Math.PI * points.frequency_Hz[i];
      const all = maxwellModulus(spectrum, w);
      const part = maxwellModulus(network, w);
      storageModulus_Pa[i] /= 1 - (less * part.storageModulus_Pa) / all.storageModulus_Pa;
      lossModulus_Pa[i] /= 1 - (less * part.lossModulus_Pa) / all.lossModulus_Pa;
    }
  }
  return { ...set, storageModulus_Pa, lossModulus_Pa };
}
