import type { Column } from "./column.js";

/** Cells of two rows joined column by column: "Storage" over "modulus". */
export function joinedRows(above: string[], below: string[]): string[] {
  const width = Math.max(above.length, below.length);
  const cells: string[] = [];
  for (let i = 0; i < width; i++) cells.push(`${above[i] ?? ""} ${below[i] ?? ""}`.trim());
  return cells;
}

/**
 * Columns that two rows name, first in words and then in symbols; the first row's meaning stands. Null where
 * the rows contradict each other: then they are not one header.
 */
export function mergedColumns(first: Column[], second: Column[]): Column[] | null {
  const width = Math.max(first.length, second.length);
  if (first.some((one, i) => isOther(one, second[i]))) return null;
  return Array.from({ length: width }, (_, i) => {
    const one = first[i];
    const other = second[i];
    if (one === undefined) return other;
    if (other === undefined || other.quantity === null) return one;
    if (one.quantity === null || one.quantity === "not used") return other;
    const { unit, unitText, letter, tag } = other.reading;
    return {
      ...one,
      reading: {
        ...one.reading,
        unit: one.reading.unit ?? unit,
        unitText: one.reading.unit === null ? unitText : one.reading.unitText,
        letter: one.reading.letter ?? letter,
        tag: { ...tag, ...one.reading.tag },
      },
    };
  });
}

function isOther(one: Column, other: Column | undefined): boolean {
  if (other === undefined || one.quantity === null || other.quantity === null) return false;
  return one.quantity !== other.quantity && one.quantity !== "not used" && other.quantity !== "not used";
}

/** A header row whose blank cells are named in the row above it, as under a merged title. */
export function filledFromAbove(cells: string[], above: string[]): string[] {
  const width = Math.max(cells.length, above.length);
  return Array.from({ length: width }, (_, i) => cells[i] || above[i] || "");
}
