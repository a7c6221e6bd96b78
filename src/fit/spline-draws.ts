import { exp } from "../elementary/exponential.js";
import { cube } from "../elementary/power.js";
import { choleskySolveTransposed } from "./band-cholesky.js";
import type { PenalisedSpline } from "./penalised-spline.js";
import type { Random } from "./random.js";

/**
 * Strengths, log10, from which on the curve is a polynomial whatever the strength. Each further decade would count
 * this one curve again, and the draws would believe in it more than the data do.
 */
const strongest = 2;

/**
 * Draws curves that the data allow: the strength of the penalty by its restricted likelihood, then the scatter, then
 * the coefficients from their normal distribution given both, with the penalty as what is known beforehand (Wahba, J.
 * R. Stat. Soc. B 45, 133, 1983; Nychka, J. Am. Stat. Assoc. 83, 1134, 1988: such intervals hold the smoothing's
 * bias, unlike those of a bootstrap at one strength).
 *
 * @returns writes the coefficients of the next curve into `out`
 */
export function splineDraws(spline: PenalisedSpline, random: Random): (out: Float64Array) => void {
  const strengths = spline.strengths.filter(({ log10Strength }) => log10Strength <= strongest);
  const least = Math.min(...strengths.map(({ deviance }) => deviance));
  const weights = strengths.map(({ deviance }) => exp((least - deviance) / 2));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const degreesOfFreedom = Math.max(1, spline.degreesOfFreedom);
  return (out) => {
    let left = random.uniform() * total;
    let k = 0;
    while (k < weights.length - 1 && left > weights[k]) left -= weights[k++];
    const { coefficients, factor, penalisedSumOfSquares } = strengths[k];
    const scatter = Math.sqrt(penalisedSumOfSquares / chiSquared(degreesOfFreedom, random));
    for (let i = 0; i < out.length; i++) out[i] = random.normal();
    choleskySolveTransposed(factor, out);
    for (let i = 0; i < out.length; i++) out[i] = coefficients[i] + scatter * out[i];
  };
}

/** A draw of chi-squared, by Wilson and Hilferty's cube root (Proc. Natl. Acad. Sci. USA 17, 684, 1931). */
function chiSquared(degreesOfFreedom: number, random: Random): number {
  const variance = 2 / (9 * degreesOfFreedom);
  return degreesOfFreedom * cube(Math.max(0.3, 1 - variance + Math.sqrt(variance) * random.normal()));
}
