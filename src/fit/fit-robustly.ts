import type { Notice } from "../io/problem.js";
import { chooseVertical } from "./choose-vertical.js";
import { bestOutsideGlass } from "./fit-outside-glass.js";
import type { SplitIsotherms } from "./glass-isotherms.js";
import type { IsothermSet } from "./isotherms.js";
import { pointsLeftOutNotice } from "./left-out-notices.js";
import type { GlassTransition } from "./material.js";
import { misfittingPoints, withoutModuli } from "./misfitting-points.js";
import type { VerticalShift } from "./relaxation-model.js";
import type { OutlyingModulus } from "./rough-points.js";
import { fitSuperposition, middleIsotherm, type SuperpositionFit } from "./superposition-fit.js";
import type { SuperpositionSettings } from "./superposition-settings.js";
import { densityShift, knownVertical, scaled } from "./vertical-factor.js";

export interface RobustFit extends BestFit {
  /** What was fitted and what lies in the glass, without the points that were left out. */
  measured: IsothermSet;
}

interface BestFit {
  fit: SuperpositionFit;
  split: SplitIsotherms;
  density: VerticalShift;
  /** Why there is a vertical factor or none, where the misfit decided. */
  verticalChoice: Notice | null;
  notices: Notice[];
}

/** Rounds of leaving out what stands off and fitting again. */
const mostRounds = 4;

/**
 * The fit of a set in which single points may be wrong: found by their residuals, left out by name, and the rest
 * fitted again.
 * @param rough moduli that were left out of the set beforehand
 */
export function fitRobustly(
  checked: IsothermSet,
  rough: OutlyingModulus[],
  glassTransitions: GlassTransition[],
  settings: SuperpositionSettings,
): RobustFit | null {
  let measured = checked;
  const points = rough.slice();
  let best = bestFit(measured, glassTransitions, settings);
  for (let round = 0; best !== null && round < mostRounds; round++) {
    const found = misfittingPoints(best.fit, points.length - rough.length);
    if (found.length === 0) break;
    points.push(...found);
    measured = withoutModuli(measured, found);
    best = bestFit(measured, glassTransitions, settings);
  }
  if (best === null) return null;
  const notice = pointsLeftOutNotice(points);
  return { ...best, measured, notices: notice === null ? best.notices : [notice, ...best.notices] };
}

/** The best fit outside the glass, with the vertical factor that the settings ask for or the misfit decides on. */
function bestFit(
  measured: IsothermSet,
  glassTransitions: GlassTransition[],
  settings: SuperpositionSettings,
): BestFit | null {
  const withShift = (verticalShift: SuperpositionSettings["verticalShift"]) => {
    const density = densityShift({ ...settings, verticalShift });
    const fitOf = (isotherms: IsothermSet) => {
      const reference = middleIsotherm(isotherms, Number.NEGATIVE_INFINITY);
      const known = knownVertical(isotherms, density, isotherms.isotherms[reference].temperature_C);
      return fitSuperposition(scaled(isotherms, known), reference, { ...settings, verticalShift });
    };
    const best = (): BestFit | null => {
      const found = bestOutsideGlass(measured, glassTransitions, fitOf);
      if (found === null) return null;
      return {
        ...found,
        density,
        verticalChoice: null,
        notices: found.notice === null ? [] : [found.notice],
      };
    };
    return { fitOf, best };
  };
  if (settings.verticalShift !== "auto") return withShift(settings.verticalShift).best();
  const off = withShift("off").best();
  if (off === null) return null;
  const density = withShift("density-temperature");
  const compared = density.fitOf(off.fit.set);
  if (compared === null) return off;
  const { choice, notice } = chooseVertical(off.fit, compared);
  const best = choice === "off" ? off : (density.best() ?? off);
  return { ...best, verticalChoice: notice };
}
