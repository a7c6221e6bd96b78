import type { DynamicMeasurement } from "../../io/measurement.js";
import { exp } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";
import {
  deviationsFromNeighbours,
  lagrangeWeight,
  scatterAboutTrend,
} from "../../numeric/local-regression.js";
import type { Sweep } from "./sweep.js";
import { lineOfRow } from "./sweep.js";

/** A row that stands far off the curve of its neighbours. */
export interface Spike {
  temperature_C: number;
  quantity: "storage modulus" | "loss modulus" | "both moduli";
  /** The modulus over what its neighbours give; of both, the one farther off. */
  ratio: number;
  /** Null where the rows of the file cannot be counted. */
  line: number | null;
}

/** Smaller deviations, in ln modulus, hurt no peak. */
const leastDeviation = 0.1;
/** In standard deviations of the sweep's own scatter. */
const leastDeviationInNoise = 10;
/** A curve too steep for its steps misses its neighbours' cubic at several points, a spike at its own only. */
const leastDeviationInNeighbours = 5;
/** More than this is no stray row but a sweep that is disturbed, or steps that are too coarse. */
const mostSpikes = 3;
const reach = 4;
/** The noise of four neighbours is in their cubic this many times at most: in even steps 1.7 times, beside two left out 2. */
const mostAmplified = 5;
/** In coarser steps a fall of M′ over one step looks like a stray row. */
const coarsestStep_K = 7;

/**
 * Leaves out single rows, or two in a row, that are far off the smooth curve through their neighbours in either
 * modulus while the neighbours are not: a slipped specimen, a knock, a digit lost.
 *
 * @returns the sweep without them, and what was left out; the sweep as it is where there is none
 */
export function withoutSpikes(
  sweep: Sweep,
  measurement: DynamicMeasurement,
): { sweep: Sweep; spikes: Spike[] } {
  let left = sweep;
  const spikes: Spike[] = [];
  while (spikes.length < mostSpikes) {
    const rows = spikeOf(left);
    if (rows === null || spikes.length + rows.length > mostSpikes) break;
    const next = dropped(left, rows);
    for (const row of rows) spikes.push(describe(left, next, row, measurement));
    left = next;
  }
  return { sweep: left, spikes: spikes.sort((a, b) => a.temperature_C - b.temperature_C) };
}

/** The one or two rows whose absence makes the curve of a modulus smooth; null: there is no such place. */
function spikeOf(sweep: Sweep): number[] | null {
  const { temperature_C } = sweep;
  const count = temperature_C.length;
  if (count < 2 * reach + 3) return null;
  if ((temperature_C[count - 1] - temperature_C[0]) / (count - 1) > coarsestStep_K) return null;
  for (const column of [sweep.storageModulus_Pa, sweep.lossModulus_Pa]) {
    const y = column.map(ln);
    const noise = scatterAboutTrend(temperature_C, y);
    const limit = Math.max(leastDeviation, leastDeviationInNoise * noise);
    const deviations = deviationsFromNeighbours(temperature_C, y).map(Math.abs);
    let top = -1;
    for (let i = 0; i < deviations.length; i++) {
      if (deviations[i] > limit && (top < 0 || deviations[i] > deviations[top])) top = i;
    }
    if (top < 0) continue;
    const trials = [
      [top],
      [top - 1, top],
      [top, top + 1],
      [top - 1],
      [top + 1],
      [top - 2, top - 1],
      [top + 1, top + 2],
    ];
    for (const rows of trials) {
      if (rows[0] < 2 || rows[rows.length - 1] > y.length - 3) continue;
      if (rows.length > 1 && !rows.every((row) => standsOut(y, rows, row))) continue;
      const off = Math.min(...rows.map((row) => distance(temperature_C, y, rows, row)));
      if (off > limit && off > leastDeviationInNeighbours * roughnessWithout(temperature_C, y, rows))
        return rows;
    }
  }
  return null;
}

/**
 * How far a row stands from the cubic through the two nearest rows on either side that are not `without`; zero where two
 * of these are so near to each other that the cubic says nothing of the place.
 */
function distance(x: Float64Array, y: Float64Array, without: number[], row: number): number {
  const at = neighboursOf(without);
  const weights = at.map((a) => lagrangeWeight(x, at, a, x[row]));
  const largest = weights.reduce((sum, weight) => sum + Math.abs(weight), 0);
  return largest > mostAmplified ? 0 : Math.abs(y[row] - cubicAt(x, y, at, x[row]));
}

/** Two rows between their neighbours' values are a fall that is steep for its steps, not stray. */
function standsOut(y: Float64Array, rows: number[], row: number): boolean {
  const before = y[rows[0] - 1];
  const after = y[rows[rows.length - 1] + 1];
  return (
    y[row] > Math.max(before, after) + leastDeviation || y[row] < Math.min(before, after) - leastDeviation
  );
}

const neighboursOf = (rows: number[]) => {
  const first = rows[0];
  const last = rows[rows.length - 1];
  return [first - 2, first - 1, last + 1, last + 2];
};

function cubicAt(x: Float64Array, y: Float64Array, at: number[], where: number): number {
  return at.reduce((value, a) => value + lagrangeWeight(x, at, a, where) * y[a], 0);
}

/** The largest deviation among the neighbours once `rows` are gone. */
function roughnessWithout(x: Float64Array, y: Float64Array, rows: number[]): number {
  const kept = (_: number, i: number) => !rows.includes(i);
  const deviations = deviationsFromNeighbours(x.filter(kept), y.filter(kept));
  let largest = 0;
  for (let i = Math.max(0, rows[0] - reach); i < Math.min(deviations.length, rows[0] + reach); i++) {
    if (Number.isFinite(deviations[i])) largest = Math.max(largest, Math.abs(deviations[i]));
  }
  return largest;
}

function dropped(sweep: Sweep, rows: number[]): Sweep {
  const kept = (column: Float64Array) => column.filter((_, i) => !rows.includes(i));
  return {
    ...sweep,
    temperature_C: kept(sweep.temperature_C),
    storageModulus_Pa: kept(sweep.storageModulus_Pa),
    lossModulus_Pa: kept(sweep.lossModulus_Pa),
  };
}

function describe(sweep: Sweep, without: Sweep, row: number, measurement: DynamicMeasurement): Spike {
  const temperature_C = sweep.temperature_C[row];
  const offOf = (column: Float64Array, smooth: Float64Array) => {
    const after = without.temperature_C.findIndex((t) => t > temperature_C);
    const at = [after - 2, after - 1, after, after + 1].filter((i) => i >= 0 && i < smooth.length);
    return ln(column[row]) - cubicAt(without.temperature_C, smooth.map(ln), at, temperature_C);
  };
  const storage = offOf(sweep.storageModulus_Pa, without.storageModulus_Pa);
  const loss = offOf(sweep.lossModulus_Pa, without.lossModulus_Pa);
  const larger = Math.abs(storage) > Math.abs(loss) ? storage : loss;
  const isBoth = Math.min(Math.abs(storage), Math.abs(loss)) > leastDeviation;
  return {
    temperature_C,
    quantity: isBoth ? "both moduli" : larger === storage ? "storage modulus" : "loss modulus",
    ratio: exp(larger),
    line: lineOf(measurement, temperature_C, sweep.storageModulus_Pa[row], sweep.lossModulus_Pa[row]),
  };
}

/** The line of the row with these values. */
function lineOf(
  measurement: DynamicMeasurement,
  temperature_C: number,
  storageModulus_Pa: number,
  lossModulus_Pa: number,
) {
  const row = measurement.temperature_C.findIndex(
    (value, i) =>
      value === temperature_C &&
      measurement.storageModulus_Pa[i] === storageModulus_Pa &&
      measurement.lossModulus_Pa[i] === lossModulus_Pa,
  );
  return row < 0 ? null : lineOfRow(measurement, row);
}
