import { cholesky } from "../../numeric/cholesky.js";
import { evenDeviates, groupSize, shuffled, withMoments } from "../../numeric/deviates.js";
import { exp } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { power, square } from "../../numeric/elementary/power.js";
import type { Random } from "../../numeric/random.js";
import { log10ShiftFactor, temperatureAtShift, type WlfLaw } from "../spectrum/shift-law.js";
import { decadesToGlass } from "../superposition/law/conventional-glass-temperature.js";
import type { NamedConstants } from "../superposition/law/reference-curves.js";
import { assumedLaw } from "./assumed-sweep.js";
import type { GlassAnchor } from "./glass-anchor.js";

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

type Deviates = () => readonly [number, number, number];

/** The `index`-th row with a spread about it. */
function samplePrior(prior: LawPrior, index: number, deviates: Deviates): LawPoint {
  const centre = priorCentres(prior)[index];
  const [a, b, c] = prior.deviations;
  const [x, y, z] = deviates();
  return [centre[0] + a * x, centre[1] + b * y, centre[2] + c * z];
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
 * @param weights one a law, zero or more, of any sum above zero
 */
export function middleLaw(points: LawPoint[], weights: ArrayLike<number>): LawPoint {
  const middle = [0, 0, 0];
  let total = 0;
  for (const [k, point] of points.entries()) {
    for (const [i, value] of atPeak(point).entries()) middle[i] += weights[k] * value;
    total += weights[k];
  }
  return fromPeak(middle.map((sum) => sum / total));
}

/** ln of the law's slope at the peak and of the peak's distance from T∞, and the decades from Tg to it. */
function atPeak([lnC1, lnC2, decades]: LawPoint): [number, number, number] {
  const c1 = exp(lnC1);
  const held = Math.min(Math.max(decades, 0), 0.8 * c1);
  // Peak − T∞ = C2 C1/(C1 − y), slope at the peak C1 C2/(peak − T∞)².
  const lnDistance = lnC2 + lnC1 - ln(c1 - held);
  return [lnC1 + lnC2 - 2 * lnDistance, lnDistance, held];
}

function fromPeak([lnSlope, lnDistance, decades]: number[]): LawPoint {
  const product = exp(lnSlope + 2 * lnDistance);
  const c1 = decades + product / exp(lnDistance);
  return [ln(c1), ln(product / c1), decades];
}

/** Laws with weights of a sum of one: what is thought of the constants once the sweep was asked. */
export interface WeightedLaws {
  points: LawPoint[];
  weights: Float64Array;
  /** The misfit of each, as `misfitOf` gave it. */
  misfits: Float64Array;
}

/** Laws tried: the first round takes all from the prior, later ones most from where the sweep is followed well. */
const roundSizes = [210, 100, 100, 100];
const priorShare = 0.2;
const centresKept = 24;

/**
 * How well the sweep tells the laws apart. Misfit is no plain noise: the points of a curve err together, in
 * stretches of a decade or two, and instrument, thermal lag and the rubber's own stiffening with temperature
 * leave a few per cent on every law. So the sweep counts as this many independent errors, each with a floor.
 */
const independentErrors = 10;
const misfitFloor = 0.03;

/** Log likelihood of a law from its misfit, the size of the errors unknown (marginal likelihood of a normal sample). */
function logLikelihood(misfit: number): number {
  return -0.5 * independentErrors * ln(square(misfit) + square(misfitFloor));
}

/**
 * Laws in proportion to prior and likelihood, by adaptive importance sampling with the mixture of all rounds'
 * proposals under each weight (Cornuet, Marin, Mira and Robert, Scand. J. Stat. 39, 798, 2012).
 */
export function weighLaws(
  prior: LawPrior,
  misfitOf: (point: LawPoint) => number,
  random: Random,
): WeightedLaws {
  const points: LawPoint[] = [];
  const misfits: number[] = [];
  const proposals: { size: number; mixture: Mixture }[] = [];
  const broad: Mixture = { centres: priorCentres(prior), shares: prior.shares, factor: diagonal(prior) };
  let weights: Float64Array = new Float64Array();
  const fromRows = evenDeviates(random);
  const fromMixture = evenDeviates(random);
  for (const size of roundSizes) {
    const narrow = points.length === 0 ? null : kernelMixture(points, weights, prior, random);
    const fromPrior = narrow === null ? size : Math.round(priorShare * size);
    for (let i = 0; i < size; i++) {
      const point =
        narrow === null || i < fromPrior
          ? samplePrior(prior, rowAt(prior, (i + random.uniform()) / fromPrior), fromRows)
          : sampleMixture(narrow, i - fromPrior, fromMixture);
      points.push(point);
      misfits.push(misfitOf(point));
    }
    proposals.push({ size: fromPrior, mixture: broad });
    if (narrow !== null) proposals.push({ size: size - fromPrior, mixture: narrow });
    weights = weightsOf(points, misfits, prior, proposals);
  }
  return { points, weights, misfits: Float64Array.from(misfits) };
}

/**
 * Draws by their weights, evenly spaced along the sum (systematic resampling).
 * @param weights zero or more, of a sum of one
 * @param start 0 to 1: where in the first of the even steps to begin
 * @returns `count` indices of the weights, ascending
 */
function resample(weights: ArrayLike<number>, count: number, start: number): number[] {
  const chosen: number[] = [];
  let sum = 0;
  for (let k = 0; k < weights.length && chosen.length < count; k++) {
    sum += weights[k];
    while (chosen.length < count && (chosen.length + start) / count < sum) chosen.push(k);
  }
  while (chosen.length < count) chosen.push(weights.length - 1);
  return chosen;
}

/**
 * Equally likely laws out of weighted ones: evenly spaced along the sum of their weights in the order of how far they
 * carry a peak, in groups in random order, so that the draws of two compounds do not go together; then brought to the
 * mean and covariance of all the weighted ones in the quantities of `middleLaw`, uncorrelated with what else is drawn.
 * @param others columns of `count` deviates that the draws are combined with
 */
export function equallyLikely(
  { points, weights }: WeightedLaws,
  peak_C: number,
  count: number,
  random: Random,
  others: Float64Array[],
): WlfLaw[] {
  const laws = points.map((point) => lawAt(point, peak_C));
  const carried = laws.map(
    (law) => temperatureAtShift(law, log10ShiftFactor(law, peak_C) - carry_decades) ?? 0,
  );
  const order = Array.from(laws.keys()).sort((a, b) => carried[a] - carried[b]);
  const even = resample(
    order.map((k) => weights[k]),
    count,
    0.5,
  ).map((at) => order[at]);
  const chosen = shuffled(Math.ceil(count / groupSize), random).flatMap((group) =>
    even.slice(group * groupSize, (group + 1) * groupSize),
  );
  const all = points.map(atPeak);
  const mean = [0, 1, 2].map((i) => all.reduce((sum, y, k) => sum + weights[k] * y[i], 0));
  const covariance = [0, 1, 2].flatMap((a) =>
    [0, 1, 2].map((b) =>
      all.reduce((sum, y, k) => sum + weights[k] * (y[a] - mean[a]) * (y[b] - mean[b]), 0),
    ),
  );
  const columns = [0, 1, 2].map((i) => Float64Array.from(chosen, (k) => all[k][i]));
  const [slope, distance, decades] = withMoments(columns, mean, covariance, others);
  return chosen.map((_, i) => lawAt(fromPeak([slope[i], distance[i], decades[i]]), peak_C));
}

/** From a sweep at 1 Hz to a contact. */
const carry_decades = 2.5;

/** Normal densities of one covariance, given by its lower Cholesky factor (3 × 3, row by row). */
interface Mixture {
  centres: LawPoint[];
  shares: ArrayLike<number>;
  factor: Float64Array;
}

function diagonal({ deviations }: LawPrior): Float64Array {
  return Float64Array.of(deviations[0], 0, 0, 0, deviations[1], 0, 0, 0, deviations[2]);
}

function rowAt({ shares }: LawPrior, at: number): number {
  let sum = 0;
  for (let k = 0; k < shares.length; k++) {
    sum += shares[k];
    if (at < sum) return k;
  }
  return shares.length - 1;
}

/** A few of the laws by their weights, each with half the covariance of all, never narrower than a tenth of the prior's kernel. */
function kernelMixture(points: LawPoint[], weights: Float64Array, prior: LawPrior, random: Random): Mixture {
  const mean = [0, 1, 2].map((i) => points.reduce((sum, p, k) => sum + weights[k] * p[i], 0));
  const factor = new Float64Array(9);
  for (let a = 0; a < 3; a++) {
    for (let b = 0; b < 3; b++) {
      for (const [k, p] of points.entries()) {
        factor[3 * a + b] += 0.5 * weights[k] * (p[a] - mean[a]) * (p[b] - mean[b]);
      }
    }
    factor[4 * a] += square(0.1 * prior.deviations[a]);
  }
  cholesky(factor, 3);
  const centres = resample(weights, centresKept, random.uniform()).map((k) => points[k]);
  return { centres, shares: centres.map(() => 1 / centresKept), factor };
}

/** The `index`-th sample; the centres, alike in share, take turns. */
function sampleMixture({ centres, factor }: Mixture, index: number, deviates: Deviates): LawPoint {
  const centre = centres[index % centres.length];
  const [x, y, z] = deviates();
  return [
    centre[0] + factor[0] * x,
    centre[1] + factor[3] * x + factor[4] * y,
    centre[2] + factor[6] * x + factor[7] * y + factor[8] * z,
  ];
}

function mixtureDensity({ centres, shares, factor }: Mixture, point: LawPoint): number {
  let sum = 0;
  for (const [k, centre] of centres.entries()) {
    const x = (point[0] - centre[0]) / factor[0];
    const y = (point[1] - centre[1] - factor[3] * x) / factor[4];
    const z = (point[2] - centre[2] - factor[6] * x - factor[7] * y) / factor[8];
    sum += shares[k] * exp(-0.5 * (x * x + y * y + z * z));
  }
  return sum / (factor[0] * factor[4] * factor[8]);
}

function weightsOf(
  points: LawPoint[],
  misfits: number[],
  prior: LawPrior,
  proposals: { size: number; mixture: Mixture }[],
): Float64Array {
  const best = logLikelihood(Math.min(...misfits));
  const weights = Float64Array.from(points, (point, k) => {
    const proposed = proposals.reduce(
      (sum, { size, mixture }) => sum + size * mixtureDensity(mixture, point),
      0,
    );
    return (priorDensity(prior, point) * exp(logLikelihood(misfits[k]) - best)) / proposed;
  });
  const total = weights.reduce((a, b) => a + b, 0);
  return weights.map((weight) => weight / total);
}
