// ln(x) = e ln 2 − ln(c) + ln(1 + r) with x = 2^e m, 1 ≤ m < 2, c near 1/m with nine bits, so that r = m c − 1 comes out
// exactly in two parts, |r| < 0.032 (Tang, P. T. P., ACM Trans. Math. Softw. 16 (1990) 378). Constants in two parts,
// computed with Python's decimal module to 80 digits.

import { powersOfTwo, smallestExponent } from "./powers-of-two.js";

/** For m from 1 + j/32 to 1 + (j + 1)/32: c, and −ln c in a part of 42 binary places and the rest. */
// biome-ignore format: one row per j
const reciprocals = new Float64Array([
  1.0, 0.0, 0.0,
  0.95703125, 0.04391923393473007, 1.0541743854342862e-13,
  0.92578125, 0.07711730334449385, -6.255850200176405e-14,
  0.90234375, 0.10275973395778237, -1.3438406228830954e-14,
  0.875, 0.13353139262449076, 3.1859736349078334e-14,
  0.8515625, 0.16068238169054894, -7.547106028244807e-14,
  0.83203125, 0.1838852787700489, 8.84637355812087e-14,
  0.80859375, 0.21245865121409224, 1.0115944196590467e-13,
  0.7890625, 0.2369097470784709, -1.1318526912023687e-13,
  0.76953125, 0.26197371574153294, 4.102651071698446e-14,
  0.75390625, 0.28248725557477883, -1.0190482133505088e-13,
  0.734375, 0.30873548164959175, 2.1522127491642888e-14,
  0.71875, 0.33024168687052224, 5.4612144489920215e-14,
  0.703125, 0.35222059358943625, -8.414918193489195e-14,
  0.6875, 0.3746934494413381, 7.260466149925637e-14,
  0.671875, 0.3976829676660145, 9.491339403096215e-14,
  0.66015625, 0.41527872955657585, -8.685084519048513e-14,
  0.64453125, 0.4392319705789305, 5.1379053454446376e-14,
  0.6328125, 0.4575811092472577, -7.929985030417945e-14,
  0.62109375, 0.4762732422593672, -3.623014231206613e-14,
  0.609375, 0.4953214372301318, -1.0634899648532451e-13,
  0.59765625, 0.5147395230872007, -7.371094138879885e-14,
  0.5859375, 0.5345421503832313, 7.545158798754567e-14,
  0.578125, 0.5479651707155426, -9.521443188786736e-14,
  0.56640625, 0.5684437020590849, -9.682523838163498e-14,
  0.5546875, 0.5893503868783228, -2.1007135784857706e-14,
  0.546875, 0.603535021870357, -9.883674306179806e-14,
  0.5390625, 0.6179237593223661, -8.311429400161732e-15,
  0.52734375, 0.6399026660410527, 8.030091961825816e-14,
  0.51953125, 0.6548283162578628, -5.404231283494931e-14,
  0.51171875, 0.6699801212785133, -1.0232084821304799e-13,
  0.5, 0.6931471805598903, 5.497923018708371e-14,
]);

const ln2High = 0.6931471805598903;
const ln2Low = 5.497923018708371e-14;
const reciprocalLn10High = 0.4342944920063019;
const reciprocalLn10Low = -1.0103050052231683e-8;
const smallestNormal = 2.2250738585072014e-308;
const twoTo54 = 18014398509481984;
const twoTo1000 = 1.0715086071862673e301;

const scratch = new Float64Array([1]);
const scratchWords = new Uint32Array(scratch.buffer);
const topWord = scratchWords[1] === 0x3ff00000 ? 1 : 0;
const parts = new Float64Array(2);

/**
 * Natural logarithm, the same bits on every engine; within 0.52 units in the last place (tested to 0.6). NaN below 0, −∞ at 0.
 * @param x - a number, no unit
 */
export function ln(x: number): number {
  if (!isOrdinary(x)) return limit(x);
  lnInTwoParts(x, parts);
  return parts[0] + parts[1];
}

/** Decadic logarithm, the same bits on every engine; exact at powers of ten. NaN below 0, −∞ at 0. */
export function log10(x: number): number {
  if (!isOrdinary(x)) return limit(x);
  lnInTwoParts(x, parts);
  const top = Math.fround(parts[0]);
  const rest = parts[0] - top + parts[1];
  return (
    top * reciprocalLn10High + (top * reciprocalLn10Low + rest * (reciprocalLn10High + reciprocalLn10Low))
  );
}

/** ln(x) as result[0] + result[1], good to some 65 bits. x: positive and finite. */
export function lnInTwoParts(x: number, result: Float64Array): void {
  const shift = x < smallestNormal ? 54 : x > twoTo1000 ? -54 : 0;
  const scaled = shift === 0 ? x : shift > 0 ? x * twoTo54 : x / twoTo54;
  scratch[0] = scaled;
  const top = scratchWords[topWord];
  const exponent = (top >>> 20) - 1023;
  const row = 3 * ((top >>> 15) & 31);
  const m = scaled * powersOfTwo[-exponent - smallestExponent];
  const e = exponent - shift;
  const mTop = Math.fround(m);
  const c = reciprocals[row];
  const rTop = mTop * c - 1;
  const rRest = (m - mTop) * c;
  const r = rTop + rRest;
  const high = e * ln2High + reciprocals[row + 1];
  const sum = high + r;
  const rr = r * r;
  const odd = 1 / 3 + rr * (1 / 5 + rr * (1 / 7 + rr * (1 / 9 + rr * (1 / 11))));
  const even = -1 / 2 + rr * (-1 / 4 + rr * (-1 / 6 + rr * (-1 / 8 + rr * (-1 / 10))));
  result[0] = sum;
  result[1] = high - sum + r + (rTop - r + rRest + e * ln2Low + reciprocals[row + 2] + rr * (even + r * odd));
}

function isOrdinary(x: number): boolean {
  return x > 0 && x < Number.POSITIVE_INFINITY;
}

function limit(x: number): number {
  return x === 0 ? Number.NEGATIVE_INFINITY : x > 0 ? x : Number.NaN;
}
