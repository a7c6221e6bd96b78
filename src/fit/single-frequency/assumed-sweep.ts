import type { DynamicMeasurement } from "../../io/measurement.js";
import { exp, exp10 } from "../../numeric/elementary/exponential.js";
import { ln, log10 } from "../../numeric/elementary/logarithm.js";
import { pushTo } from "../../numeric/push-to.js";
import type { Random } from "../../numeric/statistics/random.js";
import type { Row } from "../glass/ramp-steps.js";
import type { GlassTransition } from "../material.js";
import type { RelaxationModel } from "../spectrum/relaxation-model.js";
import { log10ShiftFactor, type WlfLaw } from "../spectrum/shift-law.js";
import type { Spectrum } from "../spectrum/spectrum.js";
import { rowsOf } from "../superposition/isotherms/isotherms.js";
import type { NamedConstants } from "../superposition/law/reference-curves.js";
import { type ReducedPoints, range } from "../superposition/shift/reduced-points.js";

/** Points of a ramp are averaged in cells of this width at each frequency. */
const cell_K = 1;

/** Named constants hung on a Tg; below it the law goes on as its tangent. */
export function assumedLaw({ c1, c2_K }: NamedConstants, glass_C: number): WlfLaw {
  return { kind: "wlf", referenceTemperature_C: glass_C, c1, c2_K, tangentBelow_C: glass_C };
}

/** Points of sweeps, coldest first. */
export interface SweepPoints extends ReducedPoints {
  temperature_C: Float64Array;
}

/** All rows of the ramps, repeats together, averaged (in log modulus) in cells of a kelvin at each frequency. */
export function sweepPoints(ramps: DynamicMeasurement[]): SweepPoints {
  const cells = new Map<string, Row[]>();
  for (const ramp of ramps) {
    for (const row of rowsOf(ramp)) {
      const frequency = Math.round(log10(row.frequency_Hz) * 100);
      const key = `${frequency} ${Math.floor(row.temperature_C / cell_K)}`;
      pushTo(cells, key, row);
    }
  }
  const mean = (values: number[]) => values.reduce((a, b) => a + b, 0) / values.length;
  const rows = [...cells.values()].map((cell) => ({
    temperature_C: mean(cell.map((row) => row.temperature_C)),
    frequency_Hz: mean(cell.map((row) => row.frequency_Hz)),
    storageModulus_Pa: exp(mean(cell.map((row) => ln(row.storageModulus_Pa)))),
    lossModulus_Pa: exp(
      mean(cell.filter((row) => row.lossModulus_Pa > 0).map((row) => ln(row.lossModulus_Pa))),
    ),
  }));
  rows.sort((a, b) => a.temperature_C - b.temperature_C);
  return {
    temperature_C: Float64Array.from(rows, (row) => row.temperature_C),
    frequency_Hz: Float64Array.from(rows, (row) => row.frequency_Hz),
    storageModulus_Pa: Float64Array.from(rows, (row) => row.storageModulus_Pa),
    lossModulus_Pa: Float64Array.from(rows, (row) => row.lossModulus_Pa),
  };
}

/**
 * How far below its loss peak a phase is looked at: colder rows are the secondary relaxation's, which has another law.
 * With 25 K the constants of 20 made-up sweeps with a secondary relaxation were wrong by 23 % in C2 (root mean square).
 */
export const intoGlass_K = 10;

/**
 * The part of a sweep that tells of one phase's law: from a little below its loss peak to the valleys that
 * part it from further phases.
 */
export function mainPhaseOf(
  sweep: SweepPoints,
  anchor: { temperature_C: number; frequency_Hz: number },
  readings: GlassTransition[],
): SweepPoints {
  const alike = readings.filter((reading) => Math.abs(reading.frequency_Hz / anchor.frequency_Hz - 1) < 0.02);
  let low_C = anchor.temperature_C - intoGlass_K;
  let high_C = Number.POSITIVE_INFINITY;
  for (const { tanDeltaPeak, furtherPeaks } of alike) {
    const main_C = tanDeltaPeak?.temperature_C ?? anchor.temperature_C;
    for (const { quantity, temperature_C } of furtherPeaks) {
      if (quantity !== "tan delta") continue;
      const valley_C = valleyBetween(sweep, main_C, temperature_C);
      if (temperature_C > main_C) high_C = Math.min(high_C, valley_C);
      else if (valley_C < anchor.temperature_C) low_C = Math.max(low_C, valley_C);
    }
  }
  const part = within(sweep, low_C, high_C);
  return part.temperature_C.length < fewestPoints ? sweep : part;
}

const fewestPoints = 9;

/** Where tan δ is lowest between two temperatures. */
function valleyBetween(sweep: SweepPoints, a_C: number, b_C: number): number {
  const part = within(sweep, Math.min(a_C, b_C), Math.max(a_C, b_C));
  const tanDelta = part.lossModulus_Pa.map((lossModulus_Pa, i) => lossModulus_Pa / part.storageModulus_Pa[i]);
  const lowest = tanDelta.reduce((best, value, i) => (value < tanDelta[best] ? i : best), 0);
  return part.temperature_C[lowest] ?? 0.5 * (a_C + b_C);
}

function within(sweep: SweepPoints, low_C: number, high_C: number): SweepPoints {
  const kept = (values: Float64Array) =>
    values.filter((_, i) => sweep.temperature_C[i] >= low_C && sweep.temperature_C[i] <= high_C);
  return {
    temperature_C: kept(sweep.temperature_C),
    frequency_Hz: kept(sweep.frequency_Hz),
    storageModulus_Pa: kept(sweep.storageModulus_Pa),
    lossModulus_Pa: kept(sweep.lossModulus_Pa),
  };
}

/** The sweep with log-normal noise of these standard deviations added to its moduli once more. */
export function withNoise(
  sweep: SweepPoints,
  noise: { storage: number; loss: number },
  random: Random,
): SweepPoints {
  return {
    ...sweep,
    storageModulus_Pa: sweep.storageModulus_Pa.map((m) => m * exp(noise.storage * random.normal())),
    lossModulus_Pa: sweep.lossModulus_Pa.map((m) => m * exp(noise.loss * random.normal())),
  };
}

/** A sweep moved along a law to its reference temperature: reduced frequencies in Hz, moduli in Pa, one entry a point. */
export function reduceSweep(sweep: SweepPoints, law: WlfLaw): ReducedPoints {
  return {
    frequency_Hz: sweep.frequency_Hz.map((f, i) => f * exp10(log10ShiftFactor(law, sweep.temperature_C[i]))),
    storageModulus_Pa: sweep.storageModulus_Pa,
    lossModulus_Pa: sweep.lossModulus_Pa,
  };
}

/** The model of a sweep: the spectrum found on its reduced points, with the law that placed them and how far they reach. */
export function sweepModel(
  law: WlfLaw,
  spectrum: Spectrum,
  deformation: RelaxationModel["deformation"],
  points: ReducedPoints,
  temperatures: { low: number; high: number },
  /** Of the sweep itself, the highest where it has several. */
  measured_Hz: number,
): RelaxationModel {
  const window = range(points.frequency_Hz);
  return {
    deformation,
    law,
    verticalShift: { kind: "off" },
    equilibriumModulus_Pa: spectrum.equilibriumModulus_Pa,
    times_s: spectrum.times_s,
    moduli_Pa: spectrum.moduli_Pa,
    lowestReducedFrequency_Hz: window.low,
    highestReducedFrequency_Hz: window.high,
    ...glassBranchOf(law, points, measured_Hz),
    lowestTemperature_C: temperatures.low,
    highestTemperature_C: temperatures.high,
  };
}

/** Points above the law's border stand where the law itself puts them; those of the glass by its tangent. */
function glassBranchOf(
  law: WlfLaw,
  points: ReducedPoints,
  measured_Hz: number,
): { superposedUpTo_Hz?: number } {
  if (law.tangentBelow_C === null) return {};
  const shiftAtBorder = log10ShiftFactor(law, law.tangentBelow_C);
  const { low, high } = range(points.frequency_Hz);
  const border_Hz = measured_Hz * exp10(shiftAtBorder);
  return border_Hz > low && border_Hz < high ? { superposedUpTo_Hz: border_Hz } : {};
}
