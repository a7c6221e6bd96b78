import { cholesky, solveCholesky } from "../../../numeric/cholesky.js";
import { log10 } from "../../../numeric/elementary/logarithm.js";
import { cube, square } from "../../../numeric/elementary/power.js";
import { pushTo } from "../../../numeric/push-to.js";
import { median } from "../../../numeric/statistics/quantile.js";
import type { RowSource } from "../../glass/ramp-steps.js";
import type { IsothermSet } from "./isotherms.js";

/** A modulus that stands off the curve of its neighbours. */
export interface OutlyingModulus {
  source: RowSource;
  temperature_C: number;
  frequency_Hz: number;
  quantity: "M′" | "M″";
  /** log10 of measured over what its neighbours say. */
  off_decades: number;
}

/** What is allowed to a point before it is said to stand off. */
export interface Allowance {
  /** Multiple of the robust noise. */
  noise: number;
  /** What a parabola, or a line where there are few points, may miss of a smooth curve over its reach, in decades. */
  parabola: (reach: number) => number;
  line: (reach: number) => number;
}

/** For log modulus against log f in decades: generous for glass transitions of 3 decades and more. */
const ofModuli: Allowance = {
  noise: 8,
  parabola: (reach) => 0.04 + 0.03 * cube(reach),
  line: (reach) => 0.04 + 0.3 * square(reach),
};
/** At most this share of a curve's points can be told from it. */
const largestShare = 0.25;
/** Kelvins that count as a decade of frequency: near Tg some 3, on the way to the plateau 10. */
const kelvinsPerDecade = 5;

/**
 * Moduli that stand against their own curve: log modulus against log frequency of each isotherm of a frequency
 * sweep, and against temperature at each frequency of a ramp. Each point is held against a parabola through its six
 * nearest neighbours (a line where there are fewer than five), at a multiple of the robust noise of all curves
 * (1.4826 × median deviation; Rousseeuw and Croux, J. Am. Stat. Assoc. 88, 1273, 1993).
 */
export function roughPoints(set: IsothermSet): OutlyingModulus[] {
  const curves = (["M′", "M″"] as const).map((quantity) => curvesOf(set, quantity));
  return curves.flatMap((ofOne) => standingOff(ofOne, ofModuli));
}

export interface CurvePoint extends Omit<OutlyingModulus, "off_decades"> {
  x: number;
  y: number;
}

/** The points of smooth curves, x ascending, that stand off theirs; the noise is common to the curves. */
export function standingOff(curves: CurvePoint[][], allowance: Allowance): OutlyingModulus[] {
  const deviations = curves.flatMap((curve) => deviationsOf(curve, allowance));
  if (deviations.length < 10) return [];
  const noise = robustNoise(deviations);
  return curves.flatMap((curve) => outliersOf(curve, noise, allowance));
}

/**
 * Whether a modulus deviates from its own curve, that way, by this multiple of the curves' robust noise and by half
 * of what it is said to be off at least.
 */
export function deviating(set: IsothermSet, multiple: number): (one: OutlyingModulus) => boolean {
  const found = new Map<RowSource, Map<string, { off: number; inNoise: number }>>();
  for (const quantity of ["M′", "M″"] as const) {
    const curves = curvesOf(set, quantity).map((curve) => ({ curve, off: deviationsOf(curve, ofModuli) }));
    const deviations = curves.flatMap(({ off }) => off);
    if (deviations.length === 0) continue;
    const noise = robustNoise(deviations);
    for (const { curve, off } of curves) {
      for (const [i, one] of off.entries()) {
        const { source } = curve[i];
        const deviation = { off: one.off, inNoise: Math.abs(one.scaled) / noise };
        found.set(source, (found.get(source) ?? new Map()).set(quantity, deviation));
      }
    }
  }
  return ({ source, quantity, off_decades }) => {
    const own = found.get(source)?.get(quantity);
    return own !== undefined && own.inNoise > multiple && own.off / off_decades > 0.5;
  };
}

/** Isotherms of fewer points are followed along the temperature instead, frequency by frequency. */
const fewestOfIsotherm = 6;

/**
 * The moduli of a set as curves, x ascending: the isotherms of frequency sweeps against log f, ramps and isotherms
 * of few points against temperature at each frequency.
 * @param ordinate of a row; log10 of its modulus where it is left out
 */
export function curvesOf(
  set: IsothermSet,
  quantity: OutlyingModulus["quantity"],
  ordinate?: (row: number) => number,
): CurvePoint[][] {
  const moduli = quantity === "M′" ? set.storageModulus_Pa : set.lossModulus_Pa;
  const curves = new Map<string, CurvePoint[]>();
  for (const [k, { run, first, end }] of set.isotherms.entries()) {
    const alongTemperature = set.runs[run].kind === "temperature sweep" || end - first < fewestOfIsotherm;
    for (let i = first; i < end; i++) {
      if (!(moduli[i] > 0)) continue;
      const frequency_Hz = set.frequency_Hz[i];
      const temperature_C = set.temperature_C[i];
      const key = alongTemperature ? `run ${run} at ${frequency_Hz.toPrecision(2)}` : `isotherm ${k}`;
      const x = alongTemperature ? temperature_C / kelvinsPerDecade : log10(frequency_Hz);
      const y = ordinate === undefined ? log10(moduli[i]) : ordinate(i);
      pushTo(curves, key, { source: set.source[i], temperature_C, frequency_Hz, quantity, x, y });
    }
  }
  return [...curves.values()].map((curve) => curve.sort((a, b) => a.x - b.x));
}

interface Deviation {
  off: number;
  /** Over the root of 1 + the variance of the neighbours' prediction. */
  scaled: number;
  /** Over the limit at a noise. */
  excess: (noise: number) => number;
}

/** 1.4826 × median deviation: the standard deviation where the noise is normal. */
const robustNoise = (deviations: Deviation[]) =>
  1.4826 * median(deviations.map(({ scaled }) => Math.abs(scaled)));

/** Every point against its neighbours; empty for fewer than four points. */
function deviationsOf(curve: CurvePoint[], allowance: Allowance): Deviation[] {
  if (curve.length < 4) return [];
  return curve.map((point, i) => {
    const predicted = predictedAt(point.x, nearest(curve, i));
    if (predicted === null) return { off: 0, scaled: 0, excess: () => 0 };
    const { reach, degree } = predicted;
    const off = point.y - predicted.value;
    const spread = Math.sqrt(1 + predicted.variance);
    const smooth = degree === 2 ? allowance.parabola(reach) : allowance.line(reach);
    return {
      off,
      scaled: off / spread,
      excess: (noise: number) => Math.abs(off) / Math.max(allowance.noise * noise * spread, smooth),
    };
  });
}

/** The six nearest others of a curve whose x ascends; the colder or slower of two at one distance goes before. */
function nearest(curve: CurvePoint[], i: number): CurvePoint[] {
  const near: CurvePoint[] = [];
  let below = i - 1;
  let above = i + 1;
  while (near.length < 6 && (below >= 0 || above < curve.length)) {
    const down = below >= 0 ? curve[i].x - curve[below].x : Number.POSITIVE_INFINITY;
    const up = above < curve.length ? curve[above].x - curve[i].x : Number.POSITIVE_INFINITY;
    near.push(down <= up ? curve[below--] : curve[above++]);
  }
  return near;
}

/** What neighbours say of a place: by a parabola, or a line where there are fewer than five. */
function predictedAt(x: number, near: CurvePoint[]) {
  const reach = near.reduce((far, other) => Math.max(far, Math.abs(other.x - x)), 0);
  const degree = near.length >= 5 ? 2 : 1;
  const predicted = predict(
    near.map((other) => other.x - x),
    near.map((other) => other.y),
    degree,
    reach,
  );
  return predicted === null ? null : { ...predicted, reach, degree };
}

/** Value at zero of a polynomial through points by least squares, and its variance in units of theirs. */
function predict(
  x: number[],
  y: number[],
  degree: number,
  reach: number,
): { value: number; variance: number } | null {
  const size = degree + 1;
  const normal = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (let i = 0; i < x.length; i++) {
    const u = x[i] / reach;
    const powers = [1, u, u * u];
    for (let a = 0; a < size; a++) {
      right[a] += powers[a] * y[i];
      for (let b = 0; b < size; b++) normal[a * size + b] += powers[a] * powers[b];
    }
  }
  if (!(reach > 0 && cholesky(normal, size))) return null;
  // The first row of the inverse weighs the right-hand side into the value at zero.
  const weights = new Float64Array(size);
  weights[0] = 1;
  solveCholesky(normal, size, weights);
  let value = 0;
  for (let a = 0; a < size; a++) value += weights[a] * right[a];
  return { value, variance: weights[0] };
}

/** So many points to either side are held against each other, and looked at to judge which is the wrong one. */
const suspectsBeside = 4;
const judgedBeside = 12;

/**
 * Takes away, one by one, the point without which its stretch of the curve is smoothest, while one stands off. A
 * wrong point pulls its neighbours' predictions along, so that the worst one need not be it.
 */
function outliersOf(curve: CurvePoint[], noise: number, allowance: Allowance): OutlyingModulus[] {
  let kept = curve;
  let excess = deviationsOf(kept, allowance).map((deviation) => deviation.excess(noise));
  const out: CurvePoint[] = [];
  const worst = () => excess.reduce((best, value, i) => (value > excess[best] ? i : best), 0);
  while (out.length + 1 <= largestShare * curve.length && excess[worst()] > 1) {
    const at = worst();
    const first = Math.max(0, at - judgedBeside);
    const stretch = kept.slice(first, at + judgedBeside + 1);
    let wrong = at;
    let smoothest = Number.POSITIVE_INFINITY;
    for (let i = Math.max(0, at - suspectsBeside); i <= Math.min(kept.length - 1, at + suspectsBeside); i++) {
      const rest = stretch.filter((_, k) => k !== i - first);
      const rough = deviationsOf(rest, allowance).reduce((sum, one) => sum + square(one.excess(noise)), 0);
      if (rough < smoothest) [smoothest, wrong] = [rough, i];
    }
    out.push(kept[wrong]);
    kept = kept.filter((_, i) => i !== wrong);
    excess = deviationsOf(kept, allowance).map((deviation) => deviation.excess(noise));
  }
  // A curve that stays rough without them has no outliers, but no smooth course.
  if (out.length === 0 || excess[worst()] > 1) return [];
  return out.map(({ x, y, ...point }) => ({ ...point, off_decades: offCurve(kept, x, y) }));
}

function offCurve(kept: CurvePoint[], x: number, y: number): number {
  const near = [...kept].sort((a, b) => Math.abs(a.x - x) - Math.abs(b.x - x)).slice(0, 6);
  const predicted = predictedAt(x, near);
  return predicted === null ? 0 : y - predicted.value;
}
