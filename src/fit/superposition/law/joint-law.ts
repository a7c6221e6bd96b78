import { square } from "../../../numeric/elementary/power.js";
import { symmetricInverse } from "../../../numeric/symmetric-inverse.js";
import type { IsothermSet } from "../isotherms/isotherms.js";
import type { ReducedFit } from "../shift/reduced-fit.js";
import { fitShifts, type ShiftFit, type ShiftModel } from "../shift/shift-fit.js";
import { aboveVogel, type LawFit, type LawShape, runGradient, runOffset_K, runShift } from "./law-fit.js";

/**
 * Variance for the errors of shifts and constants. Which modes are in use was chosen on the same data, which
 * the linear formula does not see; on made-up data with few points an isotherm it falls short by the share of
 * the modes in the degrees of freedom (chi-squared of the true shifts 1.05 to 1.27 of its expectation).
 */
export function errorVariance({ variance, degreesOfFreedom, state }: ShiftFit): number {
  return variance * (1 + state.modes / degreesOfFreedom);
}

/**
 * The law's constants and the spectrum together, where the isotherms scatter about the law by no more than
 * their own errors; else the constants stay as the shifts gave them, and the vertical shifts follow.
 * @param verticalOf which vertical parameter each isotherm has, −1 for none, out of `verticalCount`
 * @param deviation prior standard deviation of a vertical parameter, in decades
 * @returns the law, and log10 bT of each isotherm
 */
export function jointLaw(
  set: IsothermSet,
  reduced: ReducedFit,
  free: ShiftFit,
  law: LawFit,
  verticalOf: Int32Array,
  verticalCount: number,
  deviation: number,
): { law: LawFit; log10bT: Float64Array } {
  const count = set.isotherms.length;
  const fixed = law.scatter_decades > 0;
  const lawParameters = fixed ? 0 : law.parameters.length;
  const size = lawParameters + verticalCount;
  const model: ShiftModel = {
    size,
    verticalOf,
    verticalCount,
    shifts: (p, log10aT, log10bT) => {
      const constants = fixed ? law.parameters : p.subarray(0, lawParameters);
      for (let k = 0; k < count; k++) {
        const { run, temperature_C } = set.isotherms[k];
        log10aT[k] = runShift(law.shape, constants, temperature_C, run);
        log10bT[k] = verticalOf[k] < 0 ? 0 : p[lawParameters + verticalOf[k]];
      }
    },
    jacobian: (p) => {
      const map = new Float64Array((count + verticalCount) * size);
      for (let k = 0; k < count; k++) {
        const { run, temperature_C } = set.isotherms[k];
        if (!fixed) {
          const constants = p.subarray(0, lawParameters);
          const gradient = runGradient(law.shape, constants, temperature_C, run);
          for (let j = 0; j < lawParameters; j++) map[k * size + j] = gradient[j];
        }
      }
      for (let v = 0; v < verticalCount; v++) map[(count + v) * size + lawParameters + v] = 1;
      return map;
    },
    priorDeviation: new Float64Array(size).fill(Number.POSITIVE_INFINITY).fill(deviation, lawParameters),
    allows: (p) => fixed || lawHolds(law.shape, p.subarray(0, lawParameters), set),
  };
  const start = new Float64Array(size);
  if (!fixed) start.set(law.parameters);
  start.set(free.parameters.subarray(count - 1), lawParameters);
  const joint = fitShifts(reduced, model, start);
  if (fixed) return { law, log10bT: joint.log10bT };
  const inverse = symmetricInverse(joint.information, size);
  const covariance = new Float64Array(square(lawParameters));
  for (let a = 0; a < lawParameters; a++) {
    for (let b = 0; b < lawParameters; b++) {
      covariance[a * lawParameters + b] =
        inverse === null
          ? law.covariance[a * lawParameters + b]
          : errorVariance(joint) * inverse[a * size + b];
    }
  }
  return {
    law: { ...law, parameters: joint.parameters.slice(0, lawParameters), covariance },
    log10bT: joint.log10bT,
  };
}

/**
 * Positive slope and bend, and T∞ below every isotherm that the formula itself covers.
 * @param parameters as in `LawFit`
 */
export function lawHolds(shape: LawShape, parameters: ArrayLike<number>, set: IsothermSet): boolean {
  if (!(parameters[0] > 0)) return false;
  if (shape.kind === "arrhenius") return true;
  if (!(parameters[1] > 0)) return false;
  return set.isotherms.every(
    ({ temperature_C, run }) =>
      aboveVogel(shape, parameters, temperature_C - runOffset_K(shape, parameters, run)) > 0.01,
  );
}
