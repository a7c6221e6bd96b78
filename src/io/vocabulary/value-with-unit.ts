import { readUnit, type Unit } from "./units.js";

export interface ValueWithUnit {
  value: number;
  unit: Unit;
  /** Where the number begins and where its unit ends. */
  start: number;
  end: number;
}

/**
 * Numbers that are followed by a unit of frequency, temperature, ratio or heating rate in a folded text, such
 * as "10 Hz" in "E' @ 10 Hz". A number that hangs on a letter ("log10") is none.
 */
export function valuesWithUnit(folded: string, limit = 8): ValueWithUnit[] {
  const found: ValueWithUnit[] = [];
  for (let i = 0; i < folded.length && found.length < limit; i++) {
    if (!isDigit(folded, i)) continue;
    if (i > 0 && (isLetter(folded, i - 1) || folded[i - 1] === "^")) {
      while (i < folded.length && isDigit(folded, i)) i++;
      continue;
    }
    const start = signBefore(folded, i);
    const end = numberEnd(folded, i);
    let from = end;
    while (from < folded.length && (folded[from] === " " || folded[from] === "_")) from++;
    const unitEnd = unitTextEnd(folded, from);
    const read = longestUnit(folded, from, unitEnd);
    if (read !== null) {
      const value = Number(folded.slice(start, end).replace(",", "."));
      if (Number.isFinite(value)) found.push({ value, unit: read.unit, start, end: read.end });
      i = read.end - 1;
    } else {
      i = end - 1;
    }
  }
  return found;
}

function signBefore(text: string, at: number): number {
  if (at > 0 && (text[at - 1] === "-" || text[at - 1] === "+")) {
    // In "1-10 Hz" the dash is no sign.
    if (at < 2 || !isDigit(text, at - 2)) return at - 1;
  }
  return at;
}

/** The end of digits, one decimal mark, digits, exponent. */
function numberEnd(text: string, from: number): number {
  let at = from;
  while (isDigit(text, at)) at++;
  if ((text[at] === "." || text[at] === ",") && isDigit(text, at + 1)) {
    at++;
    while (isDigit(text, at)) at++;
  }
  if ((text[at] === "e" || text[at] === "E") && (isDigit(text, at + 1) || /[+-]/.test(text[at + 1] ?? ""))) {
    let exponent = at + 2;
    while (isDigit(text, exponent)) exponent++;
    if (isDigit(text, exponent - 1)) at = exponent;
  }
  return at;
}

function unitTextEnd(text: string, from: number): number {
  let at = from;
  while (at < text.length && at - from < 16 && !" ,;:)]}=_".includes(text[at])) at++;
  return at;
}

/** "°C" may be written "° C" or "deg C", and be followed by a full stop. */
function longestUnit(text: string, from: number, end: number): { unit: Unit; end: number } | null {
  if (end === from) return null;
  const second = unitTextEnd(text, end + 1);
  if (second > end + 1) {
    const both = text.slice(from, second);
    const unit = /^(°|deg|degrees?|rad|Grad|grados?|gradi|per|dyn|N) /.test(both) ? readUnit(both) : null;
    if (unit) return { unit, end: second };
  }
  let stop = end;
  if (text[stop - 1] === ".") stop--;
  const unit = readUnit(text.slice(from, stop));
  if (unit) return { unit, end: stop };
  // "10Hz/MPa": a tag with the column's own unit behind it.
  const slash = text.indexOf("/", from);
  if (slash <= from || slash >= stop) return null;
  const first = readUnit(text.slice(from, slash));
  return first ? { unit: first, end: slash } : null;
}

function isDigit(text: string, at: number): boolean {
  const code = text.charCodeAt(at);
  return code >= 48 && code <= 57;
}

function isLetter(text: string, at: number): boolean {
  const character = text[at];
  return character.toLowerCase() !== character.toUpperCase();
}
