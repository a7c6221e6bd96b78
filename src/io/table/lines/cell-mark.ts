/** What stands in a cell that is no number. */
export type CellMark = "blank" | "missing" | "over-range" | "text";

const missing = new Set(
  "na n/a n.a. n.a nan null none nil nd n.d. n.d k.a. ka k.a #n/a #nv #na nv n/v n.v. . .. ... … / ? *na* missing invalid ungültig leer empty sin s/d n/d nb 无 なし - -- --- ---- – — ― − ‒ × x".split(
    " ",
  ),
);

const overRange =
  /^(?:[<>≥≤] ?[-+]?[\d.,]|[<>≥≤]+$|\+{2,}|\*{2,}|#{2,}|over|ovr|ovf|ovl|ovld|ol$|o\.l|0l$|under|out of range|oor|overflow|overload|overrange|[+-]?inf|[+-]?∞|1\.#inf|-1\.#i|#num|#div|#value|#wert|#zahl|#ref|#err|err|error|fehler|überlauf|ueberlauf|messbereich|hors|fuera|fuori|saturat|sat$|max$|lim|超|オーバ|レンジ|溢出)/i;

/** Kind of a cell that did not read as a number; over-range marks and spreadsheet errors count as over-range. */
export function markOf(cell: string): CellMark {
  const text = cell.trim();
  if (text === "") return "blank";
  if (text.length > 40) return "text";
  if (missing.has(text.toLowerCase())) return "missing";
  if (isDashes(text)) return "missing";
  return overRange.test(text) ? "over-range" : "text";
}

function isDashes(text: string): boolean {
  for (const character of text) if (!"-–—―−‒_ .".includes(character)) return false;
  return true;
}
