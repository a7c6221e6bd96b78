import { square } from "../../../numeric/elementary/power.js";
import type { Notice } from "../../../words/notice.js";
import { fixed } from "../../../words/quantity-text.js";
import type { DynamicMeasurement } from "../../measurement.js";
import { notice } from "../../problem-codes.js";

/** The stated rate in K/min; without one the slope of temperature against time at the first frequency. */
export function heatingRateOf(
  sweep: DynamicMeasurement,
  stated: number | null,
  notices: Notice[],
): number | null {
  const timed = rateFromTimes(sweep);
  if (stated === null || timed === null) return stated ?? timed;
  if (stated > 0 && Math.abs(timed / stated - 1) > 0.2) {
    const message =
      `The file states a heating rate of ${stated} K/min, its times give ${fixed(timed, 2)} K/min; the stated one is ` +
      "used.";
    notices.push(notice("caution", "io.heating-rate-differs", message));
  }
  return stated;
}

/** Least-squares slope in K/min over the rows of the first row's frequency. */
function rateFromTimes({ temperature_C, frequency_Hz, time_s }: DynamicMeasurement): number | null {
  if (time_s === null) return null;
  const rows: number[] = [];
  let sumTime = 0;
  let sumTemperature = 0;
  for (let i = 0; i < time_s.length; i++) {
    if (Math.abs(frequency_Hz[i] / frequency_Hz[0] - 1) > 0.03 || !Number.isFinite(time_s[i])) continue;
    rows.push(i);
    sumTime += time_s[i];
    sumTemperature += temperature_C[i];
  }
  if (rows.length < 3) return null;
  const meanTime = sumTime / rows.length;
  const meanTemperature = sumTemperature / rows.length;
  let covariance = 0;
  let variance = 0;
  for (const i of rows) {
    covariance += (time_s[i] - meanTime) * (temperature_C[i] - meanTemperature);
    variance += square(time_s[i] - meanTime);
  }
  const rate = Math.abs((covariance / variance) * 60);
  return Number.isFinite(rate) && rate > 0 ? rate : null;
}
