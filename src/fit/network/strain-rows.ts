import type { DynamicMeasurement } from "../../io/measurement.js";
import type { Notice } from "../../words/notice.js";

/** One strain sweep at one temperature and frequency: n points, strains ascending and each there once. */
export interface StrainRows {
  temperature_C: number;
  frequency_Hz: number;
  strain: Float64Array;
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
}

const sameFrequencyRatio = 1.04;
const sameTemperature_K = 3;
const fewestStrains = 3;

interface Row {
  strain: number;
  temperature_C: number;
  frequency_Hz: number;
  storageModulus_Pa: number;
  lossModulus_Pa: number;
}

/**
 * The strain sweeps inside one measurement, by temperature and frequency. Where strain rises and falls again, the
 * rising part is taken: on the way back a filled rubber has not healed and reads softer (common practice).
 */
export function strainSweepsOf(measurement: DynamicMeasurement): { sweeps: StrainRows[]; notices: Notice[] } {
  const path = measurement.provenance.file;
  const notices: Notice[] = [];
  const said = (severity: Notice["severity"], code: string, message: string) =>
    notices.push({ severity, code, message: `${path}: ${message}`, path });
  const rows = rowsOf(measurement);
  if (rows.length === 0) {
    said(
      "caution",
      "fit.strain-sweep-unusable",
      "a strain sweep without a strain amplitude above zero beside its moduli; nothing is read from it.",
    );
    return { sweeps: [], notices };
  }
  const sweeps: StrainRows[] = [];
  let returns = false;
  for (const group of groupsOf(rows)) {
    const rising = risingPart(group);
    returns ||= rising.length < group.length;
    const merged = mergeEqual(rising);
    if (merged.length < fewestStrains || merged[merged.length - 1].strain < 1.5 * merged[0].strain) {
      said(
        "caution",
        "fit.strain-sweep-unusable",
        `a strain sweep of ${merged.length} usable strain${merged.length === 1 ? "" : "s"} is too short; at least ${fewestStrains} over a factor of 1.5 are needed.`,
      );
      continue;
    }
    sweeps.push({
      temperature_C: mean(merged.map((row) => row.temperature_C)),
      frequency_Hz: mean(merged.map((row) => row.frequency_Hz)),
      strain: Float64Array.from(merged, (row) => row.strain),
      storageModulus_Pa: Float64Array.from(merged, (row) => row.storageModulus_Pa),
      lossModulus_Pa: Float64Array.from(merged, (row) => row.lossModulus_Pa),
    });
  }
  if (returns) {
    said(
      "info",
      "fit.strain-sweep-returns",
      "the strain sweep goes back to small strains; only the rising part is read, for on the way back a filled rubber has not healed.",
    );
  }
  return { sweeps, notices };
}

function rowsOf(measurement: DynamicMeasurement): Row[] {
  const { strainAmplitude, temperature_C, frequency_Hz, storageModulus_Pa, lossModulus_Pa } = measurement;
  if (strainAmplitude === null) return [];
  return Array.from(strainAmplitude, (strain, i) => ({
    strain,
    temperature_C: temperature_C[i],
    frequency_Hz: frequency_Hz[i],
    storageModulus_Pa: storageModulus_Pa[i],
    lossModulus_Pa: lossModulus_Pa[i],
  })).filter(
    ({ strain, storageModulus_Pa }) =>
      strain > 0 && Number.isFinite(strain) && storageModulus_Pa > 0 && Number.isFinite(storageModulus_Pa),
  );
}

/** Rows of one temperature (within 3 K) and one frequency, each group in the order of measurement. */
function groupsOf(rows: Row[]): Row[][] {
  const groups: Row[][] = [];
  for (const row of rows) {
    const own = groups.find(([first]) => {
      const ratio = row.frequency_Hz / first.frequency_Hz;
      // A missing temperature or frequency parts no rows: the files that lack one hold one sweep.
      const isFrequency = !(ratio > sameFrequencyRatio || ratio < 1 / sameFrequencyRatio);
      return isFrequency && !(Math.abs(row.temperature_C - first.temperature_C) > sameTemperature_K);
    });
    if (own) own.push(row);
    else groups.push([row]);
  }
  return groups;
}

/** From the start to the largest strain where strain rises first; all rows where it only falls. */
function risingPart(rows: Row[]): Row[] {
  const largest = rows.reduce((best, row, i) => (row.strain > rows[best].strain ? i : best), 0);
  return largest < fewestStrains - 1 ? rows : rows.slice(0, largest + 1);
}

/** Strains ascending; repeats within 1 % become their mean. */
function mergeEqual(rows: Row[]): Row[] {
  const groups: Row[][] = [];
  for (const row of rows.toSorted((a, b) => a.strain - b.strain)) {
    const last = groups.at(-1);
    if (last && row.strain <= 1.01 * last[0].strain) last.push(row);
    else groups.push([row]);
  }
  return groups.map((group) => ({
    strain: mean(group.map((row) => row.strain)),
    temperature_C: mean(group.map((row) => row.temperature_C)),
    frequency_Hz: mean(group.map((row) => row.frequency_Hz)),
    storageModulus_Pa: mean(group.map((row) => row.storageModulus_Pa)),
    lossModulus_Pa: mean(group.map((row) => row.lossModulus_Pa)),
  }));
}

const mean = (values: number[]) => values.reduce((a, b) => a + b, 0) / values.length;
