import { Memo } from "../../memo.js";
import type { HeaderMeaning } from "../../vocabulary/header-meaning.js";
import type { Quantity } from "../../vocabulary/quantities.js";
import { readHeader } from "../../vocabulary/read-header.js";
import { looksNumeric } from "../lines/looks-numeric.js";

/** One column of a table as it was understood. */
export interface Column {
  /** 0-based. */
  position: number;
  reading: HeaderMeaning;
  quantity: Quantity | null;
  /** Sample that the header names for this column alone. */
  sample: string | null;
  /** Which of several runs side by side the column is of: "Rep 2", "#2"; absent where there is one. */
  run?: string;
  /** Why a column of a known quantity is not used. */
  setAside: string | null;
  /** What the study says of the column that its own header denies. */
  contradiction?: string;
  /** True where the study states what the column holds. */
  fromStudy?: boolean;
}

/** The column at a position, counted from 0, with what its header cell says. */
export function columnOf(position: number, cell: string): Column {
  const reading = readHeader(cell);
  return { position, reading, quantity: reading.quantity, sample: null, setAside: null };
}

const nothing = readHeader("");
const memory = new Memo<HeaderMeaning>();

/** readHeader, remembering the last few hundred headers. */
export function rememberedHeader(cell: string): HeaderMeaning {
  // A number names nothing, nor do several, and there are too many of them to remember.
  return isDigitsAndMarks(cell) || looksNumeric(cell)
    ? { ...nothing, text: cell }
    : memory.of(cell, () => readHeader(cell));
}

/** Digits, blanks and the marks of numbers and times, but no letter, sign of a unit or bracket. */
function isDigitsAndMarks(cell: string): boolean {
  for (let i = 0; i < cell.length; i++) {
    const code = cell.charCodeAt(i);
    if ((code < 43 || code > 59 || code === 47) && code !== 32) return false;
  }
  return true;
}
