import type { Notice } from "../io/problem.js";
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

export interface RobustFit {
  fit: SuperpositionFit;
  split: SplitIsotherms;
  /** What was fitted and what lies in the glass, without the points and isotherms that were left out. */
  measured: IsothermSet;
  density: VerticalShift;
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
  const density = densityShift(settings);
  const fitOf = (isotherms: IsothermSet) => {
    const reference = middleIsotherm(isotherms, Number.NEGATIVE_INFINITY);
    const known = knownVertical(isotherms, density, isotherms.isotherms[reference].temperature_C);
    return fitSuperposition(scaled(isotherms, known), reference, settings);
  };
  let measured = checked;
  const points = rough.slice();
  let best = bestOutsideGlass(measured, glassTransitions, fitOf);
  for (let round = 0; best !== null && round < mostRounds; round++) {
    const found = misfittingPoints(best.fit, points.length - rough.length);
    if (found.length === 0) break;
    points.push(...found);
    measured = withoutModuli(measured, found);
    best = bestOutsideGlass(measured, glassTransitions, fitOf);
  }
  if (best === null) return null;
  const notices = [pointsLeftOutNotice(points), best.notice].filter((notice) => notice !== null);
  return { fit: best.fit, split: best.split, measured, density, notices };
}
