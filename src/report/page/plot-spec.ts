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

/** One plot: what is drawn, and the same numbers as a table. */
export interface PlotSpec {
  traces: Trace[];
  layout: Layout;
  height: number;
  table: () => PlotTable;
}
