import type { DynamicMeasurement } from "../../io/measurement.js";

/** A temperature sweep at one frequency: n points, temperatures ascending. */
export interface Sweep {
  frequency_Hz: number;
  temperature_C: Float64Array;
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
}

/** Instruments write 9.99 and 10.02 Hz for one nominal 10 Hz; steps between frequencies are far larger. */
export const sameFrequencyRatio = 1.04;

/**
 * The single-frequency sweeps inside a temperature sweep, frequencies ascending; a sweep of which nothing states the
 * frequency (NaN throughout) is one, at NaN. Points without a finite temperature, frequency and modulus, and points with a modulus that is not positive, are left out.
 */
export function sweepsByFrequency(measurement: DynamicMeasurement): Sweep[] {
  const { temperature_C, frequency_Hz, storageModulus_Pa, lossModulus_Pa } = measurement;
  const isUnstated = frequency_Hz.every(Number.isNaN);
  const usable: number[] = [];
  for (let i = 0; i < temperature_C.length; i++) {
    if (
      Number.isFinite(temperature_C[i]) &&
      (isUnstated || frequency_Hz[i] > 0) &&
      storageModulus_Pa[i] > 0 &&
      lossModulus_Pa[i] > 0 &&
      (isUnstated || Number.isFinite(frequency_Hz[i])) &&
      Number.isFinite(storageModulus_Pa[i] + lossModulus_Pa[i])
    ) {
      usable.push(i);
    }
  }
  if (isUnstated) return usable.length === 0 ? [] : [sweepOf(measurement, usable)];
  usable.sort((a, b) => frequency_Hz[a] - frequency_Hz[b] || a - b);
  const sweeps: Sweep[] = [];
  for (let first = 0; first < usable.length; ) {
    let end = first + 1;
    const start_Hz = frequency_Hz[usable[first]];
    while (end < usable.length && frequency_Hz[usable[end]] <= start_Hz * sameFrequencyRatio) end++;
    sweeps.push(sweepOf(measurement, usable.slice(first, end)));
    first = end;
  }
  return sweeps;
}

function sweepOf(measurement: DynamicMeasurement, rows: number[]): Sweep {
  rows.sort((a, b) => measurement.temperature_C[a] - measurement.temperature_C[b] || a - b);
  const pick = (column: Float64Array) => Float64Array.from(rows, (row) => column[row]);
  const frequencies = pick(measurement.frequency_Hz).sort();
  return {
    frequency_Hz: frequencies[frequencies.length >> 1],
    temperature_C: pick(measurement.temperature_C),
    storageModulus_Pa: pick(measurement.storageModulus_Pa),
    lossModulus_Pa: pick(measurement.lossModulus_Pa),
  };
}

/** The line of a row; null where the measurement has not one row for each line between its first and its last. */
export function lineOfRow({ provenance, temperature_C }: DynamicMeasurement, row: number): number | null {
  const { firstLine, lastLine } = provenance;
  return lastLine - firstLine + 1 === temperature_C.length ? firstLine + row : null;
}
