import { exp10 } from "../../numeric/elementary/exponential.js";
import { square } from "../../numeric/elementary/power.js";
import { coded } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { fixed, percentText, temperatureText } from "../../words/quantity-text.js";
import type { Simplicity } from "./isotherms/simplicity.js";
import { decadesText, deviationsFromLaw } from "./law/off-the-law.js";
import { range } from "./shift/reduced-points.js";
import type { SuperpositionFit } from "./shift/superposition-fit.js";

/** One law holds where no isotherm lies further from it than this and one spectrum follows all within 6 %, as a blend does not. */
const oneLawHolds = { decades: 0.1, misfit: 0.06 };

/** Isotherms that one law brings together, although the plots that need no shifting show more than noise; null for others. */
export function nearlySimpleNotice(fit: SuperpositionFit, simplicity: Simplicity): Notice | null {
  if (simplicity.simple) return null;
  const { chosen, shifts, noise } = fit;
  const all = Array.from(shifts.run.keys());
  const farthest_decades = Math.max(
    ...deviationsFromLaw(shifts, chosen, all).map(({ off_decades }) => Math.abs(off_decades)),
  );
  const misfit = Math.sqrt((square(noise.storage) + square(noise.loss)) / 2);
  if (farthest_decades > oneLawHolds.decades || misfit > oneLawHolds.misfit) return null;
  const { low, high } = range(fit.set.temperature_C);
  const asPercent = (log10Ratio: number) => percentText(exp10(log10Ratio) - 1, 1);
  const { wicketScatterLog10, allowedScatterLog10, phaseScatter_deg, allowedScatter_deg } = simplicity;
  return {
    ...coded("fit.nearly-simple"),
    message: `One ${chosen.shape.kind === "wlf" ? "WLF" : "Arrhenius"} law brings the isotherms from ${fixed(low, 0)} to ${temperatureText(high, 0)} together: their shifts lie within ${decadesText(farthest_decades)} of it, and one spectrum follows all moduli within ${percentText(misfit, 1)} (root mean square). Held against each other without any shift they differ by more than noise explains: at equal modulus by ${asPercent(wicketScatterLog10)} in tan δ and ${fixed(phaseScatter_deg, 1)}° in phase, where ${asPercent(allowedScatterLog10)} and ${fixed(allowedScatter_deg, 1)}° would pass. So the material is nearly, not strictly, thermorheologically simple; the intervals include the misfit.`,
  };
}

/** Whether that was found of the isotherms and no second phase beside, by the codes of what is said of them. */
export const isNearlySimple = (codes: string[]): boolean =>
  codes.includes("fit.nearly-simple") && !codes.includes("fit.two-phases");
