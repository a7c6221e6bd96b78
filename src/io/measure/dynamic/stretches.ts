import { type Pool, type Rows, rowsBetween } from "../pool.js";

/** Rows of a pool in which one thing was varied. */
export interface Stretch {
  rows: Rows;
  varied: "temperature" | "frequency" | "strain" | "nothing";
}

const sameFrequency = 0.03;
/** Isotherms wander by a few tenths of a kelvin; a strain sweep warms its specimen a little more. */
const sameTemperature_K = 3;

/**
 * Cuts rows first … end − 1 (one series) where what is varied changes: strain sweeps are runs at one temperature
 * and frequency whose strain moves by half or more; temperature ramps are runs at one frequency over 5 K and
 * more; the rest is rows whose frequency moves from row to row, isotherms or a stepped ramp.
 */
export function stretchesOf(pool: Pool, first: number, end: number): Stretch[] {
  const stretches: Stretch[] = [];
  const rest = takeStrainRuns(pool, first, end, stretches);
  const isOneRamp = isRamp(pool, rest, 0, rest.length) && nearEnd(pool, rest, 0) === rest.length;
  if (isOneRamp) return [...stretches, { rows: rest, varied: "temperature" }];
  const ramp: number[] = [];
  const others: number[] = [];
  for (let start = 0; start < rest.length; ) {
    const stop = nearEnd(pool, rest, start);
    const members = isRamp(pool, rest, start, stop) ? ramp : others;
    for (let i = start; i < stop; i++) members.push(rest[i]);
    start = stop;
  }
  if (ramp.length > 0) stretches.push({ rows: ramp, varied: "temperature" });
  if (others.length === 0) return stretches;
  const varied = variedIn(pool, others);
  // A few stray rows beside a ramp (a repeat at its end) belong to it.
  if (ramp.length > 0 && (varied !== "frequency" || others.length < 4)) {
    for (const row of others) ramp.push(row);
    ramp.sort((a, b) => a - b);
    return stretches;
  }
  stretches.push({ rows: others, varied });
  return stretches;
}

/** Where the rows end whose frequency is that of the row at `start`. */
function nearEnd({ frequency_Hz }: Pool, rows: Rows, start: number): number {
  let stop = start + 1;
  while (stop < rows.length && isNear(frequency_Hz[rows[stop]], frequency_Hz[rows[start]])) stop++;
  return stop;
}

function isRamp({ temperature_C }: Pool, rows: Rows, start: number, stop: number): boolean {
  return stop - start >= 4 && rangeOf(temperature_C, rows, start, stop) > 5;
}

function variedIn({ frequency_Hz, temperature_C }: Pool, rows: Rows): Stretch["varied"] {
  if (distinct(frequency_Hz, rows).length > 1) return "frequency";
  return rangeOf(temperature_C, rows, 0, rows.length) > sameTemperature_K ? "temperature" : "nothing";
}

function takeStrainRuns(pool: Pool, first: number, end: number, stretches: Stretch[]): Rows {
  const { strain, temperature_C, frequency_Hz } = pool;
  if (strain === null) return rowsBetween(first, end);
  const rest: number[] = [];
  for (let start = first; start < end; ) {
    let stop = start + 1;
    while (
      stop < end &&
      Math.abs(temperature_C[stop] - temperature_C[start]) <= sameTemperature_K &&
      isNear(frequency_Hz[stop], frequency_Hz[start])
    ) {
      stop++;
    }
    const run = rowsBetween(start, stop);
    if (isStrainSweep(strain, run)) stretches.push({ rows: run, varied: "strain" });
    else for (const row of run) rest.push(row);
    start = stop;
  }
  return rest;
}

function isStrainSweep(strain: Float64Array, rows: Rows): boolean {
  if (rows.length < 4) return false;
  let least = Number.POSITIVE_INFINITY;
  let greatest = 0;
  for (const row of rows) {
    if (strain[row] < least) least = strain[row];
    if (strain[row] > greatest) greatest = strain[row];
  }
  return least > 0 && greatest >= 1.5 * least && distinct(strain, rows).length >= 4;
}

function isNear(one: number, other: number): boolean {
  return Math.abs(one - other) <= sameFrequency * other;
}

/** Values that differ by more than 3 %, ascending. */
export function distinct(column: Float64Array, rows: ArrayLike<number>): number[] {
  // Nearly all columns hold few values again and again: the list of those seen stays short.
  const seen: number[] = [];
  let last = Number.NaN;
  for (let i = 0; i < rows.length; i++) {
    const value = column[rows[i]];
    if (value === last || Number.isNaN(value)) continue;
    last = value;
    if (seen.length > 400) return distinctSorted(column, rows);
    if (!seen.includes(value)) seen.push(value);
  }
  return thinned(seen.sort((a, b) => a - b));
}

function distinctSorted(column: Float64Array, rows: ArrayLike<number>): number[] {
  const values = new Float64Array(rows.length);
  for (let i = 0; i < rows.length; i++) values[i] = column[rows[i]];
  return thinned(values.sort());
}

function thinned(ascending: ArrayLike<number>): number[] {
  const kept: number[] = [];
  for (let i = 0; i < ascending.length; i++) {
    if (Number.isNaN(ascending[i])) continue;
    if (kept.length === 0 || ascending[i] > kept[kept.length - 1] * (1 + sameFrequency))
      kept.push(ascending[i]);
  }
  return kept;
}

/** Greatest less least of the values in some rows, from `start` up to but without `end`. */
export function rangeOf(values: Float64Array, rows: ArrayLike<number>, start: number, end: number): number {
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (let i = start; i < end; i++) {
    const value = values[rows[i]];
    if (value < least) least = value;
    if (value > greatest) greatest = value;
  }
  return greatest - least;
}
