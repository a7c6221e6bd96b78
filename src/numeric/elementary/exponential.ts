// biome-ignore-all lint/suspicious/noApproximativeNumericConstant: √2 stands in a table, with its rest beside it
// exp(x) = 2^e · 2^(j/32) · exp(r) with x = (32 e + j) · ln 2 / 32 + r, so |r| < 0.011 and seven terms of the series do
// (Tang, P. T. P., ACM Trans. Math. Softw. 15 (1989) 144). Constants in two parts, so that their products with a whole
// number are exact: computed with Python's decimal module to 80 digits.

import { largestExponent, powersOfTwo, smallestExponent } from "./powers-of-two.js";

/** 2^(j/32), high and low part, j = 0 to 31. */
// biome-ignore format: one row per j
const powersOfRoot = new Float64Array([
  1.0, 0.0,
  1.0218971486541166, 5.109225028973444e-17,
  1.0442737824274138, 8.551889705537965e-17,
  1.0671404006768237, -7.899853966841582e-17,
  1.0905077326652577, -3.046782079812471e-17,
  1.1143867425958924, 1.0410278456845571e-16,
  1.1387886347566916, 8.912812676025408e-17,
  1.1637248587775775, 3.8292048369240935e-17,
  1.189207115002721, 3.982015231465646e-17,
  1.215247359980469, -7.712630692681488e-17,
  1.241857812073484, 4.658027591836937e-17,
  1.2690509571917332, 2.667932131342186e-18,
  1.2968395546510096, 2.5382502794888315e-17,
  1.3252366431597413, -2.8587312100388614e-17,
  1.3542555469368927, 7.70094837980299e-17,
  1.383909881963832, -6.770511658794786e-17,
  1.4142135623730951, -9.667293313452913e-17,
  1.4451808069770467, -3.0237581349939873e-17,
  1.4768261459394993, -3.483994556892796e-17,
  1.5091644275934228, -1.016455327754295e-16,
  1.5422108254079407, 7.949834809697621e-17,
  1.5759808451078865, -1.0136916471278304e-17,
  1.6104903319492543, 2.4707192569797888e-17,
  1.645755478153965, -1.0125679913674773e-16,
  1.681792830507429, 8.199010020581497e-17,
  1.718619298122478, -1.851380418263111e-17,
  1.7562521603732995, 2.960140695448873e-17,
  1.7947090750031072, 1.8227458427912087e-17,
  1.8340080864093424, 3.283107224245627e-17,
  1.8741676341103, -6.122763413004143e-17,
  1.9152065613971474, -1.0619946056195963e-16,
  1.9571441241754002, 8.960767791036668e-17,
]);

const overflow = 709.782712893384;
const underflow = -745.1332191019412;
const stepsPerUnit = 46.16624130844683;
const stepHigh = 0.021660849393811077;
const stepLow = -1.312785960212839e-12;

/**
 * e^x, the same bits on every engine; within 0.51 units in the last place (tested to 0.6).
 * @param x - a number, no unit
 */
export function exp(x: number): number {
  return expOfSum(x, 0);
}

/** e^(x + tail) where |tail| is far below the last place of x or of 0.01: for powers, whose exponent has two parts. */
export function expOfSum(x: number, tail: number): number {
  if (!(x <= overflow)) return x > overflow ? Number.POSITIVE_INFINITY : Number.NaN;
  if (x < underflow) return 0;
  const steps = Math.floor(x * stepsPerUnit + 0.5);
  return powerOfRoot(steps, x - steps * stepHigh - (steps * stepLow - tail));
}

const decadeStepsPerUnit = 106.30169903639559;
const decadeStepHigh = 0.009407187364558922;
const decadeStepLow = -5.950977645988836e-14;

/**
 * 10^x, the same bits on every engine; whole powers from 10^-22 to 10^22 are the nearest doubles.
 * @param x - decades
 */
export function exp10(x: number): number {
  if (!(x <= 308.2547155599168)) return x > 0 ? Number.POSITIVE_INFINITY : Number.NaN;
  if (x < -323.6072453387798) return 0;
  // A rounded reciprocal of an exact power is the double nearest to it, which prints as 1e-5 and not as 9.999…e-6.
  if (x < 0 && x >= -22 && Number.isInteger(x)) return 1 / exp10(-x);
  const steps = Math.floor(x * decadeStepsPerUnit + 0.5);
  return powerOfRoot(steps, (x - steps * decadeStepHigh - steps * decadeStepLow) * Math.LN10);
}

/** e^x − 1 without cancellation for small x, the same bits on every engine; within 4 units in the last place. */
export function expm1(x: number): number {
  if (!(Math.abs(x) < 37)) return exp(x) - 1;
  if (x === 0) return x;
  const steps = Math.floor(x * stepsPerUnit + 0.5);
  const j = steps & 31;
  const scale = powersOfTwo[(steps - j) / 32 - smallestExponent];
  const high = powersOfRoot[2 * j];
  const rest = powersOfRoot[2 * j + 1] + high * seriesMinusOne(x - steps * stepHigh - steps * stepLow);
  return high * scale - 1 + rest * scale;
}

/** (e^x − e^−x) / 2, the same bits on every engine. */
export function sinh(x: number): number {
  if (Math.abs(x) > 1) return (exp(x) - exp(-x)) / 2;
  const less = expm1(x);
  return (less + less / (less + 1)) / 2;
}

/** (e^x + e^−x) / 2, the same bits on every engine. */
export function cosh(x: number): number {
  return (exp(x) + exp(-x)) / 2;
}

function powerOfRoot(steps: number, r: number): number {
  const j = steps & 31;
  const e = (steps - j) / 32;
  const high = powersOfRoot[2 * j];
  const mantissa = high + (powersOfRoot[2 * j + 1] + high * seriesMinusOne(r));
  if (e >= smallestExponent && e <= largestExponent) return mantissa * powersOfTwo[e - smallestExponent];
  return e > 0
    ? mantissa * powersOfTwo[largestExponent - smallestExponent] * 2
    : mantissa * powersOfTwo[e + 100 - smallestExponent] * powersOfTwo[-100 - smallestExponent];
}

function seriesMinusOne(r: number): number {
  const rr = r * r;
  return r + rr * (0.5 + r * (1 / 6) + rr * (1 / 24 + r * (1 / 120) + rr * (1 / 720)));
}
