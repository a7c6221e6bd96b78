import { log10 } from "../../../numeric/elementary/logarithm.js";
import { square } from "../../../numeric/elementary/power.js";
import type { IsothermSet } from "../isotherms/isotherms.js";

/** A curve with rising ordinate, as points of a polyline. */
export interface RisingCurve {
  x: Float64Array;
  y: Float64Array;
}

export interface AreaShift {
  /** What to add to the abscissa of the second curve; null where the curves share no ordinate range. */
  shift: number | null;
  /** Length of the shared range of ordinates; negative: the gap between them. */
  overlap: number;
}

/**
 * Closed-form shift of one curve onto its neighbour, (1/(y2−y1)) ∫ (x_k(y) − x_{k+1}(y)) dy over the
 * ordinates y1 … y2 that both have, exact for polylines
 * (Gergesova, Zupančič, Saprunov and Emri, J. Rheol. 55, 1, 2011; ISO 18437-6).
 */
export function areaShift(first: RisingCurve, second: RisingCurve): AreaShift {
  const y1 = Math.max(first.y[0], second.y[0]);
  const y2 = Math.min(first.y[first.y.length - 1], second.y[second.y.length - 1]);
  const overlap = y2 - y1;
  if (!(overlap > 0)) return { shift: null, overlap };
  const knots = [y1, y2];
  for (const { y } of [first, second]) for (const value of y) if (value > y1 && value < y2) knots.push(value);
  knots.sort((a, b) => a - b);
  let area = 0;
  let before = abscissa(first, y1) - abscissa(second, y1);
  for (let k = 1; k < knots.length; k++) {
    const here = abscissa(first, knots[k]) - abscissa(second, knots[k]);
    area += 0.5 * (here + before) * (knots[k] - knots[k - 1]);
    before = here;
  }
  return { shift: area / overlap, overlap };
}

function abscissa({ x, y }: RisingCurve, at: number): number {
  let k = 1;
  while (k < y.length - 1 && y[k] < at) k++;
  const rise = y[k] - y[k - 1];
  return rise > 0 ? x[k - 1] + ((at - y[k - 1]) / rise) * (x[k] - x[k - 1]) : x[k];
}

/**
 * The rising curve nearest to noisy points (isotonic regression by pooling adjacent violators; Barlow et al.,
 * Statistical Inference under Order Restrictions, 1972). Pooled points are joined at their mean abscissa.
 * @param x n abscissae, ascending; `y` n ordinates
 */
export function risingCurve(x: ArrayLike<number>, y: ArrayLike<number>): RisingCurve {
  const blocks: { x: number; y: number; weight: number }[] = [];
  for (let i = 0; i < x.length; i++) {
    blocks.push({ x: x[i], y: y[i], weight: 1 });
    while (blocks.length > 1 && blocks[blocks.length - 1].y <= blocks[blocks.length - 2].y) {
      const upper = blocks.pop()!;
      const lower = blocks.pop()!;
      const weight = upper.weight + lower.weight;
      blocks.push({
        x: (upper.x * upper.weight + lower.x * lower.weight) / weight,
        y: (upper.y * upper.weight + lower.y * lower.weight) / weight,
        weight,
      });
    }
  }
  return { x: Float64Array.from(blocks, (b) => b.x), y: Float64Array.from(blocks, (b) => b.y) };
}

export interface StartingShifts {
  /** log10 aT of each isotherm, relative to the first of its run; runs are brought together. */
  log10aT: Float64Array;
  /** d log10 aT / dT about each isotherm, 1/K. */
  slope_per_K: Float64Array;
  /** The group of isotherms that hang together, from 0; isotherms of two groups share no modulus. */
  group: Int32Array;
}

/** A gap in log10 modulus up to this size between flat neighbours is scatter or the vertical factor, no break. */
const tolerableGap_decades = 0.04;
/** Below this shared range a shift along the flat of a plateau says nothing. */
const tellingOverlap_decades = 0.15;

/** Closed-form shifts of neighbouring isotherms of each run by the storage modulus, chained. */
export function startingShifts(set: IsothermSet): StartingShifts {
  const count = set.isotherms.length;
  const log10aT = new Float64Array(count);
  const slope_per_K = new Float64Array(count);
  const group = new Int32Array(count);
  const curves = set.isotherms.map(({ first, end }) =>
    risingCurve(
      set.frequency_Hz.subarray(first, end).map(log10),
      set.storageModulus_Pa.subarray(first, end).map(log10),
    ),
  );
  let groups = 0;
  for (let run = 0; run < set.runs.length; run++) {
    const own = set.isotherms.flatMap((isotherm, k) => (isotherm.run === run ? [k] : []));
    const links: { step_K: number; slope: number | null }[] = [];
    for (const [position, k] of own.entries()) {
      if (position > 0) {
        const before = own[position - 1];
        const { shift, overlap } = areaShift(curves[before], curves[k]);
        const step_K = set.isotherms[k].temperature_C - set.isotherms[before].temperature_C;
        if (overlap < -tolerableGap_decades) groups++;
        const telling = shift !== null && overlap >= tellingOverlap_decades && step_K > 0;
        links.push({ step_K, slope: telling ? Math.min(shift / step_K, 0) : null });
      }
      group[k] = groups;
    }
    groups++;
    const slopes = fillGaps(links.map((link) => link.slope));
    for (const [position, k] of own.entries()) {
      if (position > 0)
        log10aT[k] = log10aT[own[position - 1]] + slopes[position - 1] * links[position - 1].step_K;
      const left = slopes[Math.max(0, position - 1)] ?? -0.1;
      const right = slopes[Math.min(slopes.length - 1, position)] ?? -0.1;
      slope_per_K[k] = 0.5 * (left + right);
    }
    if (run > 0) joinToFirstRun(set, own, log10aT, group, curves);
  }
  return { log10aT, slope_per_K, group };
}

/** Undetermined links take the slope of the nearest determined one; 0.1 decades a kelvin where there is none. */
function fillGaps(slopes: (number | null)[]): number[] {
  return slopes.map((slope, k) => {
    if (slope !== null) return slope;
    for (let reach = 1; reach < slopes.length; reach++) {
      const found = slopes[k - reach] ?? slopes[k + reach] ?? null;
      if (found !== null) return found;
    }
    return -0.1;
  });
}

/** Moves a further run so that it lies on the first one, and lets it share the group it overlaps with. */
function joinToFirstRun(
  set: IsothermSet,
  own: number[],
  log10aT: Float64Array,
  group: Int32Array,
  curves: RisingCurve[],
): void {
  let sum = 0;
  let weight = 0;
  for (const k of own) {
    for (let other = 0; other < own[0]; other++) {
      const distance_K = Math.abs(set.isotherms[other].temperature_C - set.isotherms[k].temperature_C);
      if (distance_K > 15) continue;
      const { shift, overlap } = areaShift(curves[other], curves[k]);
      if (overlap > -tolerableGap_decades) {
        const joined = group[k];
        for (const j of own) if (group[j] === joined) group[j] = group[other];
      }
      if (shift === null || overlap < tellingOverlap_decades) continue;
      const w = square(overlap) / (1 + square(distance_K));
      sum += w * (log10aT[other] + shift - log10aT[k]);
      weight += w;
    }
  }
  if (weight > 0) for (const k of own) log10aT[k] += sum / weight;
}
