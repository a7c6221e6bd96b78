import { exp } from "../elementary/exponential.js";
import { ln } from "../elementary/logarithm.js";
import { power, square } from "../elementary/power.js";
import { assumedLaw } from "./assumed-sweep.js";
import { decadesToGlass } from "./conventional-glass-temperature.js";
import type { GlassAnchor } from "./glass-anchor.js";
import type { Random } from "./random.js";
import type { NamedConstants } from "./reference-curves.js";
import type { WlfLaw } from "./shift-law.js";

/** What an assumed law hangs on: ln C1 and ln C2 at Tg, and the decades from the static Tg to the measured peak. */
export type LawPoint = readonly [lnC1: number, lnC2: number, decades: number];

/** What is thought of the constants of a compound before its sweep is asked: a density over `LawPoint`. */
export interface LawPrior {
  rows: NamedConstants[];
  /** Share of each row, one in all. */
  shares: number[];
  /** Standard deviations of ln C1 and ln C2 about a row, and of the decades. */
  deviations: LawPoint;
  decades: number;
}

/**
 * Standard deviation of the decades between the relaxation time at the Tg that goes with a row and 100 s: half
 * a decade to either side, one and a half kelvin (common practice: dilatometric Tg agree within some 2 K).
 */
const glassDecadesDeviation = 0.6;
/** Decades a kelvin near the peak, to bring the error of its place to the same unit (some 3 to 4 K a decade there). */
const decadesPerKelvin = 0.28;

/**
 * Published rows, each with a spread of its own, since constants differ between compounds of one elastomer
 * too: the spread is that of the table, brought to a kernel of a density estimate by Silverman's rule in two
 * dimensions, n^(−1/6) (Silverman, Density Estimation for Statistics and Data Analysis, 1986, ch. 4).
 * @param shares relative; brought to a sum of one
 */
export function lawPrior(rows: NamedConstants[], shares: number[], anchor: GlassAnchor): LawPrior {
  const total = shares.reduce((a, b) => a + b, 0);
  const kernel = power(rows.length, -1 / 6);
  return {
    rows,
    shares: shares.map((share) => share / total),
    deviations: [
      kernel * scatter(rows.map((row) => ln(row.c1))),
      kernel * scatter(rows.map((row) => ln(row.c2_K))),
      Math.sqrt(square(glassDecadesDeviation) + square(decadesPerKelvin * anchor.deviation_K)),
    ],
    decades: decadesToGlass(anchor.frequency_Hz),
  };
}

function scatter(values: number[]): number {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return Math.sqrt(values.reduce((sum, v) => sum + square(v - mean), 0) / (values.length - 1));
}

/** The prior as a mixture of normal densities with a common diagonal covariance. */
export function priorCentres({ rows, decades }: LawPrior): LawPoint[] {
  return rows.map((row) => [ln(row.c1), ln(row.c2_K), decades]);
}

/** The `index`-th row with a spread about it. */
export function samplePrior(prior: LawPrior, index: number, random: Random): LawPoint {
  const centre = priorCentres(prior)[index];
  const [a, b, c] = prior.deviations;
  return [centre[0] + a * random.normal(), centre[1] + b * random.normal(), centre[2] + c * random.normal()];
}

/** Density of the prior at a point, up to a factor. */
export function priorDensity(prior: LawPrior, point: LawPoint): number {
  let sum = 0;
  for (const [k, centre] of priorCentres(prior).entries()) {
    let exponent = 0;
    for (let i = 0; i < 3; i++) exponent += square((point[i] - centre[i]) / prior.deviations[i]);
    sum += prior.shares[k] * exp(-0.5 * exponent);
  }
  return sum;
}

/**
 * The law of a point hung on a loss peak: its Tg lies y C2/(C1 − y) below the peak, y the decades, by its own
 * constants.
 */
export function lawAt(point: LawPoint, peak_C: number): WlfLaw {
  const c1 = exp(point[0]);
  const c2_K = exp(point[1]);
  const decades = Math.min(Math.max(point[2], 0), 0.8 * c1);
  return assumedLaw({ name: "", c1, c2_K }, peak_C - (decades * c2_K) / (c1 - decades));
}

/**
 * The middle of weighted laws, itself a law: means of the law's slope at the peak and of the distance from T∞
 * (both as logs) and of the decades. In these the sweep hardly couples one to the other, while C1 and C2 lie on
 * a bent ridge, off which their own means would fall.
 */
export function middleLaw(points: LawPoint[], weights: ArrayLike<number>): LawPoint {
  let [slope, distance, decades, total] = [0, 0, 0, 0];
  for (const [k, [lnC1, lnC2, y]] of points.entries()) {
    const c1 = exp(lnC1);
    const held = Math.min(Math.max(y, 0), 0.8 * c1);
    // Peak − T∞ = C2 C1/(C1 − y), slope at the peak C1 C2/(peak − T∞)².
    const lnDistance = lnC2 + lnC1 - ln(c1 - held);
    slope += weights[k] * (lnC1 + lnC2 - 2 * lnDistance);
    distance += weights[k] * lnDistance;
    decades += weights[k] * held;
    total += weights[k];
  }
  const y = decades / total;
  const product = exp(slope / total + (2 * distance) / total);
  const c1 = y + product / exp(distance / total);
  return [ln(c1), ln(product / c1), y];
}
