import { readUnit } from "../../vocabulary/units.js";
import { looksNumeric } from "./looks-numeric.js";

/** "1.99×10^9" as "1.99e9", full-width digits as digits, and a value without the scatter behind it ("20.0 ± 0.4"). */
export function plainlyWritten(cell: string): string {
  if (cell.length > 60) return cell;
  let text = cell;
  if (/[\uff0b-\uff19]/.test(text)) text = text.normalize("NFKC");
  text = text.replace(/ ?[([](?:n|N) ?= ?\d+[)\]]$/, "");
  text = text.replace(/ ?[([](?:SD|sd|s|S|σ|±|\+\/-|\+-) ?[=:]? ?\d[\d.,]*[)\]]$/, "");
  text = text.replace(/^(.*\d.*?) ?(?:±|\+\/-|\+-) ?\d[\d.,]*( ?[^\d\s].*)?$/, "$1$2");
  text = text.replace(
    /^([-+−]?[\d.,]+) ?[x×*·] ?10 ?(?:\^|\*\*)? ?\(?([-+−]?\d{1,3})\)?(?=$| |\p{L})/u,
    "$1e$2",
  );
  if (/[⁰¹²³⁴-⁹⁻]/.test(text)) {
    text = text.replace(
      /^([-+−]?[\d.,]+) ?[x×*·] ?10([⁻⁺]?[⁰¹²³⁴-⁹]+)(?=$| |\p{L})/u,
      (_, mantissa: string, exponent: string) => {
        const digits = [...exponent].map((character) => "⁰¹²³⁴⁵⁶⁷⁸⁹".indexOf(character));
        return `${mantissa}e${exponent.startsWith("⁻") ? "-" : ""}${digits.filter((digit) => digit >= 0).join("")}`;
      },
    );
  }
  return text;
}

/**
 * The number of a cell that holds one with a unit behind it; null for any other cell.
 * @example numberBeforeUnit("45,2 %") // "45,2"
 */
export function numberBeforeUnit(cell: string): string | null {
  if (cell.length > 40) return null;
  let end = cell.length;
  while (end > 0 && !(cell[end - 1] >= "0" && cell[end - 1] <= "9")) end--;
  if (end === 0 || end === cell.length) return null;
  const number = cell.slice(0, end);
  return looksNumeric(number) && readUnit(cell.slice(end)) !== null ? number : null;
}

/** The number of a cell in whatever way it is written, with a unit or a scatter behind it; null where it holds none. */
export function numberWritten(cell: string): string | null {
  if (looksNumeric(cell)) return cell;
  const plain = plainlyWritten(cell);
  return looksNumeric(plain) ? plain : numberBeforeUnit(plain);
}
