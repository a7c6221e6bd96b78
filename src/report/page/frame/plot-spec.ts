import type { Layout, Trace } from "./plot-library.js";

/** Rows as in the data table and the CSV file: a number, a text, or nothing. */
export type Cell = number | string | null;

export interface PlotTable {
  /** Heading with unit. */
  columns: string[];
  rows: Cell[][];
  /** Lines above the table in the CSV file: where the numbers come from, and the caution. */
  remarks: string[];
}

export interface Margins {
  l: number;
  r: number;
  t: number;
  b: number;
}

/** The room a plot is drawn in, in pixels. */
export interface PlotRoom {
  width: number;
  /** Its height, given the one it would have by itself. */
  height(natural: number): number;
  /** Kept free at the top for a title. */
  titleRoom: number;
}

/** One plot: what is drawn, and the same numbers as a table. */
export interface PlotSpec {
  traces: Trace[];
  layout: Layout;
  height: number;
  /** Where the plot has to know its margins beforehand; else they follow from what stands in them. */
  margin?: Margins;
  table: () => PlotTable;
}
