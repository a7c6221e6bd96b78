import { solveCholesky } from "../../../numeric/cholesky.js";
import { dot } from "../../../numeric/dot.js";
import { ln } from "../../../numeric/elementary/logarithm.js";
import { cube, square } from "../../../numeric/elementary/power.js";
import { leastSquares } from "../../../numeric/least-squares/least-squares.js";
import { chiSquared95 } from "../../../numeric/statistics/confidence.js";
import { symmetricInverse } from "../../../numeric/symmetric-inverse.js";
import { zeroCelsius_K } from "../../spectrum/shift-law.js";
import { type MeasuredShifts, type ShiftErrors, shiftErrors } from "./measured-shifts.js";

/**
 * A shift law in the coordinates in which its errors are nearly normal. WLF: slope s = C1/C2 and bend
 * κ = 1/C2 at the reference isotherm, log10 aT = −sΔ/(1 + κΔ). Arrhenius: s = Ea/(ln10 R) in 1000 K.
 */
export interface LawShape {
  kind: "wlf" | "arrhenius";
  reference_C: number;
  /** WLF goes on as its tangent (Arrhenius) below this. */
  border_C: number | null;
}

export interface LawFit {
  shape: LawShape;
  /** (s, κ) or (s), of the mean of the runs; then by how many kelvin every run after the first stands warmer than the first. */
  parameters: Float64Array;
  covariance: Float64Array;
  /** What the uncertain place of a fitted border adds to the covariance. */
  borderCovariance: Float64Array | null;
  /** Standard deviation of the isotherms about the law beyond their own errors, in decades. */
  scatter_decades: number;
  /** Degrees of freedom behind the scatter; Infinity where none was needed. */
  degreesOfFreedom: number;
  aicc: number;
}

/** How many constants a law has. */
export const lawSize = (shape: LawShape) => (shape.kind === "wlf" ? 2 : 1);

/**
 * By how many kelvin a run stands warmer than the mean of all: another specimen's Tg, another thermometer. What differs is a
 * temperature, so the shifts of two runs differ by the law's slope times that, most near Tg.
 */
export function runOffset_K(shape: LawShape, parameters: ArrayLike<number>, run: number): number {
  const law = lawSize(shape);
  let sum = 0;
  for (let j = law; j < parameters.length; j++) sum += parameters[j];
  const againstFirst = run > 0 ? parameters[law + run - 1] : 0;
  return againstFirst - sum / (parameters.length - law + 1);
}

/** log10 aT of a run at a temperature by the law of all runs; NaN at T∞ and below. */
export function runShift(
  shape: LawShape,
  parameters: ArrayLike<number>,
  temperature_C: number,
  run: number,
): number {
  const own_C = temperature_C - runOffset_K(shape, parameters, run);
  return aboveVogel(shape, parameters, own_C) > 0 ? lawShift(shape, parameters, own_C) : Number.NaN;
}

/** 1 + κ(T − T0) where the law itself applies, above its border: positive above T∞. 1 for an Arrhenius law. */
export function aboveVogel(
  { kind, border_C, reference_C }: LawShape,
  parameters: ArrayLike<number>,
  temperature_C: number,
): number {
  if (kind === "arrhenius") return 1;
  return 1 + parameters[1] * (Math.max(temperature_C, border_C ?? temperature_C) - reference_C);
}

/** d log10 aT/dT of a shape, in decades per K. */
export function lawSlope(shape: LawShape, parameters: ArrayLike<number>, temperature_C: number): number {
  const temperature_K = temperature_C + zeroCelsius_K;
  if (shape.kind === "arrhenius") return (-1000 * parameters[0]) / square(temperature_K);
  const slope = -parameters[0] / square(aboveVogel(shape, parameters, temperature_C));
  const { border_C } = shape;
  // Below the border the tangent is an Arrhenius law.
  return border_C !== null && temperature_C < border_C
    ? slope * square((border_C + zeroCelsius_K) / temperature_K)
    : slope;
}

/**
 * d log10 aT/dp of a run at a temperature: the law's constants, then the offsets of the runs after the first.
 * @param gradient two numbers or more, written to and given back
 */
export function runGradient(
  shape: LawShape,
  parameters: ArrayLike<number>,
  temperature_C: number,
  run: number,
  gradient = new Float64Array(Math.max(2, parameters.length)),
): Float64Array {
  const law = lawSize(shape);
  const own_C = temperature_C - runOffset_K(shape, parameters, run);
  lawShift(shape, parameters, own_C, gradient);
  if (parameters.length === law) return gradient;
  const slope = lawSlope(shape, parameters, own_C);
  const runs = parameters.length - law + 1;
  for (let j = law; j < parameters.length; j++) {
    gradient[j] = slope * (1 / runs - (j === law + run - 1 ? 1 : 0));
  }
  return gradient;
}

/**
 * log10 aT of a shape at a temperature, and its derivatives in `gradient`.
 * @param parameters (s, κ) in 1/K, or (s) in 1000 K; see `LawShape`
 * @param gradient two numbers, written to: d log10 aT by each parameter
 * @returns decades
 */
export function lawShift(
  shape: LawShape,
  parameters: ArrayLike<number>,
  temperature_C: number,
  gradient?: Float64Array,
): number {
  const s = parameters[0];
  if (shape.kind === "arrhenius") {
    const x = 1000 / (temperature_C + zeroCelsius_K) - 1000 / (shape.reference_C + zeroCelsius_K);
    if (gradient) gradient[0] = x;
    return s * x;
  }
  const kappa = parameters[1];
  const { border_C } = shape;
  const below = border_C !== null && temperature_C < border_C;
  const difference = (below ? border_C : temperature_C) - shape.reference_C;
  const denominator = 1 + kappa * difference;
  let value = (-s * difference) / denominator;
  let ds = -difference / denominator;
  let dk = (s * square(difference)) / square(denominator);
  if (below) {
    const border_K = border_C + zeroCelsius_K;
    const lever = square(border_K) * (1 / border_K - 1 / (temperature_C + zeroCelsius_K));
    const slope = -s / square(denominator);
    value += slope * lever;
    ds += (slope / s) * lever;
    dk += ((2 * s * difference) / cube(denominator)) * lever;
  }
  if (gradient) {
    gradient[0] = ds;
    gradient[1] = dk;
  }
  return value;
}

/**
 * Parameters that a border counts for in AICc. It is one, but sought over the whole range: in 300 made-up sets
 * without a border its best place gained up to 6.8 of −2 ln likelihood (4.5 in three of them or more). With
 * four it must gain about ten.
 */
const borderCost = 4;

const mostScatterRounds = 30;

/** Fits a shape to the measured shifts by generalised least squares, with a scatter of its own where needed. */
export function fitLaw(shifts: MeasuredShifts, shape: LawShape): LawFit | null {
  const size = lawSize(shape) + shifts.runCount - 1;
  const k = shifts.temperature_C.length;
  const degreesOfFreedom = k - 1 - size;
  if (degreesOfFreedom < 0) return null;
  const start = startOf(shifts, shape);
  let fit = weightedFit(shifts, shape, start, 0);
  let scatter = 0;
  if (degreesOfFreedom > 0 && fit.chiSquared > chiSquared95(degreesOfFreedom)) {
    // Paule and Mandel (J. Res. NBS 87, 377, 1982): the scatter at which chi-squared equals its expectation. Its inverse is
    // nearly a straight line in the variance and bends down, so that Newton's steps on that come from one side.
    let variance = 0;
    for (let round = 0; round < mostScatterRounds; round++) {
      const excess = fit.chiSquared / degreesOfFreedom - 1;
      if (Math.abs(excess) < 1e-6 || !(fit.chiSquaredFall > 0)) break;
      variance += (excess * fit.chiSquared) / fit.chiSquaredFall;
      scatter = Math.sqrt(variance);
      fit = weightedFit(shifts, shape, fit.parameters, scatter);
    }
  }
  const own = size + (scatter > 0 ? 1 : 0) + (shape.border_C === null ? 0 : borderCost);
  const count = own + shifts.otherParameters;
  const left = Math.max(1, shifts.moduli - count - 1);
  return {
    shape,
    parameters: fit.parameters,
    covariance: fit.covariance,
    borderCovariance: null,
    scatter_decades: scatter,
    degreesOfFreedom: scatter > 0 ? degreesOfFreedom : Number.POSITIVE_INFINITY,
    aicc: shifts.freeDeviance + fit.deviance + 2 * count + (2 * count * (count + 1)) / left,
  };
}

/**
 * A start from the two ends of the temperature range.
 * @returns parameters as in `LawFit`, offsets of the runs zero
 */
export function startOf(shifts: MeasuredShifts, shape: LawShape): Float64Array {
  const { temperature_C, log10aT, reference } = shifts;
  let low = 0;
  let high = 0;
  for (let k = 0; k < temperature_C.length; k++) {
    if (temperature_C[k] < temperature_C[low]) low = k;
    if (temperature_C[k] > temperature_C[high]) high = k;
  }
  const t0 = temperature_C[reference];
  const out = new Float64Array(lawSize(shape) + shifts.runCount - 1);
  if (shape.kind === "arrhenius") {
    const x = (k: number) => 1000 / (temperature_C[k] + zeroCelsius_K);
    out[0] = Math.max(0.1, (log10aT[low] - log10aT[high]) / (x(low) - x(high)));
    return out;
  }
  const above = -log10aT[high] / (temperature_C[high] - t0);
  const below = -log10aT[low] / (temperature_C[low] - t0);
  // −L/Δ = s/(1 + κΔ) at the two ends gives both constants.
  const from = Number.isFinite(below) && below > 0 ? below : above;
  const to = Number.isFinite(above) && above > 0 ? above : below;
  const ratio = from / to;
  const span = temperature_C[high] - t0 - ratio * (temperature_C[low] - t0);
  const kappa = Math.min(Math.max((ratio - 1) / span || 0.01, 0.002), kappaLimit(shifts, shape) * 0.9);
  out[0] = Math.max(1e-3, to * (1 + kappa * (temperature_C[high] - t0)));
  out[1] = kappa;
  return out;
}

/** C2 up to 10 000 K is a bend; less than that is none. */
export const smallestBend = 1e-4;

/** The largest κ that keeps T∞ 2 K below the coldest isotherm to which the formula itself applies. */
function kappaLimit(shifts: MeasuredShifts, shape: LawShape): number {
  let coldest = Number.POSITIVE_INFINITY;
  for (const t of shifts.temperature_C)
    if (shape.border_C === null || t >= shape.border_C) coldest = Math.min(coldest, t);
  if (shape.border_C !== null) coldest = Math.min(coldest, shape.border_C);
  return 1 / Math.max(2, shape.reference_C - coldest + 2);
}

/** Runs of one compound differ by less than this, whatever the specimens and thermometers. */
const mostApart_K = 15;

/**
 * Generalised least squares of a shape to the shifts.
 * @param start parameters as in `LawFit`
 * @param tolerance ends where no parameter moves by more than this share of itself
 */
export function leastDistance(
  shifts: MeasuredShifts,
  shape: LawShape,
  start: Float64Array,
  { index, factor }: ShiftErrors,
  tolerance = 1e-9,
): LawDistance {
  const { temperature_C, log10aT, run, reference } = shifts;
  const n = index.length;
  const size = start.length;
  const whiten = (v: Float64Array) => {
    for (let i = 0; i < n; i++) v[i] = (v[i] - dot(factor, i * n, v, 0, i)) / factor[i * n + i];
  };
  const shiftOf = (p: ArrayLike<number>, k: number) => runShift(shape, p, temperature_C[k], run[k]);
  const residuals = (p: ArrayLike<number>, out: Float64Array) => {
    const here = shiftOf(p, reference);
    for (let i = 0; i < n; i++) out[i] = shiftOf(p, index[i]) - here - log10aT[index[i]];
    return out;
  };
  const home = new Float64Array(Math.max(2, size));
  const gradient = home.slice();
  const jacobian = (p: Float64Array, out: Float64Array) => {
    runGradient(shape, p, temperature_C[reference], run[reference], home);
    for (let i = 0; i < n; i++) {
      runGradient(shape, p, temperature_C[index[i]], run[index[i]], gradient);
      for (let j = 0; j < size; j++) out[j * n + i] = gradient[j] - home[j];
    }
    for (let j = 0; j < size; j++) whiten(out.subarray(j * n, (j + 1) * n));
    return out;
  };
  const lower = new Float64Array(size).fill(Number.NEGATIVE_INFINITY);
  const upper = new Float64Array(size).fill(Number.POSITIVE_INFINITY);
  lower[0] = 1e-6;
  if (shape.kind === "wlf") {
    lower[1] = smallestBend;
    upper[1] = kappaLimit(shifts, shape);
  }
  lower.fill(-mostApart_K, lawSize(shape));
  upper.fill(mostApart_K, lawSize(shape));
  const { parameters, residualSumOfSquares } = leastSquares({
    count: n,
    start,
    lower,
    upper,
    jacobian,
    tolerance,
    residuals: (p, out) => whiten(residuals(p, out)),
  });
  return {
    parameters,
    chiSquared: residualSumOfSquares,
    residuals: () => residuals(parameters, new Float64Array(n)),
    jacobian: () => jacobian(parameters, new Float64Array(size * n)),
  };
}

interface LawDistance {
  parameters: Float64Array;
  chiSquared: number;
  /** Law less shift of each isotherm but the reference, n numbers. */
  residuals: () => Float64Array;
  /** Their derivatives by the parameters as multiples of their errors, L⁻¹J, size × n. */
  jacobian: () => Float64Array;
}

interface WeightedFit {
  parameters: Float64Array;
  covariance: Float64Array;
  chiSquared: number;
  /** By how much chi-squared falls for each square decade of scatter. */
  chiSquaredFall: number;
  /** chi-squared + ln det C */
  deviance: number;
}

/** The fit at a given scatter with what is known of its errors. */
function weightedFit(
  shifts: MeasuredShifts,
  shape: LawShape,
  start: Float64Array,
  scatter: number,
): WeightedFit {
  const errors = shiftErrors(shifts, scatter);
  const { parameters, chiSquared, residuals, jacobian } = leastDistance(shifts, shape, start, errors);
  const n = errors.index.length;
  const size = start.length;
  const columns = jacobian();
  const information = new Float64Array(size * size);
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < size; b++) information[a * size + b] = dot(columns, a * n, columns, b * n, n);
  }
  // C⁻¹ r: chi-squared is rᵀC⁻¹r, and C grows by I + 11ᵀ for each unit of the scatter's variance.
  const pull = residuals();
  solveCholesky(errors.factor, n, pull);
  let squares = 0;
  let sum = 0;
  for (const p of pull) {
    squares += p * p;
    sum += p;
  }
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) logDeterminant += 2 * ln(errors.factor[i * n + i]);
  return {
    parameters,
    covariance:
      symmetricInverse(information, size) ?? new Float64Array(size * size).fill(Number.POSITIVE_INFINITY),
    chiSquared,
    chiSquaredFall: squares + square(sum),
    deviance: chiSquared + logDeterminant,
  };
}
