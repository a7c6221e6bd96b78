import { atan2, tan } from "../../../numeric/elementary/angle.js";
import { log10 } from "../../../numeric/elementary/logarithm.js";
import { cube, hypotenuse, square } from "../../../numeric/elementary/power.js";
import { localParabolaRms } from "../../spectrum/kramers-kronig.js";
import type { IsothermSet } from "./isotherms.js";

/** What two plots that need no shifting show. */
export interface UnshiftedPlots {
  simple: boolean;
  wicketScatterLog10: number;
  phaseScatter_deg: number;
  allowedScatterLog10: number;
  allowedScatter_deg: number;
}

export interface Simplicity extends UnshiftedPlots {
  /** One law brings the isotherms together although the plots show more than noise. */
  nearlySimple: boolean;
}

/**
 * What a measurement moves between temperatures beside its noise, one standard deviation: the modulus scale
 * (clamping, thermal expansion, the vertical factor) and the loss factor (common practice: a few percent).
 */
const systematicScale_log10 = 0.02;
const systematicLossFactor_log10 = 0.012;
/** Scatter above this many times what noise explains means more than one curve. */
const allowedRatio = 1.5;

interface Point {
  isotherm: number;
  log10Modulus: number;
  log10LossFactor: number;
  phase_deg: number;
}

/**
 * Whether the isotherms lie on one curve in two plots that need no shifting: log tan δ against log |M*| (the
 * wicket plot, ISO 18437-6) and phase angle against |M*| (van Gurp and Palmen, Rheol. Bull. 67, 5, 1998).
 * Each point is set against the curve of the other isotherms about its modulus; the scatter is weighted by
 * what noise explains there, since on a plateau, where the curve is steep, a little noise in |M*| moves a
 * point far. Null where fewer than ten points can be compared.
 * @param log10bT vertical factor of each isotherm, in decades
 */
export function thermorheologicalSimplicity(
  set: IsothermSet,
  log10bT: ArrayLike<number>,
): UnshiftedPlots | null {
  const points = pointsOf(set, log10bT);
  const noise = roughness(set);
  let weights = 0;
  let wicket = 0;
  let phaseWeights = 0;
  let phase = 0;
  let compared = 0;
  for (const point of points) {
    const local = neighbours(points, point);
    if (local === null) continue;
    const tangent = tan((point.phase_deg * Math.PI) / 180);
    const sine2 = square(tangent) / (1 + square(tangent));
    const cosine2 = 1 - sine2;
    const storage2 = square(noise.storage_log10);
    const loss2 = square(noise.loss_log10);
    const ordinate2 = storage2 + loss2 + square(systematicLossFactor_log10);
    const abscissa2 = square(cosine2) * storage2 + square(sine2) * loss2 + square(systematicScale_log10);
    const shared = sine2 * loss2 - cosine2 * storage2;
    const perDecade = (180 / Math.PI) * Math.sqrt(sine2 * cosine2) * Math.LN10;
    for (const plot of ["wicket", "phase"] as const) {
      const line = plot === "wicket" ? local.lossFactor : local.phase;
      const unit = plot === "wicket" ? 1 : perDecade;
      const variance =
        (square(unit) * ordinate2 + square(line.slope) * abscissa2 - 2 * unit * line.slope * shared) *
        (1 + 1 / local.count);
      const residual = (plot === "wicket" ? point.log10LossFactor : point.phase_deg) - line.value;
      if (plot === "wicket") {
        weights += 1 / variance;
        wicket += square(residual) / variance;
      } else {
        phaseWeights += 1 / variance;
        phase += square(residual) / variance;
      }
    }
    compared++;
  }
  if (compared < 10) return null;
  const figures = {
    wicketScatterLog10: Math.sqrt(wicket / weights),
    phaseScatter_deg: Math.sqrt(phase / phaseWeights),
    allowedScatterLog10: allowedRatio * Math.sqrt(compared / weights),
    allowedScatter_deg: allowedRatio * Math.sqrt(compared / phaseWeights),
  };
  const simple =
    figures.wicketScatterLog10 <= figures.allowedScatterLog10 &&
    figures.phaseScatter_deg <= figures.allowedScatter_deg;
  return { simple, ...figures };
}

function pointsOf(set: IsothermSet, log10bT: ArrayLike<number>): Point[] {
  const points: Point[] = [];
  for (const [isotherm, { first, end }] of set.isotherms.entries()) {
    for (let i = first; i < end; i++) {
      const storage = set.storageModulus_Pa[i];
      const loss = set.lossModulus_Pa[i];
      if (!(storage > 0) || !(loss > 0)) continue;
      points.push({
        isotherm,
        log10Modulus: log10(hypotenuse(storage, loss)) + log10bT[isotherm],
        log10LossFactor: log10(loss / storage),
        phase_deg: (atan2(loss, storage) * 180) / Math.PI,
      });
    }
  }
  return points.sort((a, b) => a.log10Modulus - b.log10Modulus);
}

interface Line {
  value: number;
  slope: number;
}

/** Half widths of the window, tried in turn until enough points of other isotherms stand in it. */
const windows_log10 = [0.12, 0.25];
const fewest = 5;

/** Straight lines through the points of other isotherms about this one's modulus, in both plots. */
function neighbours(points: Point[], point: Point): { lossFactor: Line; phase: Line; count: number } | null {
  for (const width of windows_log10) {
    const near: Point[] = [];
    let below = 0;
    let above = 0;
    for (let i = firstAbove(points, point.log10Modulus - width); i < points.length; i++) {
      const other = points[i];
      const distance = other.log10Modulus - point.log10Modulus;
      if (distance > width) break;
      if (other.isotherm === point.isotherm) continue;
      near.push(other);
      if (distance < 0) below++;
      else above++;
    }
    if (near.length < fewest || below < 2 || above < 2) continue;
    return {
      lossFactor: lineThrough(near, point.log10Modulus, width, "log10LossFactor"),
      phase: lineThrough(near, point.log10Modulus, width, "phase_deg"),
      count: near.length,
    };
  }
  return null;
}

/** Of points whose moduli ascend the first that is not below one. */
function firstAbove(points: Point[], log10Modulus: number): number {
  let low = 0;
  let high = points.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (points[middle].log10Modulus < log10Modulus) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Local linear regression with tricube weights (Cleveland, J. Am. Stat. Assoc. 74, 829, 1979). */
function lineThrough(
  near: Point[],
  at: number,
  width: number,
  ordinate: "log10LossFactor" | "phase_deg",
): Line {
  let sw = 0;
  let sx = 0;
  let sy = 0;
  let sxx = 0;
  let sxy = 0;
  for (const point of near) {
    const x = point.log10Modulus - at;
    const w = cube(1 - cube(Math.abs(x) / (1.01 * width)));
    const y = point[ordinate];
    sw += w;
    sx += w * x;
    sy += w * y;
    sxx += w * x * x;
    sxy += w * x * y;
  }
  const determinant = sw * sxx - sx * sx;
  // All neighbours at one modulus: no slope to be had.
  if (!(determinant > 1e-9 * square(sw * width))) return { value: sy / sw, slope: 0 };
  return {
    value: (sxx * sy - sx * sxy) / determinant,
    slope: (sw * sxy - sx * sy) / determinant,
  };
}

/** Noise of log10 M′ and log10 M″ within the isotherms, from their smoothness against log frequency. */
export function roughness(set: IsothermSet): { storage_log10: number; loss_log10: number } {
  const sums = { storage: 0, loss: 0 };
  let count = 0;
  for (const { first, end } of set.isotherms) {
    const x = Array.from(set.frequency_Hz.subarray(first, end), log10);
    const storage = localParabolaRms(x, Array.from(set.storageModulus_Pa.subarray(first, end), log10));
    const loss = localParabolaRms(x, Array.from(set.lossModulus_Pa.subarray(first, end), log10));
    if (!Number.isFinite(storage) || !Number.isFinite(loss)) continue;
    sums.storage += square(storage);
    sums.loss += square(loss);
    count++;
  }
  // Isotherms of too few points to tell: 1 %, the order of a good instrument (common practice).
  if (count === 0) return { storage_log10: 0.0043, loss_log10: 0.0043 };
  return { storage_log10: Math.sqrt(sums.storage / count), loss_log10: Math.sqrt(sums.loss / count) };
}
