import type { DynamicMeasurement } from "../io/measurement.js";

/** The line of a row; null where the measurement has not one row for each line between its first and its last. */
export function lineOfRow({ provenance, temperature_C }: DynamicMeasurement, row: number): number | null {
  const { firstLine, lastLine } = provenance;
  return lastLine - firstLine + 1 === temperature_C.length ? firstLine + row : null;
}
