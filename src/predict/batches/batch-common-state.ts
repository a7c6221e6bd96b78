import { type Sweep, sweepsByFrequency } from "../../fit/glass/sweep.js";
import type { GlassTransition } from "../../fit/material.js";
import type { Deformation, Direction, DynamicMeasurement, Measurement } from "../../io/measurement.js";
import { log10 } from "../../numeric/elementary/logarithm.js";
import { pushTo } from "../../numeric/push-to.js";
import { normal95 } from "../../numeric/statistics/confidence.js";
import { frequencyText, temperatureText } from "../../words/quantity-text.js";
import type { BatchEstimate } from "./batch-difference.js";
import { readSweepAt } from "./sweep-reading.js";

/** One batch (or run) of a compound: its measurements and the transitions found in them. */
export interface Batch {
  name: string;
  measurements: Measurement[];
  glassTransitions: GlassTransition[];
}

/** Readings of both batches in one state. */
export interface Common {
  accepted: BatchEstimate[];
  batch: BatchEstimate[];
  temperature_C: number | null;
  frequency_Hz: number | null;
  deformation: Deformation | null;
  direction: Direction | null;
  method: string | null;
}

const target_Hz = 10;

/** A state two readings must share. */
interface Keyed {
  frequency_Hz: number;
  deformation: Deformation;
  direction: Direction | null;
  reading: BatchEstimate;
}

const sameFrequencyRatio = 1.04;
const isAlike = (one: Keyed, other: Keyed) =>
  one.deformation === other.deformation &&
  one.direction === other.direction &&
  Math.max(one.frequency_Hz / other.frequency_Hz, other.frequency_Hz / one.frequency_Hz) <=
    sameFrequencyRatio;

/** All readings of both batches in the state of the one that `farness` finds nearest among those that both have. */
function inCommonState(accepted: Keyed[], batch: Keyed[], farness: (one: Keyed) => number): Common | null {
  const shared = accepted.filter((one) => batch.some((other) => isAlike(one, other)));
  if (shared.length === 0) return null;
  const state = shared.reduce((a, b) => (farness(b) < farness(a) ? b : a));
  const alike = (readings: Keyed[]) =>
    readings.filter((one) => isAlike(one, state)).map(({ reading }) => reading);
  const { frequency_Hz, deformation, direction } = state;
  return {
    accepted: alike(accepted),
    batch: alike(batch),
    temperature_C: null,
    frequency_Hz,
    deformation,
    direction,
    method: null,
  };
}

/**
 * The tan δ peaks of both batches at the lowest frequency that they share in one deformation mode and direction, °C;
 * in words why there is none.
 */
export function commonPeak(accepted: Batch, batch: Batch): Common | string {
  const [a, b] = [peaksOf(accepted), peaksOf(batch)];
  const missing = [a.length === 0 && accepted.name, b.length === 0 && batch.name].filter(Boolean);
  if (missing.length > 0) return `no tan δ peak inside the data of ${missing.join(" and ")}`;
  return (
    inCommonState(a, b, (one) => one.frequency_Hz) ??
    `no tan δ peak at a common frequency, deformation mode and direction: ${statesOf(a)} against ${statesOf(b)}`
  );
}

function peaksOf({ glassTransitions }: Batch): Keyed[] {
  return glassTransitions.flatMap(({ frequency_Hz, deformation, direction, tanDeltaPeak, path }): Keyed[] => {
    if (tanDeltaPeak?.temperature_C == null || !tanDeltaPeak.bracketed) return [];
    const { temperature_C: value, low_C, high_C } = tanDeltaPeak;
    const half_K = low_C === null || high_C === null ? null : Math.max(value - low_C, high_C - value);
    const standardError = half_K === null ? null : half_K / normal95;
    const reading = { value, standardError, degreesOfFreedom: Number.POSITIVE_INFINITY, path };
    return [{ frequency_Hz, deformation, direction, reading }];
  });
}

/**
 * A positive quantity of both batches at one temperature, at the frequency nearest to 10 Hz that they share in one
 * deformation mode and direction; in words why there is none.
 */
export function commonReading(
  accepted: Batch,
  batch: Batch,
  temperature_C: number,
  quantity: (storageModulus_Pa: number, lossModulus_Pa: number) => number,
): Common | string {
  const [a, b] = [accepted, batch].map((one) => readingsAt(one, temperature_C, quantity));
  const missing = [a.length === 0 && accepted.name, b.length === 0 && batch.name].filter(Boolean);
  if (missing.length > 0)
    return `no sweep of ${missing.join(" and ")} has rows on both sides of ${temperatureText(temperature_C, 0)}`;
  const common = inCommonState(a, b, (one) => Math.abs(log10(one.frequency_Hz / target_Hz)));
  if (common !== null) return { ...common, temperature_C };
  return `not measured at a common frequency, deformation mode and direction: ${statesOf(a)} against ${statesOf(b)}`;
}

function readingsAt(
  { measurements }: Batch,
  temperature_C: number,
  quantity: (storageModulus_Pa: number, lossModulus_Pa: number) => number,
): Keyed[] {
  return sweepsOf(measurements).flatMap(({ sweep, deformation, direction, path }) => {
    const read = readSweepAt(sweep, temperature_C, quantity);
    return read === null
      ? []
      : [{ frequency_Hz: sweep.frequency_Hz, deformation, direction, reading: { ...read, path } }];
  });
}

/** Sweeps over temperature at one frequency: as measured, or the isotherms of one file read across. */
function sweepsOf(measurements: Measurement[]) {
  const dynamic = measurements.filter(
    (one): one is DynamicMeasurement => one.kind === "temperature sweep" || one.kind === "frequency sweep",
  );
  const isotherms = new Map<string, DynamicMeasurement[]>();
  for (const one of dynamic.filter(({ kind }) => kind === "frequency sweep")) {
    pushTo(isotherms, `${one.provenance.file}\n${one.deformation}`, one);
  }
  const ramps = dynamic.filter(({ kind }) => kind === "temperature sweep");
  return [...ramps, ...[...isotherms.values()].map(joined)].flatMap((one) =>
    sweepsByFrequency(one).map((sweep: Sweep) => ({
      sweep,
      deformation: one.deformation,
      // Isotherms have no direction and do not stand against a ramp, which has one.
      direction: one.direction,
      path: one.provenance.file,
    })),
  );
}

function joined(parts: DynamicMeasurement[]): DynamicMeasurement {
  const column = (pick: (one: DynamicMeasurement) => Float64Array) =>
    Float64Array.from(parts.flatMap((part) => Array.from(pick(part))));
  return {
    ...parts[0],
    direction: null,
    temperature_C: column((one) => one.temperature_C),
    frequency_Hz: column((one) => one.frequency_Hz),
    storageModulus_Pa: column((one) => one.storageModulus_Pa),
    lossModulus_Pa: column((one) => one.lossModulus_Pa),
  };
}

function statesOf(readings: Keyed[]): string {
  const words = readings.map(
    ({ frequency_Hz, deformation, direction }) =>
      `${frequencyText(frequency_Hz)} in ${deformation === "unstated" ? "an unstated mode" : deformation}${direction === null ? "" : `, ${direction}`}`,
  );
  return [...new Set(words)].join("; ");
}
