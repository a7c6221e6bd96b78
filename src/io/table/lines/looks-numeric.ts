import { isGroupMark } from "./number-format.js";

/** Numbers that make a row of numbers, at least. */
export const fewestNumbers = 2;

/** At least two numbers, and at least two fifths of the cells that are not blank. */
export function isNumberRow(cells: string[]): boolean {
  const { numbers, filled } = countNumbers(cells);
  return numbers >= fewestNumbers && numbers >= 0.4 * filled;
}

/** How many cells are not blank, and how many of those look like numbers. */
export function countNumbers(cells: string[]): { numbers: number; filled: number } {
  let numbers = 0;
  let filled = 0;
  for (const cell of cells) {
    if (cell === "") continue;
    filled++;
    if (looksNumeric(cell)) numbers++;
  }
  return { numbers, filled };
}

/** Digits with at most signs, marks and an exponent: a number in some convention. */
export function looksNumeric(cell: string): boolean {
  if (cell.length >= 40) return false;
  let digits = 0;
  for (let i = 0; i < cell.length; i++) {
    const code = cell.charCodeAt(i);
    if (code >= 48 && code <= 57) digits++;
    else if (code === 69 || code === 101 || code === 68 || code === 100) {
      if (digits === 0) return false;
    } else if (isGroupMark(code)) {
      // "1 234" is one number, "1 23" are two.
      if (digits === 0 || !isDigit(cell, i + 1) || !isDigit(cell, i + 2) || !isDigit(cell, i + 3))
        return false;
    } else if (code !== 46 && code !== 44 && code !== 45 && code !== 43 && code !== 0x2212) return false;
  }
  return digits > 0;
}

function isDigit(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  return code >= 48 && code <= 57;
}
