import { isText } from "../../vocabulary/quantities.js";
import { looksNumeric } from "../lines/looks-numeric.js";
import { type Column, columnOf } from "./column.js";

/**
 * The columns of a header as the row under it shows them to stand. A statistics program writes the names of its rows in
 * front and gives them no header: the header then has one cell less than the rows, and each name belongs one column
 * further right. A decimal comma taken for a delimiter makes rows longer too; it has no decimal point in the row, and
 * no word where the header asks for one.
 */
export function withRowNames(columns: Column[], firstRow: string[]): Column[] {
  const width = lastFilled(firstRow) + 1;
  const isNamed = columns.every(({ reading }) => reading.text !== "");
  if (!isNamed || width !== columns.length + 1) return columns;
  const [name, ...values] = firstRow;
  const isName = name === "1" || !looksNumeric(name);
  const fits = columns.every(
    ({ quantity }, i) => quantity === null || isText(quantity) || values[i] === "" || !isWords(values[i]),
  );
  const isTelling =
    !looksNumeric(name) ||
    values.some((cell) => /^[-+]?\d+\.\d/.test(cell)) ||
    columns.some(({ quantity }, i) => quantity !== null && isText(quantity) && isWords(values[i]));
  if (name === "" || !isName || !fits || !isTelling) return columns;
  return [
    columnOf(0, ""),
    ...columns.map((column): Column => ({ ...column, position: column.position + 1 })),
  ];
}

function lastFilled(cells: string[]): number {
  return cells.findLastIndex((cell) => cell !== "");
}

function isWords(cell: string): boolean {
  return /^\p{L}{2}/u.test(cell) && !looksNumeric(cell);
}
