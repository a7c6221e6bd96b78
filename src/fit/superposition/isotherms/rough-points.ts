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
  return curve.map((_, i) => deviationAt(curve, i, allowance));
}

function deviationAt(curve: CurvePoint[], i: number, allowance: Allowance): Deviation {
  const { x, y } = curve[i];
  const { from, to } = nearest(curve, i);
  const predicted = predictedAt(x, curve, from, to, i);
  if (predicted === null) return { off: 0, scaled: 0, excess: () => 0 };
  const { reach, degree } = predicted;
  const off = y - predicted.value;
  const spread = Math.sqrt(1 + predicted.variance);
  const smooth = degree === 2 ? allowance.parabola(reach) : allowance.line(reach);
  return {
    off,
    scaled: off / spread,
    excess: (noise: number) => Math.abs(off) / Math.max(allowance.noise * noise * spread, smooth),
  };
}

/** How many others a point is held against. */
const neighbours = 6;

/**
 * Where the six nearest others of a point stand, the point among them, on a curve whose x ascends; the colder or slower
 * of two at one distance goes before.
 */
function nearest(curve: CurvePoint[], i: number): { from: number; to: number } {
  const { x } = curve[i];
  let from = i;
  let to = i;
  while (to - from < neighbours && (from > 0 || to + 1 < curve.length)) {
    const down = from > 0 ? x - curve[from - 1].x : Number.POSITIVE_INFINITY;
    const up = to + 1 < curve.length ? curve[to + 1].x - x : Number.POSITIVE_INFINITY;
    if (down <= up) from--;
    else to++;
  }
  return { from, to };
}

/**
 * What points say of a place: by the parabola through them, or the line where there are fewer than five.
 * @param from first and `to` last of the points; `without` one of them that does not count
 * @returns the value there and its variance in units of theirs, how far they reach; null where they do not tell
 */
function predictedAt(x: number, points: CurvePoint[], from: number, to: number, without: number) {
  const reach = Math.max(x - points[from].x, points[to].x - x);
  // Moments of the points about the place.
  let [s0, s1, s2, s3, s4] = [0, 0, 0, 0, 0];
  let [t0, t1, t2] = [0, 0, 0];
  for (let k = from; k <= to; k++) {
    if (k === without) continue;
    const u = (points[k].x - x) / reach;
    const u2 = u * u;
    const { y } = points[k];
    s0 += 1;
    s1 += u;
    s2 += u2;
    s3 += u2 * u;
    s4 += u2 * u2;
    t0 += y;
    t1 += u * y;
    t2 += u2 * y;
  }
  const degree = s0 >= 5 ? 2 : 1;
  // The first row of the inverse of their matrix weighs (t0, t1, t2) into the value at the place.
  const [a0, a1, a2] =
    degree === 2 ? [s2 * s4 - s3 * s3, s2 * s3 - s1 * s4, s1 * s3 - s2 * s2] : [s2, -s1, 0];
  const determinant = s0 * a0 + s1 * a1 + s2 * a2;
  if (!(reach > 0 && determinant > 1e-12)) return null;
  return {
    value: (a0 * t0 + a1 * t1 + a2 * t2) / determinant,
    variance: a0 / determinant,
    reach,
    degree,
  };
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
  // One that was taken for the wrong one before the wrong ones were gone, and stands on the curve, is none.
  return out.flatMap((point) => {
    const { off, excess: over } = offCurve(kept, point, allowance);
    const { x, y, ...named } = point;
    return over(noise) > 1 ? [{ ...named, off_decades: off }] : [];
  });
}

/** How far a point stands off a curve that does not have it. */
function offCurve(kept: CurvePoint[], point: CurvePoint, allowance: Allowance): Deviation {
  const at = kept.filter(({ x }) => x < point.x).length;
  return deviationAt(kept.toSpliced(at, 0, point), at, allowance);
}
