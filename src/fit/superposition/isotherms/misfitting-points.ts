import { log10 } from "../../../numeric/elementary/logarithm.js";
import type { RowSource } from "../../glass/ramp-steps.js";
import type { SuperpositionFit } from "../shift/superposition-fit.js";
import { type IsothermSet, pickRows } from "./isotherms.js";
import { type Allowance, curvesOf, deviating, type OutlyingModulus, standingOff } from "./rough-points.js";

/** The misfit of a model is smoother than the moduli are: a line or a parabola over its points follows it. */
const ofResiduals: Allowance = { noise: 6, parabola: () => 0.02, line: () => 0.03 };
/** What a wrong modulus deviates from its own curve at least, as a multiple of that curve's noise. */
const ownCurveNoise = 5;
/** More moduli than this share are no outliers but what the model cannot say. */
const largestShareLeftOut = 0.05;

/**
 * Moduli that a fit with free shifts leaves off while it meets their neighbours: its residuals along each isotherm
 * are held against their own smooth course, since the misfit of a blend, of a wrong temperature or of a slipped
 * clamp runs on from point to point and must stay; and what was measured must deviate that way from its own curve
 * too, so that no smooth curve is cut to what the model can say. None where they are more than a twentieth of all.
 * @param before how many were left out in earlier rounds
 */
export function misfittingPoints(fit: SuperpositionFit, before: number): OutlyingModulus[] {
  const { set, free, reduced, lossTrust } = fit;
  const n = set.frequency_Hz.length;
  const misfits = (["M′", "M″"] as const).flatMap((quantity) => {
    const from = quantity === "M′" ? 0 : n;
    const trust = quantity === "M′" ? 1 : lossTrust;
    const curves = curvesOf(
      set,
      quantity,
      (row) => -log10(Math.max(1e-6, 1 + free.state.residuals[from + row] / trust)),
    );
    return standingOff(curves, ofResiduals);
  });
  if (misfits.length === 0) return [];
  const found = misfits.filter(deviating(set, ownCurveNoise));
  // One point carries two moduli.
  return found.length + before <= Math.max(2, largestShareLeftOut * reduced.count) ? found : [];
}

/** The set without these moduli: a point whose M′ is off is left out, one whose M″ alone is off loses that. */
export function withoutModuli(set: IsothermSet, moduli: OutlyingModulus[]): IsothermSet {
  if (moduli.length === 0) return set;
  const of = (quantity: OutlyingModulus["quantity"]) =>
    new Set<RowSource>(moduli.flatMap((one) => (one.quantity === quantity ? [one.source] : [])));
  const storage = of("M′");
  const loss = of("M″");
  const rows: number[] = [];
  const isotherms = set.isotherms.flatMap((isotherm) => {
    const first = rows.length;
    for (let i = isotherm.first; i < isotherm.end; i++) if (!storage.has(set.source[i])) rows.push(i);
    if (rows.length - first >= 2) return [{ ...isotherm, first, end: rows.length }];
    rows.length = first;
    return [];
  });
  const picked = pickRows(set, rows, isotherms);
  return {
    ...picked,
    lossModulus_Pa: picked.lossModulus_Pa.map((lossModulus_Pa, i) =>
      loss.has(picked.source[i]) ? Number.NaN : lossModulus_Pa,
    ),
  };
}
