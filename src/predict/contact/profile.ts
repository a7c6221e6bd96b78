import type { Outcome } from "../../words/notice.js";

/** A measured height profile along a straight line. */
export interface HeightProfile {
  name: string;
  /** Where it comes from: the file, or who measured it. */
  source: string;
  /** n positions along the line, m, any order. */
  position_m: ArrayLike<number>;
  /** n heights, m. */
  height_m: ArrayLike<number>;
}

/** A profile on even steps, its least-squares line taken away. */
export interface EvenProfile {
  height_m: Float64Array;
  step_m: number;
  rmsHeight_m: number;
  /** True where the steps were uneven and the heights were interpolated. */
  resampled: boolean;
}

const fewestPoints = 64;
/** Steps that differ by more than this share from their mean count as uneven. */
const evenWithin = 0.01;
/** Heights that leave their line by less than this share of the largest are rounding. */
const roundingShare = 1e-12;

/** A height profile on even steps, its least-squares line taken away; a problem where it is too short, too flat or no profile. */
export function evenProfile(profile: HeightProfile): Outcome<EvenProfile> {
  const { position_m, height_m } = profile;
  const fail = (what: string): Outcome<EvenProfile> => ({
    ok: false,
    problem: {
      code: "predict.texture-profile-unusable",
      message: `The profile "${profile.name}" cannot be used: ${what}.`,
    },
  });
  const n = position_m.length;
  if (height_m.length !== n) return fail(`it has ${n} positions and ${height_m.length} heights`);
  if (n < fewestPoints) return fail(`it has ${n} points, ${fewestPoints} or more were expected`);
  for (let i = 0; i < n; i++) {
    if (!Number.isFinite(position_m[i]) || !Number.isFinite(height_m[i])) {
      return fail(`point ${i + 1} is (${position_m[i]}, ${height_m[i]}), two numbers were expected`);
    }
  }
  const order = Array.from({ length: n }, (_, i) => i).sort((a, b) => position_m[a] - position_m[b]);
  const x = Float64Array.from(order, (i) => position_m[i]);
  const z = Float64Array.from(order, (i) => height_m[i]);
  const step_m = (x[n - 1] - x[0]) / (n - 1);
  let uneven = false;
  for (let i = 1; i < n; i++) {
    if (x[i] === x[i - 1]) return fail(`two points share the position ${x[i]} m`);
    if (Math.abs(x[i] - x[i - 1] - step_m) > evenWithin * step_m) uneven = true;
  }
  const heights = lessItsLine(uneven ? interpolated(x, z, step_m) : z);
  const rmsHeight_m = Math.sqrt(heights.reduce((sum, height) => sum + height * height, 0) / n);
  const largest_m = z.reduce((most, height) => Math.max(most, Math.abs(height)), 0);
  if (!(rmsHeight_m > roundingShare * largest_m)) return fail("its heights are a straight line");
  return { ok: true, value: { height_m: heights, step_m, rmsHeight_m, resampled: uneven } };
}

function interpolated(x: Float64Array, z: Float64Array, step: number): Float64Array {
  const n = x.length;
  const even = new Float64Array(n);
  let k = 0;
  for (let i = 0; i < n; i++) {
    const at = x[0] + i * step;
    while (k < n - 2 && x[k + 1] < at) k++;
    even[i] = z[k] + ((z[k + 1] - z[k]) * (at - x[k])) / (x[k + 1] - x[k]);
  }
  return even;
}

function lessItsLine(z: Float64Array): Float64Array {
  const n = z.length;
  const centre = (n - 1) / 2;
  let mean = 0;
  let moment = 0;
  for (let i = 0; i < n; i++) {
    mean += z[i] / n;
    moment += z[i] * (i - centre);
  }
  const slope = moment / ((n * (n * n - 1)) / 12);
  return z.map((height, i) => height - mean - slope * (i - centre));
}
