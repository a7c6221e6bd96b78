import type { Notice } from "../../words/notice.js";
import type { GlassTransition } from "../material.js";
import type { VerticalShift } from "../spectrum/relaxation-model.js";
import { glassMargins_K, type SplitIsotherms, splitAtGlass } from "./isotherms/glass-isotherms.js";
import { filterIsotherms, type IsothermSet } from "./isotherms/isotherms.js";
import { withAgreeingRamps } from "./isotherms/ramp-agreement.js";
import { type Simplicity, thermorheologicalSimplicity } from "./isotherms/simplicity.js";
import { oneLawHolds } from "./nearly-simple.js";
import type { SuperpositionFit } from "./shift/superposition-fit.js";
import { knownVertical, scaled } from "./shift/vertical-factor.js";
import { temperatureCount } from "./superposition-checks.js";

/** Scatter about the law, in decades, below which nothing more is to be won by leaving isotherms out. */
const tolerableScatter = 0.02;

/** Scatter from which on a margin is passed over for a narrower one before its fit is at its end. */
const hopelessScatter = 10 * tolerableScatter;

interface OutsideGlass {
  fit: SuperpositionFit;
  split: SplitIsotherms;
  notice: Notice | null;
}

/** The fit at the widest margin into the glass whose isotherms follow the law; a narrower one must halve their scatter. */
export function bestOutsideGlass(
  measured: IsothermSet,
  glassTransitions: GlassTransition[],
  fitOf: (set: IsothermSet, mostScatter_decades: number) => SuperpositionFit | null,
): OutsideGlass | null {
  let best: (OutsideGlass & { set: IsothermSet; mostScatter: number }) | null = null;
  const splits = glassMargins_K
    .map((margin_K) => splitAtGlass(measured, glassTransitions, margin_K))
    .filter(({ above }, i, all) => above.isotherms.length !== all[i - 1]?.above.isotherms.length);
  for (const [i, split] of splits.entries()) {
    if (best !== null && temperatureCount(split.above) < 5) break;
    const mostScatter = i + 1 < splits.length ? hopelessScatter : Number.POSITIVE_INFINITY;
    const { set, notice } = withAgreeingRamps(split.above, (sweeps) => fitOf(sweeps, mostScatter));
    const fit = fitOf(set, mostScatter);
    if (fit === null) continue;
    const scatter = fit.chosen.scatter_decades;
    if (best === null || scatter < 0.5 * best.fit.chosen.scatter_decades) {
      best = { set, mostScatter, fit, split, notice };
    }
    if (scatter <= tolerableScatter) break;
  }
  if (best === null || best.fit.chosen.scatter_decades <= best.mostScatter) return best;
  return { ...best, fit: fitOf(best.set, Number.POSITIVE_INFINITY) ?? best.fit };
}

/** The isotherms in the glass of the runs that were fitted, with the fit's own known vertical factor. */
export function glassOf(
  glass: IsothermSet | null,
  fit: SuperpositionFit,
  density: VerticalShift,
): IsothermSet | null {
  if (glass === null) return null;
  const kept = filterIsotherms(glass, ({ run }) => fit.set.runs.includes(glass.runs[run]));
  if (kept.isotherms.length === 0) return null;
  const numbered: IsothermSet = {
    ...kept,
    runs: fit.set.runs,
    isotherms: kept.isotherms.map((isotherm) => ({
      ...isotherm,
      run: fit.set.runs.indexOf(kept.runs[isotherm.run]),
    })),
  };
  return scaled(numbered, knownVertical(numbered, density, fit.chosen.shape.reference_C));
}

/**
 * Simplicity of all isotherms, those in the glass too: a second phase may show there only. Each takes the
 * vertical factor of the fitted isotherm of its run that is nearest in temperature.
 */
export function simplicityOf(
  measured: IsothermSet,
  fit: SuperpositionFit,
  density: VerticalShift,
): Simplicity | null {
  const known = knownVertical(measured, density, fit.chosen.shape.reference_C);
  const log10bT = measured.isotherms.map(({ run, temperature_C }, k) => {
    let nearest = Number.POSITIVE_INFINITY;
    let fitted = 0;
    for (const [j, isotherm] of fit.set.isotherms.entries()) {
      const distance_K = Math.abs(isotherm.temperature_C - temperature_C);
      if (fit.set.runs[isotherm.run] !== measured.runs[run] || distance_K >= nearest) continue;
      nearest = distance_K;
      fitted = fit.log10bT[j];
    }
    return known[k] + fitted;
  });
  const plots = thermorheologicalSimplicity(measured, log10bT);
  // Of isotherms in the glass the law says nothing.
  const isWhole = fit.set.isotherms.length === measured.isotherms.length;
  return plots && { ...plots, nearlySimple: !plots.simple && isWhole && oneLawHolds(fit) };
}
