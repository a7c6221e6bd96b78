import type { z } from "zod";
import { mapInterval, ratioInterval, type ValueInterval } from "../../numeric/statistics/value-interval.js";
import { fixed, percentText, significant } from "../../words/quantity-text.js";
import type { particleSizeSchema } from "../material-schema.js";

export type ParticleSizeComparison = z.infer<typeof particleSizeSchema>;

/** One filled member of a series with its particles. */
export interface SizedMember {
  compound: string;
  volumeFraction: number;
  particleSize_nm: number;
  plateauModulus_Pa: ValueInterval;
}

/** Loads nearer than this are the same, by volume. */
const sameLoad = 0.005;

/**
 * What finer particles of the same load did to the plateau modulus: members of one load (within 0.005 by volume), each
 * with the one of the next finer size, as the ratio of their measured moduli. No formula takes part, so it needs no gum.
 *
 * @returns an empty list where no two sizes were measured at one load
 * @example compareParticleSizes([{ compound: "N", volumeFraction: 0.2, particleSize_nm: 60, plateauModulus_Pa: { value: 2e6, low: null, high: null } }, { compound: "F", volumeFraction: 0.2, particleSize_nm: 30, plateauModulus_Pa: { value: 2.5e6, low: null, high: null } }])[0].ratio.value // 1.25
 */
export function compareParticleSizes(members: SizedMember[]): ParticleSizeComparison[] {
  const sorted = members.toSorted((a, b) => b.particleSize_nm - a.particleSize_nm);
  return sorted.flatMap((coarser, i) => {
    const finer = sorted
      .slice(i + 1)
      .find(
        (one) =>
          one.particleSize_nm < coarser.particleSize_nm &&
          Math.abs(one.volumeFraction - coarser.volumeFraction) <= sameLoad,
      );
    return finer === undefined ? [] : [comparisonOf(coarser, finer)];
  });
}

/**
 * The modulus with particles of a size over that with the coarser ones of a comparison, on the straight line between the
 * two sizes that were measured, its interval likewise.
 * @returns null outside the two sizes: nothing was measured there
 */
export function modulusRatioAtSize(
  {
    coarserSize_nm,
    finerSize_nm,
    ratio,
  }: Pick<ParticleSizeComparison, "coarserSize_nm" | "finerSize_nm" | "ratio">,
  particleSize_nm: number,
): ValueInterval | null {
  if (!(particleSize_nm >= finerSize_nm && particleSize_nm <= coarserSize_nm)) return null;
  const share = (coarserSize_nm - particleSize_nm) / (coarserSize_nm - finerSize_nm);
  return mapInterval(ratio, (value) => 1 + share * (value - 1));
}

function comparisonOf(coarser: SizedMember, finer: SizedMember): ParticleSizeComparison {
  const ratio = ratioInterval(finer.plateauModulus_Pa, coarser.plateauModulus_Pa);
  const comparison = {
    coarser: coarser.compound,
    finer: finer.compound,
    coarserSize_nm: coarser.particleSize_nm,
    finerSize_nm: finer.particleSize_nm,
    volumeFraction: (coarser.volumeFraction + finer.volumeFraction) / 2,
    ratio,
    distinguishable: ratio.low === null || ratio.high === null ? null : ratio.low > 1 || ratio.high < 1,
  };
  return { ...comparison, sentence: sentenceOf(comparison) };
}

function sentenceOf(comparison: Omit<ParticleSizeComparison, "sentence">): string {
  const { coarser, finer, coarserSize_nm, finerSize_nm, volumeFraction, ratio, distinguishable } = comparison;
  const nm = (size_nm: number) => `${Number(significant(size_nm))} nm`;
  const words = ({ value, low, high }: ValueInterval) =>
    `${fixed(value, 2)}${low === null || high === null ? " (no interval)" : ` (${fixed(low, 2)} to ${fixed(high, 2)})`}`;
  const middle_nm = (coarserSize_nm + finerSize_nm) / 2;
  const told = distinguishable === false ? ", which is not told from no difference" : "";
  return `At ${percentText(volumeFraction, 1)} filler by volume ${finer} with particles of ${nm(finerSize_nm)} has ${words(ratio)} times the plateau modulus of ${coarser} with ${nm(coarserSize_nm)}, as measured${told}. On the straight line between the two, ${nm(middle_nm)} would give ${words(modulusRatioAtSize(comparison, middle_nm)!)}; nothing here says what finer or coarser ones do.`;
}
