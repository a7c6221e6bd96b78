import type { z } from "zod";
import type { DynamicMeasurement } from "../../io/measurement.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { power } from "../../numeric/elementary/power.js";
import { type CautionName, cautions } from "../../words/cautions.js";
import { frequencyText, temperatureText } from "../../words/quantity-text.js";
import type { quickIndicatorsSchema } from "../outlook-schema.js";

/** A value read directly from a sweep, without any model. */
export type QuickIndicator = QuickIndicators["tanDeltaAt0C"];

export type QuickIndicators = z.infer<typeof quickIndicatorsSchema>;

const target_Hz = 10;
/** Two rows closer than this in log10 frequency count as one frequency. */
const sameFrequency = 0.02;
/** Neighbouring rows further apart than this are not bridged. */
const widestGap_K = 12;
/** A single isotherm this close to the temperature stands for it. */
const sameTemperature_K = 0.6;

/**
 * The trade's quick indicators, tan δ at 0 °C and 60 °C and M′ at −25 °C, read at 10 Hz from the measurement
 * that comes nearest to it, by straight lines between the rows on either side of the temperature.
 * @example quickIndicators([exampleSweep([10])]).tanDeltaAt0C.value // 0.167…
 */
export function quickIndicators(measurements: DynamicMeasurement[]): QuickIndicators {
  const series = measurements
    .filter((measurement) => measurement.kind !== "strain sweep")
    .flatMap((measurement) => {
      const found = seriesNear10Hz(measurement);
      return found === null ? [] : [found];
    });
  const tanDelta = (row: Row) => row.lossModulus_Pa / row.storageModulus_Pa;
  return {
    tanDeltaAt0C: readIndicator(series, 0, "1", tanDelta, "tanDeltaAt0C"),
    tanDeltaAt60C: readIndicator(series, 60, "1", tanDelta, "tanDeltaAt60C"),
    storageModulusAtMinus25C: readIndicator(
      series,
      -25,
      "Pa",
      (row) => row.storageModulus_Pa,
      "storageModulusAtMinus25C",
    ),
  };
}

interface Row {
  temperature_C: number;
  storageModulus_Pa: number;
  lossModulus_Pa: number;
}

interface Series {
  frequency_Hz: number;
  rows: Row[];
  measurement: DynamicMeasurement;
}

/** The rows of one measurement at its frequency nearest to 10 Hz, in the order of temperature. */
function seriesNear10Hz(measurement: DynamicMeasurement): Series | null {
  const { frequency_Hz, temperature_C, storageModulus_Pa, lossModulus_Pa } = measurement;
  const distance = (i: number) => Math.abs(log10(frequency_Hz[i] / target_Hz));
  const usable = [...frequency_Hz.keys()].filter(
    (i) =>
      frequency_Hz[i] > 0 &&
      storageModulus_Pa[i] > 0 &&
      lossModulus_Pa[i] >= 0 &&
      Number.isFinite(temperature_C[i]),
  );
  if (usable.length === 0) return null;
  const nearest = usable.reduce((a, b) => (distance(b) < distance(a) ? b : a));
  const rows = usable
    .filter((i) => Math.abs(log10(frequency_Hz[i] / frequency_Hz[nearest])) < sameFrequency)
    .map((i) => ({
      temperature_C: temperature_C[i],
      storageModulus_Pa: storageModulus_Pa[i],
      lossModulus_Pa: lossModulus_Pa[i],
    }))
    .sort((a, b) => a.temperature_C - b.temperature_C);
  return { frequency_Hz: frequency_Hz[nearest], rows, measurement };
}

function readIndicator(
  series: Series[],
  temperature_C: number,
  unit: QuickIndicator["unit"],
  quantity: (row: Row) => number,
  caution: CautionName,
): QuickIndicator {
  const byFrequency = [...series].sort(
    (a, b) => Math.abs(log10(a.frequency_Hz / target_Hz)) - Math.abs(log10(b.frequency_Hz / target_Hz)),
  );
  for (const candidate of byFrequency) {
    const value = valueAt(candidate.rows, temperature_C, quantity);
    if (value === null) continue;
    const { frequency_Hz, measurement } = candidate;
    const exact = Math.abs(log10(frequency_Hz / target_Hz)) < sameFrequency;
    const { file, section, firstLine } = measurement.provenance;
    return {
      value,
      unit,
      temperature_C,
      frequency_Hz,
      reading: exact
        ? `read at ${frequencyText(frequency_Hz)}`
        : `read at ${frequencyText(frequency_Hz)}, the nearest to ${target_Hz} Hz that was measured at ${temperatureText(temperature_C, 0)}; not comparable with values at ${target_Hz} Hz`,
      caution: cautions[caution],
      source: { file, section, firstLine },
    };
  }
  return {
    value: null,
    unit,
    temperature_C,
    frequency_Hz: null,
    reading:
      series.length === 0
        ? "no sweep of modulus against temperature or frequency was read"
        : `no sweep has rows on both sides of ${temperatureText(temperature_C, 0)}; run a temperature sweep at ${target_Hz} Hz from −60 to +80 °C`,
    caution: cautions[caution],
    source: null,
  };
}

function valueAt(rows: Row[], temperature_C: number, quantity: (row: Row) => number): number | null {
  const near = rows.filter((row) => Math.abs(row.temperature_C - temperature_C) <= sameTemperature_K);
  const below = rows.filter((row) => row.temperature_C <= temperature_C).at(-1);
  const above = rows.find((row) => row.temperature_C >= temperature_C);
  if (below !== undefined && above !== undefined) {
    const gap_K = above.temperature_C - below.temperature_C;
    if (gap_K <= widestGap_K) {
      const part = gap_K > 0 ? (temperature_C - below.temperature_C) / gap_K : 0;
      return power(quantity(below), 1 - part) * power(quantity(above), part);
    }
  }
  if (near.length === 0) return null;
  const nearest = near.reduce((a, b) =>
    Math.abs(b.temperature_C - temperature_C) < Math.abs(a.temperature_C - temperature_C) ? b : a,
  );
  return quantity(nearest);
}
