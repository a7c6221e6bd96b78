import { exp } from "../../numeric/elementary/exponential.js";
import { ln } from "../../numeric/elementary/logarithm.js";

/** Where a point stands, so that it can be named. */
export interface RowSource {
  file: string;
  sheet: string | null;
  /** Null where only the block of lines is known that the point came from. */
  line: number | null;
  firstLine: number;
  lastLine: number;
}

/** One point of a measurement. */
export interface Row {
  source: RowSource;
  temperature_C: number;
  frequency_Hz: number;
  storageModulus_Pa: number;
  lossModulus_Pa: number;
}

/**
 * Frequencies that differ by more than 2 %, or another ratio, ascending.
 * @returns frequencies in Hz
 */
export function distinctFrequencies(rows: { frequency_Hz: number }[], ratio = 1.02): number[] {
  const distinct: number[] = [];
  for (const f of rows.map((row) => row.frequency_Hz).sort((a, b) => a - b)) {
    if (distinct.length === 0 || f > ratio * distinct[distinct.length - 1]) distinct.push(f);
  }
  return distinct;
}

/**
 * Steps of a ramp at several frequencies. Where the ramp is dense in temperature, its points are first
 * averaged (in log modulus) in cells of at most 1 K at each frequency; the steps are then bins of about the
 * spacing at which each frequency comes round again, at least 2 K and at most `most` of them.
 */
export function rampSteps(rows: Row[], most: number): Row[][] {
  const frequencies = distinctFrequencies(rows);
  if (frequencies.length < 2) return [];
  const cells: Row[] = [];
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  let spacing_K = 0;
  for (const frequency_Hz of frequencies) {
    const own = rows.filter((row) => Math.abs(row.frequency_Hz / frequency_Hz - 1) <= 0.021);
    own.sort((a, b) => a.temperature_C - b.temperature_C);
    // A frequency met a few times only (a stray row) is no ramp.
    if (own.length < 3) continue;
    low = Math.max(low, own[0].temperature_C);
    high = Math.min(high, own[own.length - 1].temperature_C);
    const averaged = averageCells(own, 1);
    spacing_K = Math.max(spacing_K, medianStep(averaged));
    for (const cell of averaged) cells.push({ ...cell, frequency_Hz });
  }
  if (!(high > low)) return [];
  const width_K = Math.max(spacing_K, 2, (high - low) / most);
  const count = Math.max(1, Math.round((high - low) / width_K));
  const steps: Row[][] = Array.from({ length: count }, () => []);
  for (const cell of cells) {
    const at = Math.floor(((cell.temperature_C - low) / (high - low)) * count);
    if (cell.temperature_C < low - width_K || cell.temperature_C > high + width_K) continue;
    steps[Math.min(count - 1, Math.max(0, at))].push(cell);
  }
  return steps.filter((step) => step.length > 0);
}

function medianStep(rows: Row[]): number {
  const steps = rows.slice(1).map((row, k) => row.temperature_C - rows[k].temperature_C);
  steps.sort((a, b) => a - b);
  return steps.length === 0 ? 0 : steps[steps.length >> 1];
}

function averageCells(rows: Row[], width_K: number): Row[] {
  const cells: Row[] = [];
  for (let first = 0; first < rows.length; ) {
    let end = first + 1;
    while (end < rows.length && rows[end].temperature_C - rows[first].temperature_C < width_K) end++;
    cells.push(logMean(rows.slice(first, end)));
    first = end;
  }
  return cells;
}

function logMean(rows: Row[]): Row {
  const mean = (value: (row: Row) => number) => {
    const values = rows.map(value).filter((v) => !Number.isNaN(v));
    return values.length === 0 ? Number.NaN : values.reduce((a, b) => a + b, 0) / values.length;
  };
  return {
    source: rows.length === 1 ? rows[0].source : { ...rows[0].source, line: null },
    temperature_C: mean((row) => row.temperature_C),
    frequency_Hz: rows[0].frequency_Hz,
    storageModulus_Pa: exp(mean((row) => ln(row.storageModulus_Pa))),
    lossModulus_Pa: exp(mean((row) => ln(row.lossModulus_Pa))),
  };
}
