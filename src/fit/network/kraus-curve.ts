import { levenbergMarquardt } from "ml-levenberg-marquardt";
import { exp } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import { power, square } from "../../numeric/elementary/power.js";

/** M′ of a filled rubber over the strain amplitude; the moduli in whatever unit the data had. */
export interface KrausCurve {
  /** M′ towards no strain, and towards a strain that has broken the filler network. */
  storageAtRest: number;
  storageAtLarge: number;
  /** The strain at which half of the fall is done, as a fraction. */
  criticalStrain: number;
  /** m: how steep the fall is; near 0.6 for carbon blacks (Kraus). */
  exponent: number;
}

/** M″ beside it, on the same critical strain and exponent. */
export interface KrausLoss {
  lossAtLarge: number;
  /** At the critical strain. */
  lossMaximum: number;
}

/**
 * M′(γ) = M∞ + (M0 − M∞)/(1 + (γ/γc)^2m) (Kraus, J. Appl. Polym. Sci., Appl. Polym. Symp. 39, 75, 1984; from memory).
 * @param strain amplitude as a fraction, above zero
 * @example krausStorage({ storageAtRest: 3, storageAtLarge: 1, criticalStrain: 0.01, exponent: 0.6 }, 0.01) // 2
 */
export function krausStorage(curve: KrausCurve, strain: number): number {
  const { storageAtRest, storageAtLarge, criticalStrain, exponent } = curve;
  return (
    storageAtLarge + (storageAtRest - storageAtLarge) / (1 + power(strain / criticalStrain, 2 * exponent))
  );
}

/**
 * M″(γ) = M″∞ + (M″max − M″∞) · 2 (γ/γc)^m/(1 + (γ/γc)^2m) (Kraus, as above).
 * @param strain amplitude as a fraction, above zero
 */
export function krausLoss(
  curve: KrausCurve,
  { lossAtLarge, lossMaximum }: KrausLoss,
  strain: number,
): number {
  return lossAtLarge + (lossMaximum - lossAtLarge) * lossShape(curve, strain);
}

function lossShape({ criticalStrain, exponent }: KrausCurve, strain: number): number {
  const x = power(strain / criticalStrain, exponent);
  return (2 * x) / (1 + x * x);
}

/** Four parameters and two points to spare. */
const fewestStrains = 6;
/** A curve farther than this from the points, relative root mean square, is not theirs. */
const largestMisfit = 0.03;
/** The last bits of a library's powers are the engine's own; nine digits are not. */
const digits = 9;

/**
 * The curve through one strain sweep, by least squares of ln M′.
 * @param strain amplitudes as fractions, ascending, above zero; `storage` in any unit, one a strain
 * @returns null of fewer than six strains, of a modulus that does not fall, or where the curve is not that of the points
 */
export function fitKraus(strain: ArrayLike<number>, storage: ArrayLike<number>): KrausCurve | null {
  const n = strain.length;
  if (n < fewestStrains || !(storage[n - 1] < 0.95 * storage[0])) return null;
  const unit = storage[0];
  const x = Array.from(strain, ln);
  const y = Array.from(storage, (value) => ln(value / unit));
  const half = 0.5 * (1 + storage[n - 1] / unit);
  const middle = Array.from(storage).findIndex((value) => value / unit < half);
  // Scaled parameters: both levels over the first modulus, ln γc, and m.
  const curveOf = ([rest, large, logCritical, exponent]: number[]): KrausCurve => ({
    storageAtRest: rest,
    storageAtLarge: large,
    criticalStrain: exp(logCritical),
    exponent,
  });
  const { parameterValues } = levenbergMarquardt(
    { x, y },
    (parameters) => {
      const curve = curveOf(parameters);
      return (lnStrain) => ln(krausStorage(curve, exp(lnStrain)));
    },
    {
      initialValues: [1.02, 0.9 * (storage[n - 1] / unit), x[middle], 0.6],
      minValues: [0.8, 1e-3, x[0] - 4, 0.2],
      // The last modulus has its own scatter: the level beyond it may lie a little above.
      maxValues: [5, 1.2 * (storage[n - 1] / unit), x[n - 1] + 4, 1.5],
      gradientDifference: 1e-6,
      centralDifference: true,
      maxIterations: 200,
      errorTolerance: 1e-10,
    },
  );
  const curve = curveOf(parameterValues.map((value) => Number(value.toPrecision(digits))));
  let misfit = 0;
  for (let i = 0; i < n; i++) misfit += square(ln(krausStorage(curve, strain[i])) - y[i]);
  if (!(Math.sqrt(misfit / n) <= largestMisfit)) return null;
  return { ...curve, storageAtRest: curve.storageAtRest * unit, storageAtLarge: curve.storageAtLarge * unit };
}

/**
 * The loss moduli on a curve's critical strain and exponent: two levels, linear, by least squares of the relative residuals.
 * @param strain n amplitudes as fractions, above zero; `loss` n loss moduli in any unit
 * @returns null where a loss modulus is not positive, or the shape is not that of the points
 */
export function fitKrausLoss(
  curve: KrausCurve,
  strain: ArrayLike<number>,
  loss: ArrayLike<number>,
): KrausLoss | null {
  // loss = large (1 − s) + maximum s, each row over the loss measured.
  let [aa, ab, bb, a1, b1] = [0, 0, 0, 0, 0];
  for (let i = 0; i < strain.length; i++) {
    if (!(loss[i] > 0)) return null;
    const s = lossShape(curve, strain[i]);
    const a = (1 - s) / loss[i];
    const b = s / loss[i];
    aa += a * a;
    ab += a * b;
    bb += b * b;
    a1 += a;
    b1 += b;
  }
  const determinant = aa * bb - ab * ab;
  const lossAtLarge = (a1 * bb - b1 * ab) / determinant;
  const lossMaximum = (b1 * aa - a1 * ab) / determinant;
  if (!(lossAtLarge > 0 && lossMaximum > 0)) return null;
  let misfit = 0;
  for (let i = 0; i < strain.length; i++) {
    const s = lossShape(curve, strain[i]);
    misfit += square((lossAtLarge * (1 - s) + lossMaximum * s) / loss[i] - 1);
  }
  return Math.sqrt(misfit / strain.length) <= largestLossMisfit ? { lossAtLarge, lossMaximum } : null;
}

/** M″ follows the shape less closely than M′ does (Kraus). */
const largestLossMisfit = 0.06;
