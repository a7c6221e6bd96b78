import type { z } from "zod";
import type { DynamicMeasurement } from "../io/measurement.js";
import { ln, log10 } from "../numeric/elementary/logarithm.js";
import { pushTo } from "../numeric/push-to.js";
import { median } from "../numeric/statistics/quantile.js";
import type { measuredStateSchema } from "./material-schema.js";
import { complexModulus, type RelaxationModel } from "./spectrum/relaxation-model.js";

/** A state a compound was measured in, beside what its model gives there: the plainest check of a model. */
export type MeasuredState = z.infer<typeof measuredStateSchema>;

const cell_K = 5;
const cellsPerDecade = 1;
/** Long sweeps are passed through in steps: a cell needs its middle, not each of its rows. */
const mostRows = 4000;

/**
 * One state for each cell of 5 K and a decade of frequency in which the model's own kind of modulus was measured: the
 * row in the middle of the cell's temperatures. Numbers are rounded to six digits.
 */
export function measuredStates(
  measurements: DynamicMeasurement[],
  model: RelaxationModel | null,
): MeasuredState[] {
  if (model === null) return [];
  const cells = new Map<string, MeasuredState[]>();
  for (const measurement of measurements) {
    if (measurement.kind === "strain sweep" || measurement.deformation !== model.deformation) continue;
    const { temperature_C, frequency_Hz } = measurement;
    const step = Math.max(1, Math.ceil(temperature_C.length / mostRows));
    for (let i = 0; i < temperature_C.length; i += step) {
      const T = temperature_C[i];
      const f = frequency_Hz[i];
      const storageModulus_Pa = measurement.storageModulus_Pa[i];
      const lossModulus_Pa = measurement.lossModulus_Pa[i];
      if (!(f > 0 && storageModulus_Pa > 0 && lossModulus_Pa > 0 && Number.isFinite(T))) continue;
      const modelled = complexModulus(model, T, f);
      if (!(modelled.storageModulus_Pa > 0 && modelled.lossModulus_Pa > 0)) continue;
      const tanDelta = lossModulus_Pa / storageModulus_Pa;
      const modelTanDelta = modelled.lossModulus_Pa / modelled.storageModulus_Pa;
      const state: MeasuredState = {
        path: measurement.provenance.file,
        temperature_C: T,
        frequency_Hz: f,
        storageModulus_Pa,
        tanDelta,
        modelStorageModulus_Pa: modelled.storageModulus_Pa,
        modelTanDelta,
        modulusMisfit_ln:
          ln(storageModulus_Pa / modelled.storageModulus_Pa) +
          ln((1 + tanDelta * tanDelta) / (1 + modelTanDelta * modelTanDelta)) / 2,
        tanDeltaMisfit_ln: ln(tanDelta / modelTanDelta),
      };
      const key = `${Math.floor(T / cell_K)} ${Math.floor(log10(f) * cellsPerDecade + 0.5)}`;
      pushTo(cells, key, state);
    }
  }
  return [...cells.values()]
    .map(middle)
    .sort((a, b) => a.temperature_C - b.temperature_C || a.frequency_Hz - b.frequency_Hz);
}

function middle(cell: MeasuredState[]): MeasuredState {
  const byTemperature = [...cell].sort((a, b) => a.temperature_C - b.temperature_C);
  const row = byTemperature[byTemperature.length >> 1];
  const rounded = (value: number) => Number(value.toPrecision(6));
  return {
    path: row.path,
    temperature_C: rounded(row.temperature_C),
    frequency_Hz: rounded(row.frequency_Hz),
    storageModulus_Pa: rounded(row.storageModulus_Pa),
    tanDelta: rounded(row.tanDelta),
    modelStorageModulus_Pa: rounded(row.modelStorageModulus_Pa),
    modelTanDelta: rounded(row.modelTanDelta),
    modulusMisfit_ln: rounded(median(cell.map((state) => state.modulusMisfit_ln))),
    tanDeltaMisfit_ln: rounded(median(cell.map((state) => state.tanDeltaMisfit_ln))),
  };
}
