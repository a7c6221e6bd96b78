import { fitLaw, type LawFit } from "./law-fit.js";
import { type MeasuredShifts, subsetOfShifts } from "./measured-shifts.js";

/** Fewer than these say nothing without one of them. */
const fewestIsotherms = 5;

/**
 * What a WLF law owes to the coldest isotherm that its formula covers, as a covariance of (s, κ): the square of what its
 * leaving out changes. There the glass begins, and a secondary relaxation, which moves less with temperature than the
 * transition does, bends the shifts by as much as their own errors. On 60 made-up sets of isotherms with a weak one T∞ was
 * held in 47 without this (1.4 and 1.9 K wide, medians of 30) and in 59 with it (1.9 and 2.8 K); without one it costs a tenth
 * of the width, and of six isotherms three tenths.
 * @param law of one run
 * @returns 2 × 2, row by row; null where it is not to be had
 */
export function coldestIsothermCovariance(shifts: MeasuredShifts, law: LawFit): Float64Array | null {
  const { shape } = law;
  if (shape.kind !== "wlf" || shifts.runCount > 1) return null;
  const { temperature_C, reference } = shifts;
  const border_C = shape.border_C ?? Number.NEGATIVE_INFINITY;
  const covered = [...temperature_C.keys()].filter((k) => temperature_C[k] >= border_C);
  if (covered.length < fewestIsotherms) return null;
  const coldest = covered.reduce((a, b) => (temperature_C[b] < temperature_C[a] ? b : a));
  if (coldest === reference) return null;
  const fitOf = (own: number[]) => fitLaw(subsetOfShifts(shifts, own), { ...shape, border_C: null });
  const all = shape.border_C === null ? law : fitOf(covered);
  const without = fitOf(covered.filter((k) => k !== coldest));
  if (all === null || without === null) return null;
  const [ds, dk] = [0, 1].map((j) => without.parameters[j] - all.parameters[j]);
  return Float64Array.of(ds * ds, ds * dk, ds * dk, dk * dk);
}
