import type { Quantity } from "../vocabulary/quantities.js";
import { type HeaderReading, readHeader } from "../vocabulary/read-header.js";

/** One column of a table as it was understood. */
export interface Column {
  /** 0-based. */
  position: number;
  reading: HeaderReading;
  quantity: Quantity | null;
  /** Sample that the header names for this column alone. */
  sample: string | null;
  /** Why a column of a known quantity is not used. */
  setAside: string | null;
  /** True where the study states what the column holds. */
  fromStudy?: boolean;
}

export function columnOf(position: number, cell: string): Column {
  const reading = readHeader(cell);
  return { position, reading, quantity: reading.quantity, sample: null, setAside: null };
}

const memory = new Map<string, HeaderReading>();

/** readHeader, remembering the last few hundred headers: a folder repeats the same ones all day. */
export function rememberedHeader(cell: string): HeaderReading {
  if (cell.length > 60) return readHeader(cell);
  let reading = memory.get(cell);
  if (reading === undefined) {
    reading = readHeader(cell);
    if (memory.size > 500) memory.clear();
    memory.set(cell, reading);
  }
  return reading;
}
