import { notice, problem } from "../../../words/codes/codes.js";
import type { Notice } from "../../../words/notice.js";
import { quoted } from "../../../words/quoted.js";
import { columnInStudy } from "../../study-example.js";
import type { Column } from "../../table/header/column.js";
import { readUnit, type Unit } from "../../vocabulary/units.js";
import { Rejection } from "../rejection.js";

/** Least and greatest of a column's numbers as written, logarithms taken off, and the middle one. */
export interface Extent {
  least: number;
  middle: number;
  greatest: number;
}

export interface ChosenUnit {
  unit: Unit;
  text: string;
  notice: Notice | null;
}

/**
 * The unit of a column that states none, where its values leave no doubt; null where the column had better not
 * be used. A modulus is never guessed between Pa, kPa and MPa: a factor of a thousand in every result is worse
 * than a question. It is taken as Pa only where it is so large that any other unit would be absurd.
 */
export function chooseUnit(column: Column, extent: Extent, headerLine: number): ChosenUnit | null {
  const { quantity, reading, position } = column;
  const header = `Column ${position + 1} (${quoted(reading.text)})`;
  const assumed = (text: string, why: string): ChosenUnit => ({
    unit: readUnit(text)!,
    text,
    notice: notice("io.unit-assumed", `${header} states no unit: ${text} was assumed${why}.`),
  });
  const silent = (text: string): ChosenUnit => ({ unit: readUnit(text)!, text, notice: null });
  const ask = (what: string): never => {
    throw new Rejection(
      problem(
        "io.unit-missing",
        `${header}, the ${quantity}, states no unit, and its values (${shownNumber(extent.least)} to ` +
          `${shownNumber(extent.greatest)}) do not tell whether they are ${what}. Write the unit into the header, or state ` +
          `it in study.yaml, as in ${columnInStudy(reading.text, `${logarithmWord(reading.logarithm)}${quantity} in ${what.split(/,| or /)[0]}`)}`,
        headerLine,
        position + 1,
      ),
    );
  };
  switch (quantity) {
    case "temperature":
    case "set temperature":
      // All of a rubber's sweep above 120 °C would be strange; the same numbers in kelvin would not.
      return extent.least > 120 ? ask("K or °C") : assumed("°C", "");
    case "frequency":
      return assumed("Hz", "");
    case "angular frequency":
      return assumed("rad/s", "");
    case "storage modulus":
    case "loss modulus":
    case "complex modulus":
      return extent.middle >= 1e5 && extent.greatest >= 1e6
        ? assumed("Pa", ", as values of this size cannot be kPa or MPa")
        : ask("MPa, kPa or Pa");
    case "tan delta":
      return silent("-");
    case "phase angle":
      return extent.greatest > Math.PI / 2 ? assumed("°", "") : assumed("rad", ", as no value is above π/2");
    case "strain amplitude":
    case "double strain amplitude":
      if (extent.greatest >= 3) return assumed("%", "");
      return extent.greatest > 1.5 * extent.least ? ask("% or a fraction") : null;
    case "rebound resilience":
      // No rubber gives back so little that half of a column stands below 1 %.
      if (extent.middle > 1) return assumed("%", ", as values are above 1");
      return assumed("fraction", `, as ${extent.greatest > 1 ? "hardly a" : "no"} value is above 1`);
    case "hardness":
      return hardnessScale(column) === null
        ? assumed("Shore A", ", the scale of most rubber")
        : silent(hardnessScale(column)!);
    case "density":
      if (extent.least >= 0.5 && extent.greatest <= 3) return assumed("g/cm³", "");
      return extent.least >= 500 && extent.greatest <= 3000 ? assumed("kg/m³", "") : null;
    case "abrasion loss":
      // "Abrasion (index %)", "abrasion relative to reference": a ratio, in which more may be better.
      if (/%|index|\brel/i.test(reading.text)) return null;
      return extent.least >= 20 && extent.greatest <= 1000 ? assumed("mm³", "") : null;
    case "elongation at break":
      return extent.least >= 20 ? assumed("%", "") : null;
    case "compression set":
    case "abrasion resistance index":
      return extent.greatest > 1.5 ? assumed("%", "") : null;
    case "rebound angle":
    case "drop angle":
      return extent.greatest > Math.PI ? assumed("°", "") : assumed("rad", ", as no value is above π");
    case "rebound height":
    case "drop height":
      return silent("mm");
    default:
      return null;
  }
}

function logarithmWord(base: number): string {
  return base === 0 ? "" : base === 10 ? "log10 " : "ln ";
}

/** The scale of hardness that a header names; null where it names none. */
export function hardnessScale({ reading }: Column): string | null {
  const text = `${reading.text} ${reading.unitText} ${reading.standard ?? ""}`;
  if (/irhd|48-2/i.test(text)) return "IRHD";
  const scale = /(?:shore|durometer|\bsh\.?) ?(a0?|d0?|00|[b-eo])\b/i.exec(text)?.[1];
  if (scale !== undefined) return `Shore ${scale.toUpperCase()}`;
  return /邵|ショア|шор|タイプA|shore|\bsh\b|°?sha\b|\bHA\b|JIS ?A|A型|duro ?a\b/i.test(text)
    ? "Shore A"
    : null;
}

/** A number of the file for a message, as the file would write it: noise of the conversion taken off. */
export function shownNumber(value: number): string {
  return String(Number(value.toPrecision(10)));
}
