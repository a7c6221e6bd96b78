import { exp10 } from "../../numeric/elementary/exponential.js";
import { shown } from "../../words/quoted.js";
import type { Block, Gap } from "../table/block.js";
import { whyOf } from "../table/data-cell.js";
import type { Group } from "../table/header/layout.js";
import { isResponse, type Quantity } from "../vocabulary/quantities.js";
import type { GroupColumns } from "./group-columns.js";
import { type Rows, rowsBetween } from "./pool.js";

/** Quantities that a row must hold. A gap among the moduli may be made up for by the others. */
const needed = new Set<Quantity>(["temperature", "set temperature", "frequency", "angular frequency"]);
const moduli = new Set<Quantity>([
  "storage modulus",
  "loss modulus",
  "complex modulus",
  "tan delta",
  "phase angle",
]);

/**
 * Rows that hold all they need; the others go to `missing` with the reason.
 * @param completed why a cell of such a row holds no number, where the row's moduli follow from its other cells all the same
 */
export function usableRows(
  block: Block,
  group: Group,
  columns: GroupColumns,
  missing: Map<number, string>,
  completed: Map<number, string>,
): Rows {
  if (block.gaps.length === 0) return completeRows(block, columns, missing);
  const members = new Set([...group.slots.values()].flat());
  const isStrainVaried = columns.strain !== null && variesByHalf(columns.strain);
  const rows: number[] = [];
  for (let row = 0; row < block.rows; row++) {
    const gaps = block.gapsOf(row).filter(({ slot }) => members.has(slot));
    const telling = gaps.find(({ slot, kind }) => {
      const { quantity } = block.layout.slots[slot];
      return (
        needed.has(quantity) ||
        (moduli.has(quantity) && kind === "over-range") ||
        (isStrainVaried && (quantity === "strain amplitude" || quantity === "double strain amplitude"))
      );
    });
    if (telling === undefined && isComplete(columns, row)) {
      rows.push(row);
      // A blank cell, or a mark for a missing value, says itself that it holds none; a word does not.
      const odd = gaps.find(
        ({ slot, kind }) => kind === "text" && moduli.has(block.layout.slots[slot].quantity),
      );
      if (odd !== undefined) completed.set(row, whyOf(odd, block.layout));
      continue;
    }
    // A run beside others that has ended is blank, and misses nothing.
    if (block.layout.groups.length > 1 && isBlankRun(block, group, gaps)) continue;
    const [first] = telling === undefined ? gaps : [telling];
    missing.set(row, first === undefined ? notFollowing : whyOf(first, block.layout));
  }
  return rows;
}

/** Whether all responses of a group are blank in a row. */
function isBlankRun(block: Block, group: Group, gaps: Gap[]): boolean {
  const responses = [...group.slots]
    .filter(([quantity]) => isResponse(quantity))
    .flatMap(([, slots]) => slots);
  return (
    responses.every((slot) => gaps.some((gap) => gap.slot === slot && gap.kind === "blank")) && block.rows > 0
  );
}

const notFollowing = "storage and loss modulus do not follow from the values";

/** The same for a block without gaps. */
function completeRows(block: Block, columns: GroupColumns, missing: Map<number, string>): Rows {
  let first = 0;
  while (first < block.rows && isComplete(columns, first)) first++;
  if (first === block.rows) return rowsBetween(0, first);
  const rows = [...rowsBetween(0, first)];
  for (let row = first; row < block.rows; row++) {
    if (isComplete(columns, row)) rows.push(row);
    else missing.set(row, notFollowing);
  }
  return rows;
}

function isComplete(
  { storageModulus_Pa, lossModulus_Pa, temperature_C, frequency_Hz, isFrequencyUnstated }: GroupColumns,
  row: number,
): boolean {
  return (
    storageModulus_Pa[row] > 0 &&
    lossModulus_Pa[row] > 0 &&
    storageModulus_Pa[row] < Number.POSITIVE_INFINITY &&
    lossModulus_Pa[row] < Number.POSITIVE_INFINITY &&
    Number.isFinite(temperature_C[row]) &&
    (isFrequencyUnstated || Number.isFinite(frequency_Hz[row]))
  );
}

/** A strain that was varied on purpose is needed in every row; one that was only recorded is not. */
function variesByHalf(strain: Float64Array): boolean {
  let least = Number.POSITIVE_INFINITY;
  let greatest = 0;
  for (const value of strain) {
    if (value < least) least = value;
    if (value > greatest) greatest = value;
  }
  return greatest >= 1.5 * least;
}

/** The numbers of a row as text, for the list of skipped lines. */
export function rowText(block: Block, row: number): string {
  const gaps = new Map(block.gapsOf(row).map((gap) => [gap.slot, gap.cell]));
  const cells = block.layout.slots.map(({ power }, slot) => {
    const value = block.data[slot][row];
    return gaps.get(slot) ?? String(Number((value / exp10(power)).toPrecision(10)));
  });
  return shown(cells.join("  ")).slice(0, 120);
}
