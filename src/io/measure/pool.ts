import type { Deformation } from "../measurement.js";
import type { Block } from "../table/block.js";
import type { Facts } from "../table/facts.js";

/** Usable rows of one sample in one block (and one group of columns of it), in the order of the file. */
export interface Series {
  block: Block;
  sheet: string | null;
  sample: string | null;
  /** Which of several runs side by side. */
  run: string | null;
  deformation: Deformation;
  facts: Facts;
  temperature_C: Float64Array;
  /** 1 throughout where nothing states it, so that the rows hang together. */
  isFrequencyUnstated: boolean;
  frequency_Hz: Float64Array;
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
  strain: Float64Array | null;
  isDisplacement: boolean;
  time_s: Float64Array | null;
  lines: Int32Array;
}

/** Rows of several series one after the other, so that a row is one number. */
export interface Pool {
  count: number;
  series: Series[];
  /** First row of each series. */
  starts: number[];
  temperature_C: Float64Array;
  frequency_Hz: Float64Array;
  storageModulus_Pa: Float64Array;
  lossModulus_Pa: Float64Array;
  /** NaN in rows of series without one; null where no series has one. */
  strain: Float64Array | null;
  time_s: Float64Array | null;
  lines: Int32Array;
}

/** Joins series; a single one is taken as it stands, without copying. */
export function poolOf(series: Series[]): Pool {
  if (series.length === 1) {
    const [{ temperature_C, frequency_Hz, storageModulus_Pa, lossModulus_Pa, strain, time_s, lines }] =
      series;
    return {
      count: lines.length,
      series,
      starts: [0],
      temperature_C,
      frequency_Hz,
      storageModulus_Pa,
      lossModulus_Pa,
      strain,
      time_s,
      lines,
    };
  }
  const starts: number[] = [];
  let count = 0;
  for (const { lines } of series) {
    starts.push(count);
    count += lines.length;
  }
  const joined = (column: (one: Series) => Float64Array | null): Float64Array | null => {
    if (series.every((one) => column(one) === null)) return null;
    const values = new Float64Array(count).fill(Number.NaN);
    series.forEach((one, i) => {
      const own = column(one);
      if (own !== null) values.set(own, starts[i]);
    });
    return values;
  };
  const lines = new Int32Array(count);
  series.forEach((one, i) => {
    lines.set(one.lines, starts[i]);
  });
  return {
    count,
    series,
    starts,
    temperature_C: joined((one) => one.temperature_C)!,
    frequency_Hz: joined((one) => one.frequency_Hz)!,
    storageModulus_Pa: joined((one) => one.storageModulus_Pa)!,
    lossModulus_Pa: joined((one) => one.lossModulus_Pa)!,
    strain: joined((one) => one.strain),
    time_s: joined((one) => one.time_s),
    lines,
  };
}

/** Places of rows in a block or a pool. One array may stand in several places, so none is changed. */
export type Rows = readonly number[];

/** Lists of rows one after the other. */
export function joinedRows(lists: readonly Rows[]): Rows {
  return lists.length === 1 ? lists[0] : lists.flat();
}

/** All rows of the last table that was short enough to be kept; the next is often as long. */
let allOfLast: Rows = [];
const mostKept = 1 << 16;

/** Rows first … end − 1. */
export function rowsBetween(first: number, end: number): Rows {
  if (first === 0 && end === allOfLast.length) return allOfLast;
  const rows: number[] = [];
  for (let row = first; row < end; row++) rows.push(row);
  if (first === 0 && end <= mostKept) allOfLast = rows;
  return rows;
}

/** Values of some rows; the column itself where they are all of its rows in order. */
export function picked(column: Float64Array, rows: ArrayLike<number>): Float64Array {
  if (isWhole(rows, column.length)) return column;
  const values = new Float64Array(rows.length);
  for (let i = 0; i < rows.length; i++) values[i] = column[rows[i]];
  return values;
}

/** True where rows are 0 … count − 1 in order. */
export function isWhole(rows: ArrayLike<number>, count: number): boolean {
  if (rows.length !== count) return false;
  if (rows === allOfLast) return true;
  for (let i = 0; i < count; i++) if (rows[i] !== i) return false;
  return true;
}

/** The series that rows belong to, in order. */
export function seriesTouched({ series, starts }: Pool, rows: ArrayLike<number>): Series[] {
  if (series.length === 1) return series;
  const touched = new Set<number>();
  let at = 0;
  for (let i = 0; i < rows.length; i++) {
    const row = rows[i];
    if (row < starts[at] || (at + 1 < starts.length && row >= starts[at + 1])) at = placeOf(starts, row);
    touched.add(at);
  }
  return [...touched].sort((a, b) => a - b).map((place) => series[place]);
}

function placeOf(starts: number[], row: number): number {
  let low = 0;
  let high = starts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (starts[middle] <= row) low = middle;
    else high = middle - 1;
  }
  return low;
}
