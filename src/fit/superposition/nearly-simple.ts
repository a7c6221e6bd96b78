import { exp10 } from "../../numeric/elementary/exponential.js";
import { square } from "../../numeric/elementary/power.js";
import { coded } from "../../words/codes/codes.js";
import type { Notice } from "../../words/notice.js";
import { fixed, percentText, temperatureText } from "../../words/quantity-text.js";
import { separatePhases } from "../glass/separate-phases.js";
import type { Material } from "../material.js";
import type { Simplicity } from "./isotherms/simplicity.js";
import { decadesText, deviationsFromLaw } from "./law/off-the-law.js";
import { range } from "./shift/reduced-points.js";
import type { SuperpositionFit } from "./shift/superposition-fit.js";

/** One law holds where no isotherm lies further from it than this and one spectrum follows all within 6 %, as a blend does not. */
const holdsWithin = { decades: 0.1, misfit: 0.06 };

/** Whether one law brings the isotherms together and one spectrum follows them. */
export function oneLawHolds(fit: SuperpositionFit): boolean {
  const { farthest_decades, misfit } = besideOneLaw(fit);
  return farthest_decades <= holdsWithin.decades && misfit <= holdsWithin.misfit;
}

function besideOneLaw({ chosen, shifts, noise }: SuperpositionFit): {
  farthest_decades: number;
  misfit: number;
} {
  const away = deviationsFromLaw(shifts, chosen, Array.from(shifts.run.keys()));
  return {
    farthest_decades: Math.max(...away.map(({ off_decades }) => Math.abs(off_decades))),
    misfit: Math.sqrt((square(noise.storage) + square(noise.loss)) / 2),
  };
}

/** What is said of isotherms that one law brings together, although the plots that need no shifting show more than noise. */
export function nearlySimpleNotice(fit: SuperpositionFit, simplicity: Simplicity): Notice {
  const { farthest_decades, misfit } = besideOneLaw(fit);
  const { low, high } = range(fit.set.temperature_C);
  const asPercent = (log10Ratio: number) => percentText(exp10(log10Ratio) - 1, 1);
  const { wicketScatterLog10, allowedScatterLog10, phaseScatter_deg, allowedScatter_deg } = simplicity;
  return {
    ...coded("fit.nearly-simple"),
    message: `One ${fit.chosen.shape.kind === "wlf" ? "WLF" : "Arrhenius"} law brings the isotherms from ${fixed(low, 0)} to ${temperatureText(high, 0)} together: their shifts lie within ${decadesText(farthest_decades)} of it, and one spectrum follows all moduli within ${percentText(misfit, 1)} (root mean square). Held against each other without any shift they differ by more than noise explains: at equal modulus by ${asPercent(wicketScatterLog10)} in tan δ and ${fixed(phaseScatter_deg, 1)}° in phase, where ${asPercent(allowedScatterLog10)} and ${fixed(allowedScatter_deg, 1)}° would pass. So the material is nearly, not strictly, thermorheologically simple; the intervals include the misfit.`,
  };
}

/** Whether one law holds although the material is not strictly simple, and no sweep shows a second phase. */
export const isNearlySimple = ({
  superposition,
  glassTransitions,
}: Pick<Material, "superposition" | "glassTransitions">): boolean =>
  superposition?.simplicity?.nearlySimple === true && separatePhases(glassTransitions) === null;
