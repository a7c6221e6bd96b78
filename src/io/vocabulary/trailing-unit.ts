import type { HeaderMeaning } from "./header-meaning.js";
import { dimensionsOf } from "./quantities.js";
import { type NameMeaning, readName } from "./read-name.js";
import { readUnit } from "./units.js";

/** Takes a unit off the end: after a slash, a comma or a blank. */
export function withoutTrailingUnit(text: string, reading: HeaderMeaning): string {
  const spaced = text.replaceAll("_", " ");
  const words = spaced.split(" ");
  for (const count of [2, 1]) {
    if (words.length <= count) continue;
    const tail = words.slice(-count).join(" ");
    const linked = /^(in|en|em|\/)$/i.test(words[words.length - count - 1]);
    const unit = readUnit(tail, !linked);
    if (unit === null || unit.dimension === "other") continue;
    reading.unit = unit;
    reading.unitText = tail;
    return words
      .slice(0, words.length - count - (linked ? 1 : 0))
      .join(" ")
      .replace(/[,/:;-]$/, "");
  }
  for (let i = text.indexOf("/"); i > 0; i = text.indexOf("/", i + 1)) {
    if (takeTail(text, i, reading)) return text.slice(0, i).trim();
  }
  for (const mark of [",", ";", ":"]) {
    const at = text.lastIndexOf(mark);
    if (at > 0 && takeTail(text, at, reading)) return text.slice(0, at).trim();
  }
  const degree = text.lastIndexOf("°");
  if (degree > 0 && readUnit(text.slice(degree)) !== null) {
    reading.unit = readUnit(text.slice(degree));
    reading.unitText = text.slice(degree);
    return text.slice(0, degree).trim();
  }
  return text;
}

function takeTail(text: string, at: number, reading: HeaderMeaning): boolean {
  const tail = text.slice(at + 1).trim();
  const unit = readUnit(tail);
  if (unit === null) return false;
  reading.unit = unit;
  reading.unitText = tail;
  return true;
}

/** "Temp_C", "time s": a last word that is a unit of just this quantity, though by itself it may be anything. */
export function withLooseUnit(text: string, reading: HeaderMeaning): NameMeaning | null {
  const words = text.replaceAll("_", " ").split(" ");
  if (words.length < 2) return null;
  const last = words[words.length - 1];
  const unit = readUnit(last);
  if (unit === null) return null;
  const read = readName(words.slice(0, -1).join(" "));
  if (read.quantity === null || !dimensionsOf[read.quantity].includes(unit.dimension)) return null;
  reading.unit = unit;
  reading.unitText = last;
  return read;
}

/** "E'/foo", "Storage modulus, foo": the name is clear, what follows is no unit that anybody knows. */
export function withUnknownUnit(text: string, reading: HeaderMeaning): NameMeaning | null {
  for (const mark of ["/", ","]) {
    const at = text.indexOf(mark);
    if (at <= 0) continue;
    const read = readName(text.slice(0, at).trim());
    const tail = text.slice(at + 1).trim();
    if (read.quantity === null || read.strays.length > 0 || tail === "") continue;
    // "E'/E'0" is a ratio, and no modulus in an odd unit.
    if (/^\|?[EGMJD]['*|]/.test(tail)) continue;
    reading.unknownUnit = tail;
    return read;
  }
  return null;
}
