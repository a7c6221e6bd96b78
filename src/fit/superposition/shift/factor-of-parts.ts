import { exp10 } from "../../../numeric/elementary/exponential.js";
import { maxwellModulus } from "../../spectrum/relaxation-model.js";
import { type Spectrum, solveSpectrum } from "../../spectrum/spectrum.js";
import type { IsothermSet } from "../isotherms/isotherms.js";
import { range, reducePoints, weightPoints } from "./reduced-points.js";
import type { SuperpositionFit } from "./superposition-fit.js";

/** As many modes and as much smoothing as tell the network's share of a modulus. */
const shareSpectrum = { modesPerDecade: 2, strength: 1e-4 };
const stepsPerDecade = 5;

/** How much of the vertical factor each part of the moduli has, 0 none to 1 all of it. */
export interface PartShares {
  /** Of the modes that are faster than the tan δ peak. */
  glass: number;
  /** Of the slower ones. */
  slow: number;
  /** Of the equilibrium modulus: a filler's network in it is no entropic spring. */
  equilibrium: number;
}

/**
 * The isotherms of a fit without vertical factor, moved as they would have to be if each part of the moduli had its own share
 * of the factor.
 * @param log10bT of each isotherm, in decades, zero at the reference
 * @returns moves them for any shares; null where the fit shows no tan δ peak to part the modes at
 */
export function factorOfParts(
  off: SuperpositionFit,
  log10bT: Float64Array,
): ((shares: PartShares) => IsothermSet) | null {
  const { set, chosen } = off;
  const points = reducePoints(set, chosen.shape, chosen.parameters, off.log10bT);
  const spectrum = solveSpectrum(weightPoints(points, off.lossTrust), shareSpectrum);
  const peak_s = tanDeltaPeak_s(spectrum, range(points.frequency_Hz));
  if (peak_s === null) return null;
  const angular_rad_s = points.frequency_Hz.map((f) => 2 * Math.PI * f);
  return (shares) => {
    const entropic = {
      equilibriumModulus_Pa: shares.equilibrium * spectrum.equilibriumModulus_Pa,
      times_s: spectrum.times_s,
      moduli_Pa: spectrum.moduli_Pa.map(
        (modulus_Pa, j) => modulus_Pa * (spectrum.times_s[j] > peak_s ? shares.slow : shares.glass),
      ),
    };
    const storageModulus_Pa = set.storageModulus_Pa.slice();
    const lossModulus_Pa = set.lossModulus_Pa.slice();
    for (const [k, { first, end }] of set.isotherms.entries()) {
      // What a part has at T0 it has divided by bT at T.
      const less = 1 - exp10(-log10bT[k]);
      for (let i = first; i < end; i++) {
        const all = maxwellModulus(spectrum, angular_rad_s[i]);
        const own = maxwellModulus(entropic, angular_rad_s[i]);
        storageModulus_Pa[i] /= 1 - (less * own.storageModulus_Pa) / all.storageModulus_Pa;
        lossModulus_Pa[i] /= 1 - (less * own.lossModulus_Pa) / all.lossModulus_Pa;
      }
    }
    return { ...set, storageModulus_Pa, lossModulus_Pa };
  };
}

/** 1/ω at the highest tan δ inside the measured reduced frequencies; null where there is none. */
function tanDeltaPeak_s(spectrum: Spectrum, { low, high }: { low: number; high: number }): number | null {
  let peak_s: number | null = null;
  let highest = 0;
  for (let f = low * 2; f < high / 2; f *= exp10(1 / stepsPerDecade)) {
    const { storageModulus_Pa, lossModulus_Pa } = maxwellModulus(spectrum, 2 * Math.PI * f);
    if (lossModulus_Pa <= highest * storageModulus_Pa) continue;
    highest = lossModulus_Pa / storageModulus_Pa;
    peak_s = 1 / (2 * Math.PI * f);
  }
  return peak_s;
}
