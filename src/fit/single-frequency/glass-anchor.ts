import { hypotenuse } from "../../numeric/elementary/power.js";
import { meanOfReplicates } from "../../numeric/statistics/mean.js";
import type { GlassTransition } from "../material.js";

/** A Tg reading to hang constants on. */
export interface GlassAnchor {
  quantity: "M″" | "tan δ";
  /** As measured. */
  peak_C: number;
  /** Where the M″ peak stands or is taken to stand. */
  temperature_C: number;
  /** Of the mean of these sweeps' own peaks. */
  deviation_K: number;
  /** Standard error of the mean of replicates, from what lies between them; zero for one sweep. */
  betweenSweeps_K: number;
  frequency_Hz: number;
}

/** A tan δ peak lies above the M″ peak at the same frequency; by this much, for want of the M″ peak (from memory: 5 to 10 K). */
const lossFactorAboveLossModulus_K = { mean: 7, deviation: 3 };

/**
 * The M″ peaks at the lowest frequency, else the tan δ peaks; replicates by their mean.
 */
export function glassAnchor(readings: GlassTransition[]): GlassAnchor | null {
  for (const quantity of ["M″", "tan δ"] as const) {
    const peaks = readings.flatMap(({ lossModulusPeak, tanDeltaPeak, frequency_Hz }) => {
      const peak = quantity === "M″" ? lossModulusPeak : tanDeltaPeak;
      if (!peak?.bracketed || peak.temperature_C === null) return [];
      const own_K = peak.low_C !== null && peak.high_C !== null ? (peak.high_C - peak.low_C) / 3.92 : 1;
      return [{ temperature_C: peak.temperature_C, own_K, frequency_Hz }];
    });
    if (peaks.length === 0) continue;
    const lowest_Hz = Math.min(...peaks.map((peak) => peak.frequency_Hz));
    const used = peaks.filter((peak) => peak.frequency_Hz <= 1.02 * lowest_Hz);
    const { mean, ownError, betweenError } = meanOfReplicates(
      used.map(({ temperature_C, own_K }) => ({ value: temperature_C, error: own_K })),
    );
    const offset = quantity === "tan δ" ? lossFactorAboveLossModulus_K : { mean: 0, deviation: 0 };
    return {
      quantity,
      peak_C: mean,
      temperature_C: mean - offset.mean,
      betweenSweeps_K: betweenError,
      deviation_K: hypotenuse(ownError, offset.deviation),
      frequency_Hz: lowest_Hz,
    };
  }
  return null;
}
