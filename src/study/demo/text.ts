import { log10 } from "../../numeric/elementary/logarithm.js";

/** A number with so many significant digits, never in exponent form; `mark` is the decimal mark. */
export function plain(value: number, digits: number, mark: "." | "," = "."): string {
  const exponent = Math.floor(log10(Math.abs(value)));
  const decimals = Number.isFinite(exponent) ? Math.max(0, digits - 1 - exponent) : 0;
  return value.toFixed(Math.min(decimals, 12)).replace(".", mark);
}

/** A number with a fixed count of decimals. */
export function fixed(value: number, decimals: number, mark: "." | "," = "."): string {
  return value
    .toFixed(decimals)
    .replace(/^-(?=[0.]+$)/, "")
    .replace(".", mark);
}

/** A whole number with a comma between thousands: 345,120. */
export function thousands(value: number): string {
  return value.toFixed(0).replace(/\B(?=(\d{3})+(?!\d))/g, ",");
}

/** A number in exponent form, such as 1.2345E+06. */
export function scientific(value: number, digits: number): string {
  const [mantissa, exponent] = value.toExponential(digits - 1).split("e");
  const sign = exponent.startsWith("-") ? "-" : "+";
  return `${mantissa}E${sign}${exponent.replace(/[+-]/, "").padStart(2, "0")}`;
}

/** Columns of one width each, right-aligned, parted by blanks. */
export function aligned(cells: string[], width: number): string {
  return cells.map((cell) => ` ${cell.padStart(width - 1)}`).join("");
}

export type TextEncoding = "utf-8" | "utf-8 with BOM" | "utf-16 le with BOM" | "windows-1252";

/** Bytes of a text. Windows-1252 is written for its Latin-1 part only; another character is a defect here. */
export function encodeText(text: string, encoding: TextEncoding): Uint8Array {
  if (encoding === "utf-8") return new TextEncoder().encode(text);
  if (encoding === "utf-8 with BOM") return new TextEncoder().encode(`\uFEFF${text}`);
  if (encoding === "windows-1252") {
    return Uint8Array.from(text, (character) => {
      const code = character.charCodeAt(0);
      if (code > 0xff || (code >= 0x80 && code < 0xa0)) {
        throw new RangeError(
          `no byte for ${character} (U+${code.toString(16)}) in the Latin-1 part of Windows-1252`,
        );
      }
      return code;
    });
  }
  const bytes = new Uint8Array(2 + 2 * text.length);
  const view = new DataView(bytes.buffer);
  view.setUint16(0, 0xfeff, true);
  for (let i = 0; i < text.length; i++) view.setUint16(2 + 2 * i, text.charCodeAt(i), true);
  return bytes;
}

/** Lines to a file's text, the last line ended too. */
export function joinLines(lines: string[], ending: "\n" | "\r\n"): string {
  return lines.map((line) => line + ending).join("");
}
