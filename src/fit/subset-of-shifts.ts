import { square } from "../elementary/power.js";
import type { MeasuredShifts } from "./law-fit.js";

/** The shifts of some isotherms, measured from the one of them nearest the reference. */
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
