import { cholesky } from "../../numeric/cholesky.js";
import { exp } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { power, square } from "../../numeric/elementary/power.js";
import { polynomialSurface } from "../../numeric/polynomial-surface.js";
import { evenPlaces, groupSize, normalAt, withMoments } from "../../numeric/statistics/deviates.js";
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
function priorCentres({ rows, decades }: LawPrior): LawPoint[] {
  return rows.map((row) => [ln(row.c1), ln(row.c2_K), decades]);
}

/** Laws that fill the prior evenly, any first part of them too. */
function evenLaws(prior: LawPrior, count: number): LawPoint[] {
  const centres = priorCentres(prior);
  const [a, b, c] = prior.deviations;
  const even = evenPlaces(4);
  return Array.from({ length: count }, () => {
    const [share, ...places] = even();
    const centre = centres[placeAt(prior.shares, share)];
    const [x, y, z] = places.map(normalAt);
    return [centre[0] + a * x, centre[1] + b * y, centre[2] + c * z];
  });
}

/** Which of shares that sum to one holds a place from 0 to 1. */
function placeAt(shares: ArrayLike<number>, at: number): number {
  let sum = 0;
  for (let k = 0; k < shares.length; k++) {
    sum += shares[k];
    if (at < sum) return k;
  }
  return shares.length - 1;
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

function atPeak([lnC1, lnC2, decades]: LawPoint): AtPeak {
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
  /** Those that the sweep itself was asked about, with the misfit of each as `misfitOf` gave it. */
  tried: { point: LawPoint; misfit: number }[];
}

/** The sweep is asked about so many laws: first of the prior, then twice from where it is followed well. */
const triedLaws = { prior: 90, near: 40 };
/** Of the prior, to find where that is. */
const priorSamples = 600;
/** Laws tried near the best stand this many standard deviations apart: the surface is needed beyond one. */
const triedSpread = 1.5;

/**
 * How well the sweep tells the laws apart. Misfit is no plain noise: the points of a curve err together, in
 * stretches of a decade or two, and instrument, thermal lag and the rubber's own stiffening with temperature
 * leave a few per cent on every law. So the sweep counts as this many independent errors, each with a floor.
 */
const independentErrors = 10;
const misfitFloor = 0.03;

/** Log likelihood of a law from its squared misfit, the size of the errors unknown (marginal likelihood of a normal sample). */
function logLikelihood(squaredMisfit: number): number {
  return -0.5 * independentErrors * ln(squaredMisfit + square(misfitFloor));
}

/**
 * Laws in proportion to prior and likelihood, on a grid over both. A spectrum is solved for some of the laws only: near
 * the best, the squared misfit is a smooth function of what the law does at the peak, which a polynomial through these
 * gives for all (on made sweeps its log likelihood is off by 0.03 to 0.3). The sums over the grid are then as good as
 * exact, and owe nothing to chance.
 */
export function weighLaws(prior: LawPrior, misfitOf: (point: LawPoint) => number): WeightedLaws {
  const tried: WeightedLaws["tried"] = [];
  const ask = (points: LawPoint[]) => {
    for (const point of points) tried.push({ point, misfit: misfitOf(point) });
  };
  const density = densityOf(prior);
  const samples = evenLaws(prior, priorSamples);
  ask(samples.slice(0, triedLaws.prior));
  const peaks = samples.map(atPeak);
  let spread = spreadOf(peaks, Float64Array.from(peaks, likelihoodBy(tried)), prior);
  const even = evenPlaces(3);
  const deviates = Array.from({ length: triedLaws.near }, () => even().map(normalAt));
  let posterior = density;
  for (let round = 0; round < 2; round++) {
    ask(deviates.map((deviate) => fromPeak(away(spread, deviate, triedSpread))));
    const likelihood = likelihoodBy(tried);
    posterior = (place) => {
      const own = likelihood(place);
      return own && own * density(place);
    };
    const grid = gridOver(spread, 4);
    spread = spreadOf(grid, Float64Array.from(grid, posterior), prior);
  }
  // Finer, for laws are drawn from it.
  const grid = gridOver(spread, 6);
  const weights = normalised(Float64Array.from(grid, posterior));
  return { points: grid.map(fromPeak), weights, tried };
}

/** What the law does at the peak: ln of its slope, ln of the peak's distance from T∞, and the decades from Tg to it. */
type AtPeak = [lnSlope: number, lnDistance: number, decades: number];

/** A law's likelihood counts down to this log below the best one's. */
const leastLogLikelihood = -12;
/** Misfits count by this power of their square: near the best the surface must be right. */
const nearPower = -3;

/** The likelihood of a law by the surface through the laws tried, relative to the best of these. */
function likelihoodBy(tried: WeightedLaws["tried"]): (place: AtPeak) => number {
  const known = tried.map(({ point }) => smoothCoordinates(atPeak(point)));
  const squares = tried.map(({ misfit }) => square(misfit));
  const counts = squares.map((value) => power(value + square(misfitFloor), nearPower));
  const lowest = Math.min(...squares);
  const best = logLikelihood(lowest);
  const bowl = polynomialSurface(known, squares, counts, 2);
  const cubic = tried.length > triedLaws.prior ? polynomialSurface(known, squares, counts, 3) : null;
  return (place) => {
    const at = smoothCoordinates(place);
    const inBowl = bowl?.(at) ?? lowest;
    // A cubic may come down again far away, where the bowl does not.
    if (logLikelihood(Math.max(inBowl, 0)) - best < leastLogLikelihood) return 0;
    return exp(logLikelihood(Math.max(cubic?.(at) ?? inBowl, 0.5 * lowest)) - best);
  };
}

/** In the slope's logarithm and the inverse of the distance the slope at every temperature is nearly linear. */
function smoothCoordinates([lnSlope, lnDistance, decades]: AtPeak): AtPeak {
  return [lnSlope, exp(-lnDistance), decades];
}

/** Density of the prior over what a law does at the peak, up to a factor. */
function densityOf(prior: LawPrior): (place: AtPeak) => number {
  const { rows, shares, deviations } = prior;
  const centres = priorCentres(prior).map((centre) => centre.map((value, i) => value / deviations[i]));
  return (place) => {
    const point = fromPeak(place);
    const [x, y, z] = point.map((value, i) => value / deviations[i]);
    let sum = 0;
    for (let k = 0; k < rows.length; k++) {
      const centre = centres[k];
      sum += shares[k] * exp(-0.5 * (square(x - centre[0]) + square(y - centre[1]) + square(z - centre[2])));
    }
    // Times the determinant of (ln C1, ln C2) by (ln slope, ln distance).
    const c1 = exp(point[0]);
    return (sum * (c1 - place[2])) / c1;
  };
}

/** Mean and lower Cholesky factor of the covariance (3 × 3, row by row). */
interface Spread {
  mean: AtPeak;
  factor: Float64Array;
}

/** Of weighted places, never narrower than a twentieth of the prior's kernel. */
function spreadOf(places: AtPeak[], weights: Float64Array, { deviations }: LawPrior): Spread {
  const { mean, covariance } = momentsOf(places, normalised(weights));
  for (let a = 0; a < 3; a++) covariance[4 * a] += square(0.05 * deviations[a]);
  cholesky(covariance, 3);
  return { mean: [mean[0], mean[1], mean[2]], factor: covariance };
}

/** Mean and covariance (3 × 3, row by row) of places of weights that sum to one. */
function momentsOf(places: AtPeak[], weights: Float64Array): { mean: number[]; covariance: Float64Array } {
  const mean = [0, 0, 0];
  for (let k = 0; k < places.length; k++) for (let i = 0; i < 3; i++) mean[i] += weights[k] * places[k][i];
  const covariance = new Float64Array(9);
  for (let k = 0; k < places.length; k++) {
    if (weights[k] === 0) continue;
    for (let a = 0; a < 3; a++) {
      for (let b = 0; b < 3; b++) {
        covariance[3 * a + b] += weights[k] * (places[k][a] - mean[a]) * (places[k][b] - mean[b]);
      }
    }
  }
  return { mean, covariance };
}

/** The place so many standard deviations away from the mean. */
function away({ mean, factor }: Spread, deviates: number[], by: number): AtPeak {
  const [x, y, z] = deviates.map((deviate) => by * deviate);
  return [
    mean[0] + factor[0] * x,
    mean[1] + factor[3] * x + factor[4] * y,
    Math.max(0, mean[2] + factor[6] * x + factor[7] * y + factor[8] * z),
  ];
}

/**
 * Places so many to a side out to four standard deviations: for what is as smooth as a normal density their plain sum is
 * the integral as soon as they stand one apart.
 */
function gridOver(spread: Spread, toASide: number): AtPeak[] {
  const steps = Array.from({ length: 2 * toASide + 1 }, (_, i) => 4 * (i / toASide - 1));
  return steps.flatMap((x) => steps.flatMap((y) => steps.map((z) => away(spread, [x, y, z], 1))));
}

function normalised(weights: Float64Array): Float64Array {
  const total = weights.reduce((a, b) => a + b, 0);
  return weights.map((weight) => weight / total);
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
 * carry a peak, in groups, so that each meets all errors that stand in groups beside them; then brought to the
 * mean and covariance of all the weighted ones in the quantities of `middleLaw`, uncorrelated with what else is drawn.
 * @param groups which part of that order each group of draws has; at random, so that the draws of two compounds do not go together
 * @param others columns of `count` deviates that the draws are combined with
 * @returns with the columns of those quantities over the draws
 */
export function equallyLikely(
  { points, weights }: WeightedLaws,
  peak_C: number,
  count: number,
  groups: number[],
  others: Float64Array[],
): { laws: WlfLaw[]; columns: Float64Array[] } {
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
  const chosen = groups.flatMap((group) => even.slice(group * groupSize, (group + 1) * groupSize));
  const all = points.map(atPeak);
  const { mean, covariance } = momentsOf(all, weights);
  const plain = [0, 1, 2].map((i) => Float64Array.from(chosen, (k) => all[k][i]));
  const columns = withMoments(plain, mean, covariance, others);
  const [slope, distance, decades] = columns;
  return {
    laws: chosen.map((_, i) => lawAt(fromPeak([slope[i], distance[i], decades[i]]), peak_C)),
    columns,
  };
}

/** From a sweep at 1 Hz to a contact. */
const carry_decades = 2.5;
