import { cholesky } from "../../../numeric/cholesky.js";
import { square } from "../../../numeric/elementary/power.js";

/** Shifts of the isotherms as fitted one by one, with what is known of their errors. */
export interface MeasuredShifts {
  temperature_C: Float64Array;
  run: Int32Array;
  runCount: number;
  /** Zero at the reference isotherm, which stands for no error of its own. */
  log10aT: Float64Array;
  reference: number;
  /** K × K, row by row; the row and column of the reference are zero. */
  covariance: Float64Array;
  /** −2 ln likelihood of the free fit, how many moduli it has and how many parameters beside the law. */
  freeDeviance: number;
  moduli: number;
  otherParameters: number;
}

/**
 * The shifts of some isotherms, measured from the one of them nearest the reference.
 * @param own indices of the isotherms to keep
 */
export function subsetOfShifts(shifts: MeasuredShifts, own: number[]): MeasuredShifts {
  const all = shifts.temperature_C.length;
  const home_C = shifts.temperature_C[shifts.reference];
  const near = (k: number) => Math.abs(shifts.temperature_C[k] - home_C);
  const reference = own.reduce((best, k, i) => (near(k) < near(own[best]) ? i : best), 0);
  const r = own[reference];
  const { covariance } = shifts;
  const out = new Float64Array(square(own.length));
  for (const [a, i] of own.entries()) {
    for (const [b, j] of own.entries()) {
      out[a * own.length + b] =
        covariance[i * all + j] - covariance[i * all + r] - covariance[r * all + j] + covariance[r * all + r];
    }
  }
  return {
    ...shifts,
    temperature_C: Float64Array.from(own, (k) => shifts.temperature_C[k]),
    run: Int32Array.from(own, (k) => shifts.run[k]),
    log10aT: Float64Array.from(own, (k) => shifts.log10aT[k] - shifts.log10aT[r]),
    reference,
    covariance: out,
  };
}

/** The factor L of the errors' covariance of all shifts but the reference's. */
export interface ShiftErrors {
  /** The isotherms but the reference, n of them. */
  index: number[];
  /** n × n, lower, row by row. */
  factor: Float64Array;
}

/**
 * The errors of the shifts and a scatter of the isotherms about the law.
 * @param scatter standard deviation in decades
 */
export function shiftErrors(
  { temperature_C, covariance, reference }: MeasuredShifts,
  scatter: number,
): ShiftErrors {
  const all = temperature_C.length;
  const index = Array.from({ length: all }, (_, k) => k).filter((k) => k !== reference);
  const n = index.length;
  const factor = new Float64Array(n * n);
  for (let a = 0; a < n; a++) {
    for (let b = 0; b < n; b++) {
      // The reference's own scatter is common to all differences from it.
      factor[a * n + b] =
        covariance[index[a] * all + index[b]] + square(scatter) * (a === b ? 2 : 1) + (a === b ? 1e-16 : 0);
    }
  }
  if (!cholesky(factor, n)) {
    for (let a = 0; a < n; a++) {
      factor.fill(0, a * n, a * n + a);
      factor[a * n + a] = Math.sqrt(covariance[index[a] * all + index[a]] + 1e-12);
    }
  }
  return { index, factor };
}
