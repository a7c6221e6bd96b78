import type { Material, StrainSoftening } from "../../fit/material.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { power } from "../../numeric/elementary/power.js";
import { normal95 } from "../../numeric/statistics/confidence.js";
import { seededRandom, seedFromText } from "../../numeric/statistics/random.js";

/**
 * The representative strain under a ball, 0.2 a/R with the contact radius a = √(R δ) (Tabor, The Hardness of Metals,
 * 1951): some 10 to 20 % under a pendulum, where a sweep strains by some 0.1 %.
 * @example representativeStrain(0.0045, 0.0075) // 0.154…
 */
export function representativeStrain(indentation_m: number, radius_m: number): number {
  return 0.2 * Math.sqrt(indentation_m / radius_m);
}

/** What a strain does to a compound against the strain of its sweep. */
export interface StrainEffect {
  /** Factor on the stiffness. */
  stiffness: number;
  /** Factor on the loss: a rebound R becomes R to this power. */
  loss: number;
}

/** The measured ratios of M′ and tan δ at a strain; beyond the strains measured, those of the last one. */
export function strainEffect(softening: StrainSoftening, strain: number): StrainEffect {
  const { strain: strains, storageRatio, tanDeltaRatio } = softening;
  const last = strains.length - 1;
  if (strain <= strains[0]) return { stiffness: storageRatio[0], loss: tanDeltaRatio[0] };
  if (strain >= strains[last]) return { stiffness: storageRatio[last], loss: tanDeltaRatio[last] };
  const k = strains.findIndex((one) => one > strain);
  const share = ln(strain / strains[k - 1]) / ln(strains[k] / strains[k - 1]);
  const between = (values: number[]) => values[k - 1] + share * (values[k] - values[k - 1]);
  return { stiffness: between(storageRatio), loss: between(tanDeltaRatio) };
}

/** A loss factor λ on a rebound: R^λ, since R ≈ exp(−π tan δ). */
export const withLoss = (fraction: number, factor: number) =>
  fraction > 0 ? power(fraction, factor) : fraction;

/**
 * How much more an impact may lose than small strain shows, as an addition to the exponent of R: of a filled or unknown
 * compound without a strain sweep (common practice, from memory: tan δ of filled treads at 10 to 20 % strain stands up to
 * 1.6 times that at 0.1 %).
 */
const unknownStrain = 0.6;
/**
 * In the glass tan δ is the secondary relaxation's, which superposition does not reach: up to five times that of the model, by
 * this much of R at most; more where the measured glass shows more.
 */
const glassLoss = { exponent: 4, most: 0.05 };

export type StrainBasis = "corrected" | "calibrated" | "unfilled" | "small strain";

/** On what a compound's rebound stands where the strain of an impact is concerned. */
export function strainBasis({ strainSoftening }: Material, isCalibrated: boolean): StrainBasis {
  if (isCalibrated) return "calibrated";
  if (strainSoftening === "unfilled") return "unfilled";
  return strainSoftening === undefined || strainSoftening === null ? "small strain" : "corrected";
}

/**
 * The draws of a rebound with what small strain and the glass leave out: downwards only.
 * @param draws R of each draw, as a fraction
 * @param secondaryLoss `secondaryLossRatio` of the contact
 * @returns as many, each at most what it was
 */
export function withDiscrepancy(
  draws: Float64Array,
  basis: StrainBasis,
  isGlassy: boolean,
  secondaryLoss: number,
): Float64Array {
  const shares = discrepancyShares("strain of an impact");
  return draws.map((fraction) => {
    const share = shares();
    if (!(fraction > 0)) return fraction;
    const strained = basis === "small strain" ? withLoss(fraction, 1 + unknownStrain * share) : fraction;
    if (!isGlassy) return strained;
    return Math.min(
      Math.max(withLoss(strained, 1 + glassLoss.exponent * share), strained - glassLoss.most * share),
      withLoss(strained, 1 + (secondaryLoss - 1) * share),
    );
  });
}

/** The draws of a friction coefficient with the secondary relaxation's loss of the glass: upwards only. */
export function withSecondaryLoss(draws: Float64Array, secondaryLoss: number): Float64Array {
  const shares = discrepancyShares("secondary relaxation");
  return draws.map((friction) => friction * (1 + (secondaryLoss - 1) * shares()));
}

/** How much of the most that a discrepancy may be each draw has: no more than all of it in 95 %. */
function discrepancyShares(of: string): () => number {
  const random = seededRandom(seedFromText(of));
  return () => Math.abs(random.normal()) / normal95;
}
