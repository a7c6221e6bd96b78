import { formatNumber } from "../io/format.js";
import type { DynamicMeasurement } from "../io/measurement.js";
import type { Notice } from "../io/problem.js";
import type { Batch } from "./batch-common-state.js";
import { predictionNotice } from "./notice-codes.js";

/** Heating rates, or strain amplitudes, that differ by more than this factor move Tg or the moduli themselves. */
const unlikeFactor = 2;

/** What a reader of a comparison must know of how the two batches were measured. */
export function batchNotices(accepted: Batch, batch: Batch): Notice[] {
  const notices: Notice[] = [];
  if (haveSameNumbers(accepted, batch)) {
    const message = `${batch.name} and ${accepted.name} hold a sweep with the very same numbers: one is a copy, and no comparison.`;
    notices.push(predictionNotice("predict.batches-identical", message));
  }
  const conditions: [string, string, (one: DynamicMeasurement) => number | null, number][] = [
    ["heating rate", "K/min", ({ heatingRate_K_min }) => heatingRate_K_min, 1],
    ["strain amplitude", "%", ({ strainAmplitude }) => median(strainAmplitude), 100],
  ];
  for (const [what, unit, read, scale] of conditions) {
    const [a, b] = [accepted, batch].map((one) => medianOver(one, read));
    if (a === null || b === null || Math.max(a / b, b / a) <= unlikeFactor) continue;
    const words = (value: number) => `${formatNumber(scale * value, scale * value < 0.1 ? 3 : 2)} ${unit}`;
    const message = `The ${what} was ${words(b)} for ${batch.name} and ${words(a)} for ${accepted.name}; that alone moves the readings, so a difference need not be the compound's.`;
    notices.push(predictionNotice("predict.batches-unlike-conditions", message));
  }
  return notices;
}

function medianOver(
  { measurements }: Batch,
  read: (one: DynamicMeasurement) => number | null,
): number | null {
  const values = measurements.flatMap((one) =>
    one.kind === "rebound" || one.kind === "strain sweep" ? [] : [Math.abs(read(one) ?? Number.NaN)],
  );
  return median(Float64Array.from(values));
}

function median(values: Float64Array | null): number | null {
  const sorted = values?.filter((value) => value > 0 && Number.isFinite(value)).sort();
  return sorted === undefined || sorted.length === 0 ? null : sorted[sorted.length >> 1];
}

function haveSameNumbers(a: Batch, b: Batch): boolean {
  const columns = ({ measurements }: Batch) =>
    measurements.flatMap((one) => (one.kind === "rebound" ? [] : [one.storageModulus_Pa]));
  return columns(a).some((one) =>
    columns(b).some(
      (other) => one.length > 2 && one.length === other.length && one.every((value, i) => value === other[i]),
    ),
  );
}
