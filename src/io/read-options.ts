import type { Deformation } from "./measurement.js";

/**
 * What a person says about a file that the reader cannot tell by itself. In `study.yaml` the columns stand
 * under `columns`, per file.
 */
export interface ReadOptions {
  /**
   * What a column holds. The key is the header as the file writes it, or the column's position counted from 1
   * ("3"). The value is plain words: the quantity, then "in" and the unit, as in "storage modulus in MPa",
   * "temperature in K", "log10 loss modulus in Pa", "loss factor", "sample", or "ignore". Quantities may be
   * written in any of the reader's languages or as a symbol ("E' in MPa"), or in one word (storageModulus).
   * ", run 2" behind it tells columns of several runs side by side apart.
   * A table without a header is read when columns are given by position.
   */
  columns?: Record<string, string>;
  /** Lines that are passed over, from the first to the last of each range. */
  ignoreRows?: [first: number, last: number][];
  /** Stated for every measurement of the file, in place of what the file says. */
  deformation?: Deformation;
  sample?: string;
  /** Where the marks in the numbers leave it open. */
  decimalMark?: "." | ",";
  /** For a table that has no frequency column and no line that states one. */
  frequency_Hz?: number;
  /**
   * Gives a sweep of which nothing states the frequency all the same, with NaN for it; without this such a file is
   * rejected, as a caller that counts on a frequency in every row must not get one without.
   */
  unstatedFrequency?: boolean;
  /** For a table that has no temperature column and no line that states one. */
  temperature_C?: number;
  /**
   * Storage modulus that a bar which does not give reads in the specimen's place, at its size and in its mode; the give of
   * the machine and its clamps is taken off the moduli by it.
   */
  rigidReading_MPa?: number;
}
