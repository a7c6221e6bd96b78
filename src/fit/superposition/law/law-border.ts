import { square } from "../../../numeric/elementary/power.js";
import { leastBetween } from "../../../numeric/least-over.js";
import { fitLaw, type LawFit, type LawShape, lawSize, leastDistance, startOf } from "./law-fit.js";
import { type MeasuredShifts, type ShiftErrors, shiftErrors } from "./measured-shifts.js";

/** A constant's hundredth of a per cent moves chi-squared by far less than a place of the border does. */
const searchTolerance = 1e-4;

/**
 * The WLF law with its border to the glass where the shifts fit best: isotherms in the glass leave the WLF
 * curve for its tangent. Tried at every isotherm up to the reference that leaves three at or above it, then
 * in between. Null where there is no room for a border.
 * @param isRough at the isotherms only, and without the border's own part of the covariance
 */
export function fitBorderedWlf(shifts: MeasuredShifts, reference_C: number, isRough: boolean): LawFit | null {
  const temperatures = [...shifts.temperature_C].sort((a, b) => a - b);
  const candidates = temperatures.filter(
    (t, k) => k > 0 && t <= reference_C && temperatures.length - k >= 3 && t > temperatures[0] + 0.5,
  );
  if (
    candidates.length === 0 ||
    shifts.temperature_C.length < lawSize(wlfShape(reference_C, 0)) + shifts.runCount + 1
  ) {
    return null;
  }
  let start = startOf(shifts, wlfShape(reference_C, candidates[0]));
  const misfit = (border_C: number, errors: ShiftErrors) => {
    const fit = leastDistance(shifts, wlfShape(reference_C, border_C), start, errors, searchTolerance);
    start = fit.parameters;
    return fit;
  };
  const errors = shiftErrors(shifts, 0);
  const chiSquared = candidates.map((border_C) => misfit(border_C, errors).chiSquared);
  const best = chiSquared.indexOf(Math.min(...chiSquared));
  if (isRough) return fitLaw(shifts, wlfShape(reference_C, candidates[best]));
  const border_C = leastBetween(
    (place_C) => misfit(place_C, errors).chiSquared,
    candidates[best - 1] ?? temperatures[0],
    candidates[best + 1] ?? candidates[best],
    0.05,
  );
  const law = fitLaw(shifts, wlfShape(reference_C, border_C));
  if (law === null) return null;
  // The border's own variance from the curvature of chi-squared, carried over to the constants.
  const h = 0.5;
  const withScatter = shiftErrors(shifts, law.scatter_decades);
  const [below, here, above] = [-h, 0, h].map((d) => misfit(border_C + d, withScatter));
  const curvature = (below.chiSquared - 2 * here.chiSquared + above.chiSquared) / square(h);
  const variance = Math.min(curvature > 0 ? 2 / curvature : Number.POSITIVE_INFINITY, 25);
  const slope = here.parameters.map((_, j) => (above.parameters[j] - below.parameters[j]) / (2 * h));
  const size = slope.length;
  const borderCovariance = new Float64Array(size * size);
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < size; b++) borderCovariance[a * size + b] = variance * slope[a] * slope[b];
  }
  return { ...law, borderCovariance };
}

const wlfShape = (reference_C: number, border_C: number): LawShape => ({
  kind: "wlf",
  reference_C,
  border_C,
});
