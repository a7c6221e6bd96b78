import { exp, expm1 } from "../../numeric/elementary/exponential.js";
import { ln, log10 } from "../../numeric/elementary/logarithm.js";
import { power, square } from "../../numeric/elementary/power.js";
import type { Outcome } from "../../words/notice.js";
import type { PredictionSettings } from "../prediction-settings.js";
import type { Texture } from "../use.js";

/** An isotropic roughness spectrum with its ends settled: h_rms² = 2π ∫ q C(q) dq, slope² = 2π ∫ q³ C(q) dq. */
export interface Roughness {
  q0_per_m: number;
  /** The cut-off, stated by the texture or found from the slope. */
  q1_per_m: number;
  /** C(q) in m⁴; beyond q1 it goes on, so that a cut-off twice as high can be tried. */
  spectrum_m4(wavenumber_per_m: number): number;
  /** Root mean square slope between q0 and q1. */
  rmsSlope: number;
  cutOff: "stated" | "from the slope" | "end of the measured spectrum";
}

/** A texture's spectrum is followed no further than this many times q0 in search of the slope. */
const farthestCutOff = 1e6;
const pointsPerDecade = 200;

/**
 * Settles a texture's spectrum and cut-off, or says which of its numbers is impossible.
 * @example roughnessOf(textures[0], defaultPredictionSettings).value.rmsSlope // 1.3
 */
export function roughnessOf(
  texture: Texture,
  settings: Pick<PredictionSettings, "cutOffSlope">,
): Outcome<Roughness> {
  return texture.measured === null
    ? selfAffineRoughness(texture, settings.cutOffSlope)
    : measuredRoughness(texture, texture.measured, settings.cutOffSlope);
}

/**
 * Self-affine texture, C(q) = C0 (q/q0)^{−2(1+H)} from q0 to q1, C0 from the rms height between them
 * (Persson et al., J. Phys.: Condens. Matter 17, R1, 2005).
 */
function selfAffineRoughness(texture: Texture, cutOffSlope: number): Outcome<Roughness> {
  const { rmsHeight_m, hurstExponent: H, q0_per_m: q0 } = texture;
  const wrong = wrongNumber(texture);
  if (wrong !== null) return impossible(texture, wrong);
  const q1 = texture.q1_per_m ?? cutOffAtSlope(rmsHeight_m, H, q0, cutOffSlope);
  if (q1 === null) {
    return impossible(
      texture,
      `no cut-off between ${q0} and ${q0 * farthestCutOff} 1/m gives the rms slope ${cutOffSlope}; state the cut-off q1 of this texture`,
    );
  }
  const C0 = square(rmsHeight_m) / (2 * Math.PI * square(q0) * powerIntegral(q1 / q0, -2 * H));
  return {
    ok: true,
    value: {
      q0_per_m: q0,
      q1_per_m: q1,
      spectrum_m4: (q) => C0 * power(q / q0, -2 * (1 + H)),
      rmsSlope: selfAffineSlope(rmsHeight_m, H, q0, q1),
      cutOff: texture.q1_per_m === null ? "from the slope" : "stated",
    },
  };
}

/** ∫₁^x t^{power − 1} dt. */
function powerIntegral(x: number, power: number): number {
  return Math.abs(power) < 1e-9 ? ln(x) : expm1(power * ln(x)) / power;
}

function selfAffineSlope(rmsHeight_m: number, H: number, q0: number, q1: number): number {
  return rmsHeight_m * q0 * Math.sqrt(powerIntegral(q1 / q0, 2 - 2 * H) / powerIntegral(q1 / q0, -2 * H));
}

function cutOffAtSlope(rmsHeight_m: number, H: number, q0: number, slope: number): number | null {
  let low = 1e-6;
  let high = ln(farthestCutOff);
  const slopeAt = (logRatio: number) => selfAffineSlope(rmsHeight_m, H, q0, q0 * exp(logRatio));
  if (slopeAt(low) > slope || slopeAt(high) < slope) return null;
  while (high - low > 1e-12 * high) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (slopeAt(middle) < slope) low = middle;
    else high = middle;
  }
  return q0 * exp((low + high) / 2);
}

function measuredRoughness(
  texture: Texture,
  measured: NonNullable<Texture["measured"]>,
  cutOffSlope: number,
): Outcome<Roughness> {
  const { wavenumber_per_m: q, spectrum_m4: C } = measured;
  if (q.length < 2 || q.length !== C.length) {
    return impossible(
      texture,
      `its measured spectrum has ${q.length} wave numbers and ${C.length} values, two or more of each were expected`,
    );
  }
  for (let i = 0; i < q.length; i++) {
    const rising = i === 0 || q[i] > q[i - 1];
    if (!(q[i] > 0) || !(C[i] > 0) || !rising) {
      return impossible(
        texture,
        `row ${i + 1} of its measured spectrum is q = ${q[i]} 1/m, C = ${C[i]} m⁴; positive values with rising q were expected`,
      );
    }
  }
  const q0 = q[0];
  const last = q[q.length - 1];
  const spectrum_m4 = interpolateLogLog(q, C, -2 * (1 + texture.hurstExponent));
  const slope2 = cumulativeSlope2(spectrum_m4, q0, texture.q1_per_m ?? last);
  let q1 = texture.q1_per_m ?? last;
  let cutOff: Roughness["cutOff"] = texture.q1_per_m === null ? "end of the measured spectrum" : "stated";
  let reached = slope2[slope2.length - 1].slope2;
  if (!(q1 > q0))
    return impossible(texture, `its cut-off ${q1} 1/m does not exceed its lowest wave number ${q0} 1/m`);
  if (texture.q1_per_m === null) {
    const at = slope2.findIndex((step) => step.slope2 >= square(cutOffSlope));
    if (at > 0) {
      const below = slope2[at - 1];
      const above = slope2[at];
      const part = (square(cutOffSlope) - below.slope2) / (above.slope2 - below.slope2);
      q1 = below.q * power(above.q / below.q, part);
      reached = square(cutOffSlope);
      cutOff = "from the slope";
    }
  }
  return {
    ok: true,
    value: { q0_per_m: q0, q1_per_m: q1, spectrum_m4, rmsSlope: Math.sqrt(reached), cutOff },
  };
}

function cumulativeSlope2(spectrum: (q: number) => number, q0: number, q1: number) {
  const count = Math.max(2, Math.ceil(pointsPerDecade * log10(q1 / q0)));
  const step = ln(q1 / q0) / count;
  const steps = [{ q: q0, slope2: 0 }];
  let before = power(q0, 4) * spectrum(q0);
  for (let i = 1; i <= count; i++) {
    const q = q0 * exp(i * step);
    const here = power(q, 4) * spectrum(q);
    steps.push({ q, slope2: steps[i - 1].slope2 + Math.PI * step * (before + here) });
    before = here;
  }
  return steps;
}

/** Straight lines in log–log between the points; beyond the last, the given power. */
function interpolateLogLog(x: number[], y: number[], powerBeyond: number): (at: number) => number {
  const logX = x.map(ln);
  const logY = y.map(ln);
  const end = x.length - 1;
  return (at) => {
    const logAt = ln(at);
    if (logAt >= logX[end]) return exp(logY[end] + powerBeyond * (logAt - logX[end]));
    let low = 0;
    let high = end;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (logX[middle] <= logAt) low = middle;
      else high = middle;
    }
    const part = Math.max(0, (logAt - logX[low]) / (logX[high] - logX[low]));
    return exp(logY[low] + part * (logY[high] - logY[low]));
  };
}

function wrongNumber(texture: Texture): string | null {
  const { rmsHeight_m, hurstExponent, q0_per_m, q1_per_m } = texture;
  if (!(rmsHeight_m > 0)) return `its rms height is ${rmsHeight_m} m, a positive length was expected`;
  if (!(hurstExponent > 0 && hurstExponent <= 1))
    return `its Hurst exponent is ${hurstExponent}, a number above 0 and up to 1 was expected`;
  if (!(q0_per_m > 0)) return `its lowest wave number q0 is ${q0_per_m} 1/m, a positive number was expected`;
  if (q1_per_m !== null && !(q1_per_m > q0_per_m))
    return `its cut-off q1 is ${q1_per_m} 1/m, a number above q0 = ${q0_per_m} 1/m was expected`;
  return null;
}

function impossible(texture: Texture, what: string): Outcome<Roughness> {
  return {
    ok: false,
    problem: {
      code: "predict.texture-unusable",
      message: `The texture "${texture.name}" cannot be used: ${what}.`,
    },
  };
}
